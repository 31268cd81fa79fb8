/*
 * map.c - two keys: a grid of points, then a finer one where they differ.
 *
 * The work is cut into lines along which, where one of the keys leaves teaching alone, the point is
 * taught once. Each line writes to places of its own: it does not matter which thread takes which.
 */
#include "study/map/map_probe.h"
#include "study/sampling/workers.h"

#include <stdlib.h>

typedef struct work {
    const slew_scenario *scenario;
    const slew_vary *vary;
    const slew_sampling *sampling;
    slew_map *map;
    int along; /* the key that changes along a line: 0 or 1 */
    void (*ask_line)(struct work *, slew_map_probe *, int line);
    int64_t lines, per_line;
} work;

/* ---- lines ---- */

/* position p along line q, as column and row */
static void place(const work *w, int q, int p, int *column, int *row)
{
    *column = w->along == 0 ? p : q;
    *row = w->along == 0 ? q : p;
}

static void ask_grid_line(work *w, slew_map_probe *probe, int q)
{
    const double start[] = {slew_vary_value(&w->vary[0], q), slew_vary_value(&w->vary[1], q)};
    slew_map_probe_line(probe, w->along, start);
    for (int p = 0; p <= w->vary[w->along].steps; p++) {
        int column, row;
        place(w, q, p, &column, &row);
        const double value[] = {slew_vary_value(&w->vary[0], column),
                                slew_vary_value(&w->vary[1], row)};
        w->map->point[(size_t)row * (size_t)w->map->columns + (size_t)column] =
            slew_map_probe_ask(probe, value, NULL);
    }
}

/* the middle of cell `index` of the picture */
static double middle_of(const slew_vary *vary, int index, int count)
{
    return vary->from + (vary->to - vary->from) * (index + 0.5) / count;
}

/* the outcome of all four corners of the cell of the grid around a cell of the picture; -1: they
 * differ */
static int corners(const slew_map *map, int x, int y)
{
    const slew_map_point *p =
        map->point + (size_t)(y / map->fine) * (size_t)map->columns + (size_t)(x / map->fine);
    const slew_map_point *above = p + map->columns;
    bool alike = p[0].outcome == p[1].outcome && p[0].outcome == above[0].outcome &&
                 p[0].outcome == above[1].outcome;
    return alike ? (int)p[0].outcome : -1;
}

static void ask_picture_line(work *w, slew_map_probe *probe, int q)
{
    slew_map *map = w->map;
    const double start[] = {middle_of(&w->vary[0], q, map->width),
                            middle_of(&w->vary[1], q, map->height)};
    slew_map_probe_line(probe, w->along, start);
    for (int p = 0; p < (w->along == 0 ? map->width : map->height); p++) {
        int x, y;
        place(w, q, p, &x, &y);
        int outcome = corners(map, x, y);
        if (outcome < 0) {
            const double value[] = {middle_of(&w->vary[0], x, map->width),
                                    middle_of(&w->vary[1], y, map->height)};
            outcome = (int)slew_map_probe_ask(probe, value, NULL).outcome;
        }
        map->cell[(size_t)y * (size_t)map->width + (size_t)x] = (uint8_t)outcome;
    }
}

static void *arrive(void *context)
{
    const work *w = context;
    return slew_map_probe_new(w->scenario, w->vary, SLEW_VARY_MAX);
}

static int64_t ask_line(void *context, void *probe, int64_t line)
{
    work *w = context;
    w->ask_line(w, probe, (int)line);
    return w->per_line;
}

static slew_status ask_lines(work *w)
{
    const slew_workers workers = {
        .sampling = w->sampling, .jobs = w->lines, .arrive = arrive, .job = ask_line, .context = w};
    return slew_workers_run(&workers);
}

/* ---- together ---- */

static slew_status ask_grid(work *w)
{
    w->ask_line = ask_grid_line;
    w->lines = w->vary[!w->along].steps + 1;
    w->per_line = w->vary[w->along].steps + 1;
    return ask_lines(w);
}

static slew_status ask_picture(work *w)
{
    w->ask_line = ask_picture_line;
    w->lines = w->along == 0 ? w->map->height : w->map->width;
    w->per_line = 0; /* of the grid's points */
    return ask_lines(w);
}

static bool allocate(slew_map *map)
{
    map->point = calloc((size_t)map->columns * (size_t)map->rows, sizeof *map->point);
    map->cell = calloc((size_t)map->width * (size_t)map->height, sizeof *map->cell);
    return map->point != NULL && map->cell != NULL;
}

static void count_shares(slew_map *map)
{
    size_t cells = (size_t)map->width * (size_t)map->height;
    int64_t count[SLEW_OUTCOME_COUNT] = {0};
    for (size_t i = 0; i < cells; i++)
        count[map->cell[i]]++;
    for (int k = 0; k < SLEW_OUTCOME_COUNT; k++)
        map->share[k] = (double)count[k] / (double)cells;
}

static void find_largest_off(slew_map *map)
{
    for (size_t i = 0; i < (size_t)map->columns * (size_t)map->rows; i++) {
        double *largest = &map->largest_off[map->point[i].outcome];
        *largest = fmax(*largest, map->point[i].off);
    }
}

static void find_reason(const work *w, slew_outcome outcome)
{
    slew_map *map = w->map;
    for (size_t i = 0; i < (size_t)map->columns * (size_t)map->rows; i++)
        if (map->point[i].outcome == outcome) {
            slew_map_ask(w->scenario, w->vary, SLEW_VARY_MAX, map->point[i].value,
                         &map->reason[outcome]);
            return;
        }
}

static slew_status run(work *w)
{
    slew_status status = allocate(w->map) ? ask_grid(w) : SLEW_ERROR_MEMORY;
    if (status == SLEW_OK)
        status = ask_picture(w);
    if (status != SLEW_OK)
        return status;
    count_shares(w->map);
    find_largest_off(w->map);
    find_reason(w, SLEW_OUTCOME_UNTAUGHT);
    find_reason(w, SLEW_OUTCOME_UNFIT);
    return SLEW_OK;
}

slew_status slew_map_run(const slew_scenario *scenario, const slew_vary vary[SLEW_VARY_MAX],
                         int fine, const slew_sampling *sampling, slew_map *out, slew_error *error)
{
    work w = {.scenario = scenario, .vary = vary, .sampling = sampling, .map = out};
    w.along = slew_vary_teaches(&vary[0]) && !slew_vary_teaches(&vary[1]) ? 1 : 0;
    *out = (slew_map){.columns = vary[0].steps + 1,
                      .rows = vary[1].steps + 1,
                      .fine = fine,
                      .width = vary[0].steps * fine,
                      .height = vary[1].steps * fine};
    slew_status status = run(&w);
    if (status != SLEW_OK)
        slew_map_free(out);
    return slew_map_end(status, error);
}

void slew_map_free(slew_map *map)
{
    if (map == NULL)
        return;
    free(map->point);
    free(map->cell);
    map->point = NULL;
    map->cell = NULL;
}
