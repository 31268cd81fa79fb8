/* picture.c - what plots/map.gp and plots/map_line.gp draw of `slewtime map`: regions with their
 * borders and letters, or a line. */
#include "answer.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "line/report.h"
#include "tell/append.h"
#include "tell/csv.h"
#include "tell/units.h"

/* ---- cells, borders and letters ---- */

/* A place on the map in cells of the picture, + 0.5 the middle of one, and the code there. */
typedef struct spot {
    const cli_map *answer;
    double x, y;
    int code;
} spot;

/* in the unit in which its axis is shown */
static double shown(const cli_map *a, int axis, double value)
{
    return cli_vary_shown(&a->vary[axis], a->scenario->units, value);
}

static double along(const cli_map *a, int axis, double cells, int count)
{
    const slew_vary *v = &a->vary[axis];
    return shown(a, axis, v->from + (v->to - v->from) * cells / count);
}

static void tell_corner(cli_teller *t, const void *what)
{
    const spot *s = what;
    const cli_map *a = s->answer;
    cli_tell_number(t, "x", along(a, 0, s->x, a->map.width));
    cli_tell_number(t, "y", along(a, 1, s->y, a->map.height));
}

static void tell_cell(cli_teller *t, const void *what)
{
    const spot *s = what;
    tell_corner(t, s);
    cli_tell_integer(t, "code", s->code);
}

static spot middle_of(const cli_map *a, int x, int y)
{
    return (spot){a, x + 0.5, y + 0.5, cli_map_code_at(&a->map, x, y)};
}

static void write_cells(FILE *stream, const void *what)
{
    const cli_map *a = what;
    for (int y = 0; y < a->map.height; y++)
        for (int x = 0; x < a->map.width; x++) {
            const spot s = middle_of(a, x, y);
            cli_csv_row(stream, x == 0 && y == 0, tell_cell, &s);
        }
}

static bool add_letters(cli_plot *plot, const cli_map *a)
{
    int count, width = a->map.width;
    int *cell = cli_map_letters(&a->map, &count);
    FILE *stream = cell != NULL ? cli_plot_data(plot, "letters.csv") : NULL;
    if (cell == NULL)
        cli_no_memory();
    if (stream != NULL)
        cli_csv_names(stream, tell_cell, &(spot){.answer = a});
    for (int i = 0; stream != NULL && i < count; i++) {
        const spot s = middle_of(a, cell[i] % width, cell[i] / width);
        cli_csv_values(stream, tell_cell, &s);
    }
    free(cell);
    return stream != NULL;
}

/* ---- borders ---- */

static bool is_border(const slew_map *map, int i, int at, bool flat)
{
    return flat ? cli_map_code_at(map, i, at - 1) != cli_map_code_at(map, i, at)
                : cli_map_code_at(map, at - 1, i) != cli_map_code_at(map, at, i);
}

/* runs of borders between a row and the next, or a column and the next */
static void write_border(FILE *stream, const cli_map *a, int at, bool flat)
{
    bool was = false;
    int length = flat ? a->map.width : a->map.height;
    for (int i = 0; i <= length; i++) {
        bool is = i < length && is_border(&a->map, i, at, flat);
        const spot end = flat ? (spot){a, i, at, -1} : (spot){a, at, i, -1};
        if (is != was)
            cli_csv_values(stream, tell_corner, &end);
        if (was && !is)
            fputc('\n', stream);
        was = is;
    }
}

/* both ends of each run, separated by blank lines */
static void write_borders(FILE *stream, const void *what)
{
    const cli_map *a = what;
    cli_csv_names(stream, tell_corner, &(spot){.answer = a});
    for (int y = 1; y < a->map.height; y++)
        write_border(stream, a, y, true);
    for (int x = 1; x < a->map.width; x++)
        write_border(stream, a, x, false);
}

/* ---- what the script is told ---- */

/* "stow.point.elevation" is an axis's; SLEW_NO_AXIS: another key */
static int axis_of_point(const slew_vary *v)
{
    static const char *const points[SLEW_AXES] = {"stow.point.rotation", "stow.point.elevation"};
    for (int axis = 0; axis < SLEW_AXES; axis++)
        if (strcmp(slew_key_at(v->key)->path, points[axis]) == 0)
            return axis;
    return SLEW_NO_AXIS;
}

/* the hard stop, where a stow point varies up to it */
static void set_stop(cli_plot *plot, const cli_map *a, int varied, const char *letter)
{
    const slew_vary *v = &a->vary[varied];
    int axis = axis_of_point(v);
    if (axis == SLEW_NO_AXIS)
        return;
    const slew_range *stops = &a->scenario->setup.axis[axis].stops;
    double stop = stops->low >= v->from ? stops->low : stops->high;
    if (stop >= v->from && stop <= v->to)
        cli_plot_set(plot, "%s_stop=%.12g", letter, shown(a, varied, stop));
}

static void set_axis(cli_plot *plot, const cli_map *a, int axis, const char *letter)
{
    const slew_vary *v = &a->vary[axis];
    char text[CLI_VARY_NAME_MAX], variable[16];
    snprintf(variable, sizeof variable, "%s_name", letter);
    cli_vary_words(v, a->scenario->units, text);
    cli_plot_set_text(plot, variable, text);
    cli_plot_set(plot, "%s_low=%.12g", letter, shown(a, axis, v->from));
    cli_plot_set(plot, "%s_high=%.12g", letter, shown(a, axis, v->to));
}

/* the scenario's own value of the varied key; NaN: it has none */
static double own_value(const slew_scenario *s, const slew_vary *v)
{
    const slew_layer *layer = slew_layer_at(s, v->layer);
    for (int i = 0; layer != NULL && i < layer->count; i++)
        if (layer->item[i].key == v->key)
            return layer->item[i].value;
    return slew_scenario_get_number(s, v->key);
}

static void set_own(cli_plot *plot, const cli_map *a)
{
    double own[SLEW_VARY_MAX];
    for (int i = 0; i < a->count; i++) {
        own[i] = own_value(a->scenario, &a->vary[i]);
        if (!(own[i] >= a->vary[i].from && own[i] <= a->vary[i].to))
            return;
    }
    cli_plot_set(plot, "own_x=%.12g", shown(a, 0, own[0]));
    if (a->count == 2)
        cli_plot_set(plot, "own_y=%.12g", shown(a, 1, own[1]));
}

static bool is_present(const cli_map *a, int code)
{
    if (a->count == 2)
        return cli_map_share(a, code) > 0;
    for (int i = 0; i < a->line.count; i++)
        if (cli_map_code(slew_map_kind(&a->line.span[i].first)) == code)
            return true;
    return false;
}

/* the words of each outcome that is there, in a map with its share */
static void set_legend(cli_plot *plot, const cli_map *a)
{
    char present[64] = "", variable[24];
    for (int k = 0; k < CLI_MAP_CODES; k++) {
        char text[160] = "";
        if (!is_present(a, k))
            continue;
        if (a->count == 2)
            snprintf(text, sizeof text, "%.1f %% ", cli_percent(cli_map_share(a, k)));
        cli_append(text, sizeof text, "%s", cli_map_code_words(k));
        cli_append(present, sizeof present, "%d ", k);
        snprintf(variable, sizeof variable, "text_%d", k);
        cli_plot_set_text(plot, variable, text);
    }
    cli_plot_set_text(plot, "present", present);
}

static void set_headings(cli_plot *plot, const cli_map *a)
{
    char text[300];
    cli_map_finding(a, text, sizeof text);
    cli_plot_set_text(plot, "heading_1", text);
    cli_plot_set_text(plot, "heading_2", a->scenario->title);
    cli_plot_set_text(plot, "origin", a->asked);
    cli_plot_caution(plot, cli_map_dangers(a));
}

/* ---- drawing ---- */

static bool fill_map(cli_plot *plot, const cli_map *a)
{
    set_stop(plot, a, 0, "x");
    set_stop(plot, a, 1, "y");
    return cli_plot_table(plot, "cells.csv", write_cells, a) &&
           cli_plot_table(plot, "borders.csv", write_borders, a) && add_letters(plot, a);
}

/* the axis that the first trouble is about */
static int shown_axis(const cli_map *a)
{
    for (int i = 0; i < a->line.count; i++)
        if (a->line.span[i].first.axis != SLEW_NO_AXIS)
            return a->line.span[i].first.axis;
    return SLEW_ELEVATION;
}

/* where the axis is to rest after the deploy, and after the stow unless that point varies */
static void set_goals(cli_plot *plot, const cli_map *a, int axis)
{
    const slew_scenario *s = a->scenario;
    const slew_range *stops = &s->setup.axis[axis].stops, *target = &s->deploy.target[axis];
    double point = s->stow.point[axis], tolerance = s->stow.tolerance;
    cli_plot_set_text(plot, "axis", slew_axis_word(axis));
    cli_plot_set(plot, "deploys=%d", s->deploy.given);
    cli_plot_set(plot, "stop_low=%.9g", cli_degrees(stops->low));
    cli_plot_set(plot, "stop_high=%.9g", cli_degrees(stops->high));
    if (s->deploy.given && isfinite(target->low) && isfinite(target->high)) {
        cli_plot_set(plot, "target_low=%.9g", cli_degrees(target->low));
        cli_plot_set(plot, "target_high=%.9g", cli_degrees(target->high));
    }
    if (s->stow.has_point && axis_of_point(&a->vary[0]) != axis) {
        cli_plot_set(plot, "point_low=%.9g", cli_degrees(point - tolerance));
        cli_plot_set(plot, "point_high=%.9g", cli_degrees(point + tolerance));
    }
}

/* the tables have the unit of the key: what makes of it the unit that is shown */
static void set_scale(cli_plot *plot, const cli_map *a)
{
    const slew_vary *v = &a->vary[0];
    double from = slew_vary_in_unit(v, v->from), to = slew_vary_in_unit(v, v->to);
    double scale = (shown(a, 0, v->to) - shown(a, 0, v->from)) / (to - from);
    cli_plot_set(plot, "x_scale=%.15g", scale);
    cli_plot_set(plot, "x_zero=%.15g", shown(a, 0, v->from) - scale * from);
}

static bool fill_line(cli_plot *plot, const cli_map *a)
{
    char column[CLI_VARY_NAME_MAX];
    cli_vary_column(&a->vary[0], column);
    cli_plot_set_text(plot, "x_column", column);
    set_scale(plot, a);
    set_goals(plot, a, shown_axis(a));
    return cli_plot_table(plot, "spans.csv", cli_map_spans_table, a) &&
           cli_plot_table(plot, "line.csv", cli_map_table, a);
}

bool cli_map_fill(cli_plot *plot, const void *what)
{
    const cli_map *a = what;
    set_headings(plot, a);
    for (int i = 0; i < a->count; i++)
        set_axis(plot, a, i, i == 0 ? "x" : "y");
    set_own(plot, a);
    set_legend(plot, a);
    return a->count == 2 ? fill_map(plot, a) : fill_line(plot, a);
}
