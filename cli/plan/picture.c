/* picture.c - what plots/plan.gp draws of `slewtime plan`. */
#include "answer.h"
#include "tell/judged.h"
#include "tell/units.h"

static const char *name_of(const slew_plan_curve *c)
{
    static const char *const names[] = {"point_rotation", "point_elevation", "seconds_rotation",
                                        "seconds_elevation"};
    return names[2 * c->of_seconds + c->axis];
}

/* at the setting about which the curves are drawn */
static double chosen(const slew_plan *p, const slew_plan_curve *c)
{
    const slew_plan_setting *about = &p->drawn.setting;
    return c->of_seconds ? about->seconds[c->axis] : cli_degrees(about->point[c->axis]);
}

static void set_headings(cli_plot *plot, const cli_plan *a)
{
    char text[CLI_PLAN_LINE_MAX], judged[CLI_JUDGED_MAX + 20] = "Today: ";
    cli_plan_advice(a, text);
    cli_plot_set_text(plot, "heading_1", text);
    cli_judged_words(&a->plan.today.judgment, judged + 7);
    cli_plot_set_text(plot, "heading_2", judged);
    cli_plot_set_text(plot, "heading_3", a->scenario->title);
    cli_plot_set_text(plot, "origin", a->asked);
    cli_judged_dangers_short(&a->plan.today.judgment, judged);
    cli_plot_caution(plot, judged);
}

bool cli_plan_fill(cli_plot *plot, const void *what)
{
    const cli_plan *a = what;
    int panels = 0;
    set_headings(plot, a);
    for (int k = 0; k < SLEW_PLAN_CURVES; k++) {
        const slew_plan_curve *c = &a->plan.curve[k];
        panels += c->count > 0;
        cli_plot_set(plot, "has_%s=%d", name_of(c), c->count > 0);
        cli_plot_set(plot, "chosen_%s=%.9g", name_of(c), chosen(&a->plan, c));
    }
    cli_plot_set(plot, "panels=%d", panels);
    cli_plot_set(plot, "has_keepout=%d", a->plan.today.judgment.of[SLEW_DEMAND_KEEPOUT].asked);
    return cli_plot_table(plot, "plan.csv", cli_plan_curves, a);
}
