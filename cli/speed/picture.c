/* picture.c - the picture of `slewtime speed`: speed, current and voltage of each axis and
 * direction, a curve for each reaction. */
#include "answer.h"

#include <math.h>

#include "draw/plot.h"
#include "line/exit_code.h"
#include "slewtime/slewtime.h"
#include "tell/provenance.h"
#include "tell/units.h"

static void write_number(FILE *stream, double value)
{
    if (isfinite(value))
        fprintf(stream, ",%.9g", value);
    else
        fputs(",NaN", stream);
}

static void write_row(FILE *stream, const slew_speed *s, int curve, const slew_speed_row *row)
{
    fprintf(stream, "%d,%d,%.9g,%s", curve / s->level_count, s->curve[curve].level, row->supply,
            slew_speed_word(row->slowest.state));
    write_number(stream, cli_degrees(row->slowest.speed));
    write_number(stream, cli_degrees(row->fastest.speed));
    write_number(stream, row->slowest.current);
    write_number(stream, row->slowest.voltage);
    fputc('\n', stream);
}

static void write_curves(FILE *stream, const slew_speed *s)
{
    fputs("panel,level,supply_V,state,slowest_deg_per_s,fastest_deg_per_s,current_A,voltage_V\n",
          stream);
    for (int i = 0; i < s->curve_count; i++)
        for (int k = 0; k < s->row_count; k++)
            write_row(stream, s, i, &s->curve[i].row[k]);
}

static void write_needs(FILE *stream, const slew_speed *s)
{
    fputs("panel,level,runs_V,starts_V,arrives_V\n", stream);
    for (int i = 0; i < s->curve_count; i++) {
        fprintf(stream, "%d,%d", i / s->level_count, s->curve[i].level);
        write_number(stream, s->curve[i].need.runs);
        write_number(stream, s->curve[i].need.starts);
        write_number(stream, s->curve[i].need.arrives);
        fputc('\n', stream);
    }
}

static void set_names(cli_plot *plot, const slew_speed *s)
{
    char variable[24], text[60];
    for (int i = 0; i < s->level_count; i++) {
        snprintf(variable, sizeof variable, "level_%d", i);
        cli_speed_level(&s->level[i], text, sizeof text);
        cli_plot_set_text(plot, variable, text);
    }
}

static void set_headings(cli_plot *plot, const cli_speed *a)
{
    const slew_speed *s = &a->answer[0];
    char text[SLEW_TITLE_MAX + 60], origin[CLI_PROVENANCE_MAX];
    cli_speed_finding(a, 0, text, sizeof text);
    cli_plot_set_text(plot, "heading_1", text);
    snprintf(text, sizeof text, "%s   |   %s, %.1f degC", a->scenario->title, cli_speed_when(a, 0),
             cli_celsius(s->setup.environment.temperature));
    cli_plot_set_text(plot, "heading_2", text);
    cli_provenance_words(a->scenario, NULL, 0, origin);
    cli_plot_set_text(plot, "origin", origin);
}

static int write_data(cli_plot *plot, const slew_speed *s)
{
    FILE *curves = cli_plot_data(plot, "curves.csv");
    FILE *needs = curves != NULL ? cli_plot_data(plot, "needs.csv") : NULL;
    if (needs == NULL)
        return CLI_OUTSIDE;
    write_curves(curves, s);
    write_needs(needs, s);
    return CLI_OK;
}

int cli_speed_draw(const char *path, const void *what)
{
    const cli_speed *a = what;
    const slew_speed *s = &a->answer[0];
    cli_plot plot;
    int code = cli_plot_open(&plot);
    if (code != CLI_OK)
        return code;
    set_headings(&plot, a);
    set_names(&plot, s);
    cli_plot_set(&plot, "levels=%d", s->level_count);
    cli_plot_set(&plot, "x_low=%.9g", a->question[0].from);
    cli_plot_set(&plot, "x_high=%.9g", a->question[0].to);
    cli_plot_set(&plot, "own=%.9g", s->setup.supply.main.voltage);
    cli_plot_set(&plot, "stall=%.9g", s->setup.controller.stall_current);
    cli_plot_set(&plot, "floor=%.9g", s->setup.supply.floor);
    cli_plot_set(&plot, "brownout=%.9g", s->setup.controller.brownout_voltage);
    return cli_plot_close(&plot, write_data(&plot, s), "speed.gp", path);
}
