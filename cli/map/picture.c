/* picture.c - the picture of `slewtime map`: regions with their borders and letters, or a line.
 */
#include "answer.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "draw/plot.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "tell/provenance.h"

enum { LETTER_ROOM = 4 }; /* a region with less half width [cells] has no letter */

static size_t cell_at(const slew_map *map, int x, int y)
{
    return (size_t)y * (size_t)map->width + (size_t)x;
}

static int code_at(const slew_map *map, int x, int y)
{
    return x < 0 || y < 0 || x >= map->width || y >= map->height ? -1
                                                                 : map->cell[cell_at(map, x, y)];
}

/* place of a corner (or with + 0.5 of a middle) of a cell, in the unit of the axis */
static double across(const cli_map *a, double x)
{
    const slew_vary *v = &a->vary[0];
    return slew_vary_in_unit(v, v->from + (v->to - v->from) * x / a->map.width);
}

static double up(const cli_map *a, double y)
{
    const slew_vary *v = &a->vary[1];
    return slew_vary_in_unit(v, v->from + (v->to - v->from) * y / a->map.height);
}

/* ---- cells and borders ---- */

static void write_cells(FILE *stream, const cli_map *a)
{
    fputs("x,y,outcome\n", stream);
    for (int y = 0; y < a->map.height; y++)
        for (int x = 0; x < a->map.width; x++)
            fprintf(stream, "%.9g,%.9g,%d\n", across(a, x + 0.5), up(a, y + 0.5),
                    code_at(&a->map, x, y));
}

/* runs of borders between a row and the next, or a column and the next */
static void write_border(FILE *stream, const cli_map *a, int at, bool flat)
{
    const slew_map *map = &a->map;
    int length = flat ? map->width : map->height, begun = -1;
    for (int i = 0; i <= length; i++) {
        bool differs = i < length && (flat ? code_at(map, i, at - 1) != code_at(map, i, at)
                                           : code_at(map, at - 1, i) != code_at(map, at, i));
        if (differs && begun < 0)
            begun = i;
        if (!differs && begun >= 0) {
            fprintf(stream, "%.9g,%.9g\n%.9g,%.9g\n\n", across(a, flat ? begun : at),
                    up(a, flat ? at : begun), across(a, flat ? i : at), up(a, flat ? at : i));
            begun = -1;
        }
    }
}

static void write_borders(FILE *stream, const cli_map *a)
{
    for (int y = 1; y < a->map.height; y++)
        write_border(stream, a, y, true);
    for (int x = 1; x < a->map.width; x++)
        write_border(stream, a, x, false);
}

/* ---- letters ---- */

/* how many cells it is to the nearest other outcome, straight or diagonally */
static void fill_room(const slew_map *map, int *room)
{
    static const int before[4][2] = {{-1, 0}, {0, -1}, {-1, -1}, {1, -1}};
    int count = map->width * map->height;
    for (int pass = 0; pass < 2; pass++)
        for (int i = 0; i < count; i++) {
            int k = pass == 0 ? i : count - 1 - i, x = k % map->width, y = k / map->width;
            int least = pass == 0 ? count : room[k] - 1;
            for (int n = 0; n < 4; n++) {
                int sign = pass == 0 ? 1 : -1, nx = x + sign * before[n][0],
                    ny = y + sign * before[n][1];
                bool same = code_at(map, nx, ny) == map->cell[k];
                int other = same ? room[cell_at(map, nx, ny)] : 0;
                least = other < least ? other : least;
            }
            room[k] = least + 1;
        }
}

/* takes a connected region out of `room`, and tells its roomiest cell */
static int take_region(const slew_map *map, int *room, int *stack, int start)
{
    int count = 0, best = start, best_room = 0;
    stack[count++] = start;
    room[start] = -room[start];
    while (count > 0) {
        int k = stack[--count], x = k % map->width, y = k / map->width;
        if (-room[k] > best_room) {
            best_room = -room[k];
            best = k;
        }
        const int next[4][2] = {{x - 1, y}, {x + 1, y}, {x, y - 1}, {x, y + 1}};
        for (int n = 0; n < 4; n++) {
            if (code_at(map, next[n][0], next[n][1]) != map->cell[k])
                continue;
            int other = (int)cell_at(map, next[n][0], next[n][1]);
            if (room[other] > 0) {
                room[other] = -room[other];
                stack[count++] = other;
            }
        }
    }
    return best;
}

static bool write_letters(FILE *stream, const cli_map *a)
{
    const slew_map *map = &a->map;
    int count = map->width * map->height;
    int *room = malloc((size_t)count * sizeof *room),
        *stack = malloc((size_t)count * sizeof *stack);
    if (room != NULL && stack != NULL) {
        fputs("x,y,letter,outcome\n", stream);
        fill_room(map, room);
        for (int i = 0; i < count; i++) {
            int best = room[i] > 0 ? take_region(map, room, stack, i) : -1;
            if (best >= 0 && -room[best] >= LETTER_ROOM)
                fprintf(stream, "%.9g,%.9g,%c,%d\n", across(a, best % map->width + 0.5),
                        up(a, best / map->width + 0.5),
                        cli_outcome_letter((slew_outcome)map->cell[best]), map->cell[best]);
        }
    }
    bool written = room != NULL && stack != NULL;
    free(room);
    free(stack);
    return written;
}

/* ---- a line ---- */

static void write_spans(FILE *stream, const cli_map *a)
{
    fputs("from,to,outcome,letter\n", stream);
    for (int i = 0; i < a->line.count; i++) {
        const slew_map_span *s = &a->line.span[i];
        fprintf(stream, "%.9g,%.9g,%d,%c\n", slew_vary_in_unit(&a->vary[0], s->from),
                slew_vary_in_unit(&a->vary[0], s->to), s->first.outcome,
                cli_outcome_letter((slew_outcome)s->first.outcome));
    }
}

/* ---- what the script is told ---- */

static void set_axis(cli_plot *plot, const slew_vary *v, const char *letter)
{
    char name[CLI_VARY_NAME_MAX], variable[16], text[2 * CLI_VARY_NAME_MAX];
    const char *unit = slew_key_at(v->key)->unit;
    cli_vary_name(v, name);
    snprintf(variable, sizeof variable, "%s_name", letter);
    snprintf(text, sizeof text, "%s%s%s", name, unit[0] != '\0' ? ", " : "", unit);
    cli_plot_set_text(plot, variable, text);
    cli_plot_set(plot, "%s_low=%.12g", letter, slew_vary_in_unit(v, v->from));
    cli_plot_set(plot, "%s_high=%.12g", letter, slew_vary_in_unit(v, v->to));
}

/* the scenario's own value of the varied key; NaN: it has none */
static double own_value(const slew_scenario *s, const slew_vary *v)
{
    const slew_layer *layers[] = {NULL, &s->teach, &s->today, &s->deploy_day};
    const slew_layer *layer = layers[v->layer];
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
    cli_plot_set(plot, "own_x=%.12g", slew_vary_in_unit(&a->vary[0], own[0]));
    if (a->count == 2)
        cli_plot_set(plot, "own_y=%.12g", slew_vary_in_unit(&a->vary[1], own[1]));
}

static bool is_present(const cli_map *a, int outcome)
{
    if (a->count == 2)
        return a->map.share[outcome] > 0;
    for (int i = 0; i < a->line.count; i++)
        if ((int)a->line.span[i].first.outcome == outcome)
            return true;
    return false;
}

static void set_legend(cli_plot *plot, const cli_map *a)
{
    char present[64] = "", text[160], variable[24];
    for (int k = 0; k < SLEW_OUTCOME_COUNT; k++) {
        if (!is_present(a, k))
            continue;
        size_t length = strlen(present);
        snprintf(present + length, sizeof present - length, "%d ", k);
        const char *words = slew_outcome_words((slew_outcome)k);
        if (a->count == 2)
            snprintf(text, sizeof text, "%.1f %%  %s", 100 * a->map.share[k], words);
        else
            snprintf(text, sizeof text, "%s", words);
        snprintf(variable, sizeof variable, "text_%d", k);
        cli_plot_set_text(plot, variable, text);
    }
    cli_plot_set_text(plot, "present", present);
}

static void set_headings(cli_plot *plot, const cli_map *a)
{
    char text[300], origin[CLI_PROVENANCE_MAX];
    cli_map_finding(a, text, sizeof text);
    cli_plot_set_text(plot, "heading_1", text);
    cli_provenance_words(a->scenario, NULL, 0, origin);
    cli_plot_set_text(plot, "heading_2", a->scenario->title);
    cli_plot_set_text(plot, "origin", origin);
}

/* ---- drawing ---- */

static int write_map(cli_plot *plot, const cli_map *a)
{
    FILE *cells = cli_plot_data(plot, "cells.csv");
    FILE *borders = cells != NULL ? cli_plot_data(plot, "borders.csv") : NULL;
    FILE *letters = borders != NULL ? cli_plot_data(plot, "letters.csv") : NULL;
    if (letters == NULL)
        return CLI_OUTSIDE;
    write_cells(cells, a);
    write_borders(borders, a);
    return write_letters(letters, a) ? CLI_OK : cli_no_memory();
}

static int write_line(cli_plot *plot, const cli_map *a)
{
    FILE *spans = cli_plot_data(plot, "spans.csv");
    FILE *line = spans != NULL ? cli_plot_data(plot, "line.csv") : NULL;
    if (line == NULL)
        return CLI_OUTSIDE;
    write_spans(spans, a);
    cli_map_csv(line, a);
    return CLI_OK;
}

int cli_map_draw(const char *path, const void *what)
{
    const cli_map *a = what;
    cli_plot plot;
    int code = cli_plot_open(&plot);
    if (code != CLI_OK)
        return code;
    set_headings(&plot, a);
    set_axis(&plot, &a->vary[0], "x");
    if (a->count == 2)
        set_axis(&plot, &a->vary[1], "y");
    set_own(&plot, a);
    set_legend(&plot, a);
    code = a->count == 2 ? write_map(&plot, a) : write_line(&plot, a);
    return cli_plot_close(&plot, code, a->count == 2 ? "map.gp" : "map_line.gp", path);
}
