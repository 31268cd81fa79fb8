/* offset_picture.c - `slewtime offset` as a picture. */
#include <math.h>

#include "command.h"
#include "offset.h"
#include "plot.h"
#include "story.h"

enum { BARS_MAX = 6 };
static const double least_shown = 0.01;

/* the axis with more choices, elevation of equals */
static int shown_axis(const slew_deploy *deploy)
{
    return deploy->choice_count[SLEW_ROTATION] > deploy->choice_count[SLEW_ELEVATION]
               ? SLEW_ROTATION
               : SLEW_ELEVATION;
}

static void set_headings(cli_plot *plot, const cli_offset *a)
{
    char text[160];
    const slew_offset_choice *best = cli_offset_best(a);
    snprintf(text, sizeof text, "%s: rotation %+.2f s, elevation %+.2f s, inside in %.1f %%",
             best->inside.value >= a->wanted ? "Best choice" : "None is good enough; best",
             best->seconds[SLEW_ROTATION], best->seconds[SLEW_ELEVATION], 100 * best->inside.value);
    cli_plot_set_text(plot, "heading_1", text);
    cli_plot_set_text(plot, "heading_2", a->scenario->title);
    cli_plot_set_text(plot, "origin", a->asked);
}

/* share of the variance in percent; what is below nothing by chance is nothing */
static double bar(const slew_share *s)
{
    return 100 * fmin(fmax(s->value, 0), 1);
}

/* one row for each bar, the longest first: name, first order, total */
static int write_drivers(FILE *stream, const cli_offset *a, int axis)
{
    const slew_drivers *d = a->drivers;
    int order[SLEW_DRIVERS_MAX], shown = 0;
    char name[CLI_DRIVER_NAME_MAX];
    fputs("what,first_percent,total_percent\n", stream);
    if (d == NULL || !(d->deviation[axis] > 0))
        return 0;
    cli_driver_order(d, axis, order);
    for (; shown < d->count && shown < BARS_MAX; shown++) {
        const slew_driver *driver = &d->driver[order[shown]];
        if (driver->total[axis].value < least_shown)
            break;
        cli_driver_name(a->scenario, driver, name);
        double total = bar(&driver->total[axis]);
        fprintf(stream, "\"%s\",%.3f,%.3f\n", name, fmin(bar(&driver->first[axis]), total), total);
    }
    return shown;
}

static int write_data(cli_plot *plot, const cli_offset *a, int axis)
{
    FILE *data = cli_plot_data(plot, "offset.csv");
    FILE *drivers = data != NULL ? cli_plot_data(plot, "drivers.csv") : NULL;
    if (drivers == NULL)
        return CLI_OUTSIDE;
    cli_offset_csv(data, a);
    cli_plot_set(plot, "drivers=%d", write_drivers(drivers, a, axis));
    return CLI_OK;
}

int cli_offset_draw(const char *path, const void *what)
{
    const cli_offset *a = what;
    cli_plot plot;
    int code = cli_plot_open(&plot), axis = shown_axis(&a->scenario->deploy);
    if (code != CLI_OK)
        return code;
    const slew_range *target = &a->scenario->deploy.target[axis];
    set_headings(&plot, a);
    cli_plot_set(&plot, "axis='%s'", slew_axis_word(axis));
    cli_plot_set(&plot, "beside=%.17g", cli_offset_best(a)->seconds[!axis]);
    cli_plot_set(&plot, "target_low=%.9g", cli_degrees(target->low));
    cli_plot_set(&plot, "target_high=%.9g", cli_degrees(target->high));
    code = write_data(&plot, a, axis);
    return cli_plot_close(&plot, code, "offset.gp", path);
}
