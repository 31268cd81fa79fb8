/*
 * map.c - two keys: a grid of points, then a finer one where they differ.
 *
 * The work is cut into lines along which, where one of the keys leaves teaching alone, the point is
 * taught once. Each line writes to places of its own: it does not matter which thread takes which.
 */
#include "study/map_probe.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { THREADS_MAX = 256 };

typedef struct work {
    const slew_scenario *scenario;
    const slew_vary *vary;
    const slew_sampling *sampling;
    slew_map *map;
    int along; /* the key that changes along a line: 0 or 1 */
    void (*ask_line)(struct work *, slew_map_probe *, int line);
    long lines, per_line;
    atomic_long next_line, done;
    atomic_bool stopped, short_of_memory;
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

/* ---- threads ---- */

typedef struct worker {
    work *w;
    pthread_t thread;
    bool tells; /* of progress */
} worker;

static void take_lines(worker *me, slew_map_probe *probe)
{
    work *w = me->w;
    const slew_sampling *how = w->sampling;
    while (!atomic_load(&w->stopped)) {
        long line = atomic_fetch_add(&w->next_line, 1);
        if (line >= w->lines)
            return;
        w->ask_line(w, probe, (int)line);
        long done = atomic_fetch_add(&w->done, w->per_line) + w->per_line;
        if (me->tells && how->progress != NULL && !how->progress(how->context, done))
            atomic_store(&w->stopped, true);
    }
}

static void *work_in_thread(void *argument)
{
    worker *me = argument;
    slew_map_probe *probe = slew_map_probe_new(me->w->scenario, me->w->vary, SLEW_VARY_MAX);
    if (probe != NULL)
        take_lines(me, probe);
    else
        atomic_store(&me->w->short_of_memory, true);
    free(probe);
    return NULL;
}

static int thread_count(const slew_sampling *how)
{
    long threads = how->threads > 0 ? how->threads : sysconf(_SC_NPROCESSORS_ONLN);
    return threads < 1 ? 1 : threads > THREADS_MAX ? THREADS_MAX : (int)threads;
}

static slew_status run_workers(work *w)
{
    int count = thread_count(w->sampling), started = 1;
    worker *workers = calloc((size_t)count, sizeof *workers);
    if (workers == NULL)
        return SLEW_ERROR_MEMORY;
    atomic_store(&w->next_line, 0);
    workers[0] = (worker){.w = w, .tells = true};
    for (; started < count; started++) {
        workers[started].w = w;
        if (pthread_create(&workers[started].thread, NULL, work_in_thread, &workers[started]) != 0)
            break; /* fewer hands, the same result */
    }
    work_in_thread(&workers[0]);
    for (int i = 1; i < started; i++)
        pthread_join(workers[i].thread, NULL);
    free(workers);
    if (atomic_load(&w->short_of_memory))
        return SLEW_ERROR_MEMORY;
    return atomic_load(&w->stopped) ? SLEW_ERROR_STOPPED : SLEW_OK;
}

/* ---- together ---- */

static slew_status ask_grid(work *w)
{
    w->ask_line = ask_grid_line;
    w->lines = w->vary[!w->along].steps + 1;
    w->per_line = w->vary[w->along].steps + 1;
    return run_workers(w);
}

static slew_status ask_picture(work *w)
{
    w->ask_line = ask_picture_line;
    w->lines = w->along == 0 ? w->map->height : w->map->width;
    w->per_line = 0; /* of the grid's points */
    return run_workers(w);
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
    long count[SLEW_OUTCOME_COUNT] = {0};
    for (size_t i = 0; i < cells; i++)
        count[map->cell[i]]++;
    for (int k = 0; k < SLEW_OUTCOME_COUNT; k++)
        map->share[k] = (double)count[k] / (double)cells;
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
    if (status != SLEW_OK) {
        slew_map_free(out);
        if (error != NULL)
            *error = slew_map_error(status);
    }
    return status;
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
