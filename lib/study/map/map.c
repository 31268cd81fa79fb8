/*
 * map.c - two keys: a grid of points, then a finer one where they differ.
 *
 * The work is cut into lines along which, where one of the keys leaves teaching alone, the point is
 * taught once. Each line writes to places of its own: it does not matter which thread takes which.
 */
#include "error/error.h"
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
    uint8_t *state; /* of each cell of the grid */
} work;

/* a cell of the grid: all alike as far as is known, without or with a look inside, to be looked
 * into, found different there, to be asked at all its cells of the picture, or done */
enum { ALIKE, LOOK, DIFFERENT, ASK, DONE };

static const double looked_into = 0.25; /* of the cells whose corners agree */
static const uint64_t seed = 1;

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

/* the kind of all four corners of the cell of the grid around a cell of the picture; -1: they
 * differ */
static int corners(const slew_map *map, int x, int y)
{
    const slew_map_point *p =
        map->point + (size_t)(y / map->fine) * (size_t)map->columns + (size_t)(x / map->fine);
    const slew_map_point *above = p + map->columns;
    int kind = slew_map_kind(&p[0]);
    bool alike = kind == slew_map_kind(&p[1]) && kind == slew_map_kind(&above[0]) &&
                 kind == slew_map_kind(&above[1]);
    return alike ? kind : -1;
}

static size_t grid_cell(const slew_map *map, int x, int y)
{
    return (size_t)(y / map->fine) * (size_t)(map->columns - 1) + (size_t)(x / map->fine);
}

/* the one cell of the picture at which a cell of the grid is looked into */
static bool is_chosen(const slew_map *map, size_t cell, int x, int y)
{
    int across = (int)(slew_random_unit(seed, cell, 1) * map->fine);
    int up = (int)(slew_random_unit(seed, cell, 2) * map->fine);
    return x % map->fine == across && y % map->fine == up;
}

static int ask_middle(const work *w, slew_map_probe *probe, int x, int y)
{
    const double value[] = {middle_of(&w->vary[0], x, w->map->width),
                            middle_of(&w->vary[1], y, w->map->height)};
    const slew_map_point point = slew_map_probe_ask(probe, value, NULL);
    return slew_map_kind(&point);
}

static void begin_picture_line(const work *w, slew_map_probe *probe, int q)
{
    const double start[] = {middle_of(&w->vary[0], q, w->map->width),
                            middle_of(&w->vary[1], q, w->map->height)};
    slew_map_probe_line(probe, w->along, start);
}

static void look_along_line(work *w, slew_map_probe *probe, int q)
{
    const slew_map *map = w->map;
    begin_picture_line(w, probe, q);
    for (int p = 0; p < (w->along == 0 ? map->width : map->height); p++) {
        int x, y;
        place(w, q, p, &x, &y);
        size_t cell = grid_cell(map, x, y);
        if (w->state[cell] == LOOK && is_chosen(map, cell, x, y) &&
            ask_middle(w, probe, x, y) != corners(map, x, y))
            w->state[cell] = DIFFERENT;
    }
}

static void ask_picture_line(work *w, slew_map_probe *probe, int q)
{
    slew_map *map = w->map;
    begin_picture_line(w, probe, q);
    for (int p = 0; p < (w->along == 0 ? map->width : map->height); p++) {
        int x, y;
        place(w, q, p, &x, &y);
        uint8_t *cell = &map->cell[(size_t)y * (size_t)map->width + (size_t)x];
        int state = w->state[grid_cell(map, x, y)];
        if (state == ASK)
            *cell = (uint8_t)ask_middle(w, probe, x, y);
        else if (state != DONE)
            *cell = (uint8_t)corners(map, x, y);
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

static slew_status along_picture(work *w, void (*line)(work *, slew_map_probe *, int))
{
    w->ask_line = line;
    w->lines = w->along == 0 ? w->map->height : w->map->width;
    w->per_line = 0; /* of the grid's points */
    return ask_lines(w);
}

/* ---- what hides between corners that agree ---- */

static size_t count_cells(const slew_map *map)
{
    return (size_t)(map->columns - 1) * (size_t)(map->rows - 1);
}

static int corners_of(const slew_map *map, size_t cell)
{
    size_t across = (size_t)(map->columns - 1);
    return corners(map, (int)(cell % across) * map->fine, (int)(cell / across) * map->fine);
}

static void choose_cells(work *w)
{
    for (size_t i = 0; i < count_cells(w->map); i++)
        w->state[i] = corners_of(w->map, i) < 0                    ? ASK
                      : slew_random_unit(seed, i, 0) < looked_into ? LOOK
                                                                   : ALIKE;
}

/* the cell and those around it, unless they have been asked */
static void ask_around(work *w, size_t cell)
{
    int across = w->map->columns - 1, up = w->map->rows - 1;
    int x = (int)(cell % (size_t)across), y = (int)(cell / (size_t)across);
    for (int j = y - 1; j <= y + 1; j++)
        for (int i = x - 1; i <= x + 1; i++) {
            bool inside = i >= 0 && i < across && j >= 0 && j < up;
            uint8_t *state = inside ? &w->state[(size_t)j * (size_t)across + (size_t)i] : NULL;
            if (inside && (*state == ALIKE || *state == LOOK))
                *state = ASK;
        }
}

static void count_looks(work *w)
{
    slew_map *map = w->map;
    int64_t different = 0;
    for (size_t i = 0; i < count_cells(map); i++) {
        map->looked += w->state[i] == LOOK || w->state[i] == DIFFERENT;
        different += w->state[i] == DIFFERENT;
    }
    map->different = map->looked > 0 ? slew_exact_share(different, map->looked, 0.95)
                                     : (slew_share){NAN, NAN, NAN};
    for (size_t i = 0; i < count_cells(map); i++)
        if (w->state[i] == DIFFERENT) {
            w->state[i] = ASK;
            ask_around(w, i);
        }
}

/* its corners agree, and yet something else was found inside */
static bool hides(const work *w, size_t cell)
{
    const slew_map *map = w->map;
    size_t across = (size_t)(map->columns - 1), fine = (size_t)map->fine;
    int kind = corners_of(map, cell);
    const uint8_t *first =
        map->cell + cell / across * fine * (size_t)map->width + cell % across * fine;
    for (size_t k = 0; k < fine * fine && kind >= 0; k++)
        if (first[k / fine * (size_t)map->width + k % fine] != kind)
            return true;
    return false;
}

/* where a stripe goes on into cells that are taken to be alike, they are asked next; false: nowhere
 */
static bool follow(work *w)
{
    bool goes_on = false;
    uint8_t *state = w->state;
    for (size_t i = 0; i < count_cells(w->map); i++)
        state[i] = state[i] == ASK ? (hides(w, i) ? DIFFERENT : DONE) : state[i];
    for (size_t i = 0; i < count_cells(w->map); i++)
        if (state[i] == DIFFERENT) {
            state[i] = DONE;
            ask_around(w, i);
        }
    for (size_t i = 0; i < count_cells(w->map); i++)
        goes_on |= state[i] == ASK;
    return goes_on;
}

static slew_status ask_picture(work *w)
{
    choose_cells(w);
    slew_status status = along_picture(w, look_along_line);
    if (status != SLEW_OK)
        return status;
    count_looks(w);
    do
        status = along_picture(w, ask_picture_line);
    while (status == SLEW_OK && follow(w));
    return status;
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
        count[map->cell[i] % SLEW_MAP_PAST]++;
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
    w->state = calloc(count_cells(w->map), sizeof *w->state);
    bool room = allocate(w->map) && w->state != NULL;
    slew_status status = room ? ask_grid(w) : SLEW_ERROR_MEMORY;
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
    if (sampling == NULL || out == NULL)
        return slew_no_argument(error);
    slew_status sound = slew_map_check(scenario, vary, SLEW_VARY_MAX, error);
    if (sound != SLEW_OK)
        return sound;
    if (fine < 1 || fine > 8)
        return slew_no_number(error);
    work w = {.scenario = scenario, .vary = vary, .sampling = sampling, .map = out};
    w.along = slew_vary_teaches(&vary[0]) && !slew_vary_teaches(&vary[1]) ? 1 : 0;
    *out = (slew_map){.columns = vary[0].steps + 1,
                      .rows = vary[1].steps + 1,
                      .fine = fine,
                      .width = vary[0].steps * fine,
                      .height = vary[1].steps * fine};
    slew_status status = run(&w);
    free(w.state);
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
