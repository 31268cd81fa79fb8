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

static void set_headings(cli_plot *plot, const cli_offset *a)
{
    char title[CLI_OFFSET_TEXT_MAX] = "", below[CLI_OFFSET_TEXT_MAX] = "";
    char dangers[CLI_JUDGED_MAX];
    const slew_judgment *j = &a->best->judged;
    slew_demand risk = strike_risk(j);
    if (risk != SLEW_DEMAND_COUNT) {
        cli_append(title, sizeof title, "Strike risk: the best choice ");
        cli_judged_add(j, risk, title, sizeof title);
    } else
        cli_append(title, sizeof title, "The best choice: %s, inside the target in %.1f %%",
                   cli_judged_short(j), cli_percent(a->best->inside.value));
    cli_offset_add_seconds(below, a->best->seconds);
    cli_append(below, sizeof below, ", inside in %.1f %%. %s", cli_percent(a->best->inside.value),
               a->scenario->title);
    cli_plot_set_text(plot, "heading_1", title);
    cli_plot_set_text(plot, "heading_2", below);
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
