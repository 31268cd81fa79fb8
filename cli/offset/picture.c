/* picture.c - the answer of `slewtime offset` as CSV and as a picture. */
#include "answer.h"
#include "draw/plot.h"
#include "line/exit_code.h"
#include "single/old_json.h"
#include "tell/units.h"

enum { BARS_MAX = 6 };

/* ---- CSV ---- */

static void write_axis(FILE *stream, const slew_summary *s)
{
    fprintf(stream, ",%.9f,%.9f,%.9f,%.9f,%.9f", cli_degrees(s->lowest), cli_degrees(s->p05),
            cli_degrees(s->median), cli_degrees(s->p95), cli_degrees(s->highest));
}

void cli_offset_csv(FILE *stream, const void *answer)
{
    const cli_offset *a = answer;
    fputs("rotation_s,elevation_s,inside,inside_low,inside_high,fault,keepout,"
          "rotation_lowest_deg,rotation_p05_deg,rotation_median_deg,rotation_p95_deg,"
          "rotation_highest_deg,elevation_lowest_deg,elevation_p05_deg,elevation_median_deg,"
          "elevation_p95_deg,elevation_highest_deg",
          stream);
    cli_provenance_csv_names(stream, a->sampling);
    fputc('\n', stream);
    for (int i = 0; i < a->offset->count; i++) {
        const slew_offset_choice *c = &a->offset->choice[i];
        fprintf(stream, "%.12g,%.12g,%.9g,%.9g,%.9g,%.9g,%.9g", c->seconds[SLEW_ROTATION],
                c->seconds[SLEW_ELEVATION], c->inside.value, c->inside.low, c->inside.high,
                c->fault.value, c->keepout.value);
        write_axis(stream, &c->angle[SLEW_ROTATION]);
        write_axis(stream, &c->angle[SLEW_ELEVATION]);
        cli_provenance_csv(stream, a->scenario, a->sampling, a->offset->samples);
        fputc('\n', stream);
    }
}

/* ---- picture ---- */

/* the axis with more choices, elevation of equals */
static int shown_axis(const slew_deploy *deploy)
{
    return deploy->choice_count[SLEW_ROTATION] > deploy->choice_count[SLEW_ELEVATION]
               ? SLEW_ROTATION
               : SLEW_ELEVATION;
}

static void set_headings(cli_plot *plot, const cli_offset *a)
{
    char text[200];
    const slew_offset_choice *best = &a->offset->choice[a->offset->best];
    snprintf(text, sizeof text, "%s: rotation %+.2f s, elevation %+.2f s, inside in %.1f %%",
             cli_offset_is_enough(a) ? "Best choice" : "None is good enough; best",
             best->seconds[SLEW_ROTATION], best->seconds[SLEW_ELEVATION], 100 * best->inside.value);
    cli_plot_set_text(plot, "heading_1", text);
    cli_plot_set_text(plot, "heading_2", a->scenario->title);
    cli_plot_set_text(plot, "origin", a->asked);
}

/* the greatest first, "place,first,total,label" */
static int write_bars(FILE *stream, const slew_drivers *d, int axis)
{
    int order[SLEW_DRIVERS_MAX], shown = 0;
    cli_offset_rank(d, axis, order);
    fputs("place,first,total,key,of\n", stream);
    for (; shown < d->count && shown < BARS_MAX; shown++) {
        const slew_driver *driver = &d->driver[order[shown]];
        double total = driver->total[axis].value, first = fmin(driver->first[axis].value, total);
        if (shown > 0 && total < 0.01)
            break;
        fprintf(stream, "%d,%.6g,%.6g,%s,%s\n", shown, fmax(first, 0), total,
                slew_key_at(driver->drawn.key)->path, cli_offset_of_word(&driver->drawn));
    }
    return shown;
}

static bool add_bars(cli_plot *plot, const cli_offset *a, int axis)
{
    if (a->drivers == NULL || !cli_offset_varies(a->drivers, axis))
        return true;
    FILE *bars = cli_plot_data(plot, "drivers.csv");
    if (bars != NULL)
        cli_plot_set(plot, "bars=%d", write_bars(bars, a->drivers, axis));
    return bars != NULL;
}

int cli_offset_draw(const char *path, const void *answer)
{
    const cli_offset *a = answer;
    cli_plot plot;
    int code = cli_plot_open(&plot), axis = shown_axis(&a->scenario->deploy);
    if (code != CLI_OK)
        return code;
    const slew_range *target = &a->scenario->deploy.target[axis];
    set_headings(&plot, a);
    cli_plot_set(&plot, "axis='%s'", slew_axis_word(axis));
    cli_plot_set(&plot, "beside=%.17g", a->offset->choice[a->offset->best].seconds[!axis]);
    cli_plot_set(&plot, "target_low=%.9g", cli_degrees(target->low));
    cli_plot_set(&plot, "target_high=%.9g", cli_degrees(target->high));
    FILE *data = cli_plot_data(&plot, "offset.csv");
    if (data != NULL)
        cli_offset_csv(data, a);
    bool written = data != NULL && add_bars(&plot, a, axis);
    return cli_plot_close(&plot, written ? CLI_OK : CLI_OUTSIDE, "offset.gp", path);
}
