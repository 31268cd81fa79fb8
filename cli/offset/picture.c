/* picture.c - what plots/offset.gp draws of `slewtime offset`. */
#include "answer.h"

#include <math.h>

#include "slewtime/slewtime.h"
#include "tell/append.h"
#include "tell/units.h"

enum { BARS_MAX = 6 };

/* seconds of the axis, beside those of the best choice, that are inside at all */
static int choices_that_matter(const slew_offset *o, int axis)
{
    const double *best = o->choice[o->best].seconds;
    int count = 0;
    for (int i = 0; i < o->count; i++)
        count += o->choice[i].seconds[!axis] == best[!axis] && o->choice[i].inside.value > 0;
    return count;
}

/* the axis with more choices that matter; of equals the rotation if there is a choice of it */
static int shown_axis(const cli_offset *a)
{
    int rotation = choices_that_matter(&a->offset, SLEW_ROTATION);
    int elevation = choices_that_matter(&a->offset, SLEW_ELEVATION);
    bool is_chosen = a->scenario->deploy.choice_count[SLEW_ROTATION] > 1;
    return rotation > elevation || (rotation == elevation && is_chosen) ? SLEW_ROTATION
                                                                        : SLEW_ELEVATION;
}

/* the demand about striking something that is missed; SLEW_DEMAND_COUNT: none */
static slew_demand strike_risk(const slew_judgment *j)
{
    for (int d = 0; d <= SLEW_DEMAND_STOP; d++)
        if (j->of[d].asked && j->of[d].missed.value > j->of[d].limit)
            return (slew_demand)d;
    return SLEW_DEMAND_COUNT;
}

/* "elevation 7.50 s"; both axes where both can be chosen */
static void add_setting(const cli_offset *a, char text[CLI_OFFSET_TEXT_MAX])
{
    const slew_deploy *deploy = &a->scenario->deploy;
    const double *seconds = a->best->seconds;
    bool rotates = deploy->choice_count[SLEW_ROTATION] > 1 || seconds[SLEW_ROTATION] != 0;
    if (rotates)
        cli_append(text, CLI_OFFSET_TEXT_MAX, "rotation %.2f s, ", seconds[SLEW_ROTATION]);
    cli_append(text, CLI_OFFSET_TEXT_MAX, "elevation %.2f s", seconds[SLEW_ELEVATION]);
}

/* "in 97 of 100 simulated days"; nearly all is not all, and hardly any not none */
static void add_days(double share, char text[CLI_OFFSET_TEXT_MAX])
{
    double days = round(100 * share);
    const char *about = share < 1 && days > 99  ? "more than "
                        : share > 0 && days < 1 ? "fewer than "
                                                : "";
    cli_append(text, CLI_OFFSET_TEXT_MAX, "in %s%.0f of 100 simulated days", about,
               fmin(fmax(days, share > 0 ? 1 : 0), share < 1 ? 99 : 100));
}

static void add_finding(const cli_offset *a, char text[CLI_OFFSET_TEXT_MAX])
{
    static const char *const words[] = {
        [SLEW_MEETS] = "Set ",
        [SLEW_MEETS_NOT] = "No setting meets the demands; the closest, ",
        [SLEW_NOT_TOLD] = "Too few simulated days to be sure; the best, "};
    cli_append(text, CLI_OFFSET_TEXT_MAX, "%s", words[a->best->judged.meets]);
    add_setting(a, text);
    cli_append(text, CLI_OFFSET_TEXT_MAX, "%s lands inside the target ",
               a->best->judged.meets == SLEW_MEETS ? ":" : ",");
    add_days(a->best->inside.value, text);
}

static void set_headings(cli_plot *plot, const cli_offset *a)
{
    char title[CLI_OFFSET_TEXT_MAX] = "";
    char dangers[CLI_JUDGED_MAX];
    const slew_judgment *j = &a->best->judged;
    slew_demand risk = strike_risk(j);
    if (risk != SLEW_DEMAND_COUNT) {
        cli_append(title, sizeof title, "Strike risk: the best choice, ");
        add_setting(a, title);
        cli_append(title, sizeof title, ", ");
        cli_judged_add(j, risk, title, sizeof title);
    } else
        add_finding(a, title);
    cli_plot_set_text(plot, "heading_1", title);
    cli_plot_set_text(plot, "heading_2", a->scenario->title);
    cli_plot_set_text(plot, "origin", a->asked);
    cli_judged_dangers_short(j, dangers);
    cli_plot_caution(plot, dangers);
}

static bool add_bars(cli_plot *plot, const cli_offset *a, int axis)
{
    int told = cli_offset_told_drivers(&a->drivers, axis);
    if (!cli_offset_varies(a, axis))
        return true;
    cli_plot_set(plot, "bars=%d", told < 1 ? 1 : told > BARS_MAX ? BARS_MAX : told);
    return cli_plot_table(plot, "drivers.csv", cli_offset_drivers_table,
                          &(cli_offset_rank){&a->drivers, axis, 0});
}

bool cli_offset_fill(cli_plot *plot, const void *what)
{
    const cli_offset *a = what;
    int axis = shown_axis(a);
    const slew_range *target = &a->scenario->deploy.target[axis];
    set_headings(plot, a);
    cli_plot_set(plot, "axis='%s'", slew_axis_word(axis));
    cli_plot_set(plot, "beside=%.17g", a->best->seconds[!axis]);
    cli_plot_set(plot, "chosen=%.17g", a->best->seconds[axis]);
    if (a->has_finer && a->best->inside.value < a->wanted && isfinite(a->finer.needed[axis]))
        cli_plot_set(plot, "needed=%.9g", a->finer.needed[axis]);
    cli_plot_set(plot, "target_low=%.9g", cli_degrees(target->low));
    cli_plot_set(plot, "target_high=%.9g", cli_degrees(target->high));
    return cli_plot_table(plot, "offset.csv", cli_offset_table, a) && add_bars(plot, a, axis);
}
