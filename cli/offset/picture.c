/* picture.c - what plots/offset.gp draws of `slewtime offset`. */
#include "answer.h"
#include "slewtime/slewtime.h"
#include "tell/append.h"
#include "tell/units.h"

enum { BARS_MAX = 6 };

/* the axis with more choices, elevation of equals */
static int shown_axis(const slew_deploy *deploy)
{
    return deploy->choice_count[SLEW_ROTATION] > deploy->choice_count[SLEW_ELEVATION]
               ? SLEW_ROTATION
               : SLEW_ELEVATION;
}

static void set_headings(cli_plot *plot, const cli_offset *a)
{
    char text[CLI_OFFSET_TEXT_MAX] = "";
    bool enough = slew_offset_is_enough(a->best, a->wanted);
    cli_append(text, sizeof text, "%s: ", enough ? "Best choice" : "None is good enough; best");
    cli_offset_add_seconds(text, a->best->seconds);
    cli_append(text, sizeof text, ", inside in %.1f %%", cli_percent(a->best->inside.value));
    cli_plot_set_text(plot, "heading_1", text);
    cli_plot_set_text(plot, "heading_2", a->scenario->title);
    cli_plot_set_text(plot, "origin", a->asked);
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
    int axis = shown_axis(&a->scenario->deploy);
    const slew_range *target = &a->scenario->deploy.target[axis];
    set_headings(plot, a);
    cli_plot_set(plot, "axis='%s'", slew_axis_word(axis));
    cli_plot_set(plot, "beside=%.17g", a->best->seconds[!axis]);
    cli_plot_set(plot, "target_low=%.9g", cli_degrees(target->low));
    cli_plot_set(plot, "target_high=%.9g", cli_degrees(target->high));
    return cli_plot_table(plot, "offset.csv", cli_offset_table, a) && add_bars(plot, a, axis);
}
