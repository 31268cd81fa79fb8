/* map_line.c - one key: the grid, and between neighbours that differ a bisection. */
#include "study/map/map_probe.h"

#include "error/error.h"

#include <stdlib.h>
#include <string.h>

typedef struct line {
    const slew_vary *vary;
    slew_map_probe *probe;
    double tolerance; /* [SI] */
    slew_map_line *out;
    int room;
    bool short_of_memory;
} line;

static slew_map_point ask(line *l, double value, slew_error *error)
{
    return slew_map_probe_ask(l->probe, &value, error);
}

/* a span begins at the boundary `from` with the point beyond it */
static void begin_span(line *l, double from, const slew_map_point *first)
{
    slew_map_line *out = l->out;
    if (out->count == l->room) {
        int room = l->room ? 2 * l->room : 16;
        slew_map_span *more = realloc(out->span, (size_t)room * sizeof *more);
        if (more == NULL) {
            l->short_of_memory = true;
            return;
        }
        out->span = more;
        l->room = room;
    }
    if (out->count > 0)
        out->span[out->count - 1].to = from;
    slew_map_span *span = &out->span[out->count++];
    *span = (slew_map_span){.from = from, .to = l->vary->to, .first = *first, .last = *first};
    if (first->outcome == SLEW_OUTCOME_UNTAUGHT || first->outcome == SLEW_OUTCOME_UNFIT)
        ask(l, first->value[0], &span->reason);
}

static void add_point(line *l, const slew_map_point *p)
{
    slew_map_span *span = &l->out->span[l->out->count - 1];
    span->last = *p;
    span->largest_off = fmax(span->largest_off, p->off);
}

/* from a to b, of which a has been added */
static void go(line *l, const slew_map_point *a, const slew_map_point *b)
{
    double middle = (a->value[0] + b->value[0]) / 2;
    if (l->short_of_memory)
        return;
    if (slew_map_kind(a) != slew_map_kind(b)) {
        if (b->value[0] - a->value[0] > l->tolerance) {
            slew_map_point m = ask(l, middle, NULL);
            go(l, a, &m);
            go(l, &m, b);
            return;
        }
        begin_span(l, middle, b);
    }
    if (!l->short_of_memory)
        add_point(l, b);
}

static slew_status ask_grid(line *l, const slew_sampling *how)
{
    for (int i = 0; i < l->out->point_count; i++) {
        l->out->point[i] = ask(l, slew_vary_value(l->vary, i), NULL);
        if (how->progress != NULL && i % 16 == 15 && !how->progress(how->context, i + 1))
            return SLEW_ERROR_STOPPED;
    }
    return SLEW_OK;
}

static slew_status run(line *l, const slew_sampling *how)
{
    slew_map_line *out = l->out;
    out->point_count = l->vary->steps + 1;
    out->point = calloc((size_t)out->point_count, sizeof *out->point);
    if (out->point == NULL || l->probe == NULL)
        return SLEW_ERROR_MEMORY;
    slew_map_probe_line(l->probe, 0, &l->vary->from);
    slew_status status = ask_grid(l, how);
    if (status != SLEW_OK)
        return status;
    begin_span(l, l->vary->from, &out->point[0]);
    if (!l->short_of_memory)
        add_point(l, &out->point[0]);
    for (int i = 1; i < out->point_count; i++)
        go(l, &out->point[i - 1], &out->point[i]);
    return l->short_of_memory ? SLEW_ERROR_MEMORY : SLEW_OK;
}

slew_status slew_map_line_run(const slew_scenario *scenario, const slew_vary *vary,
                              double tolerance, const slew_sampling *sampling, slew_map_line *out,
                              slew_error *error)
{
    if (sampling == NULL || out == NULL)
        return slew_no_argument(error);
    slew_status sound = slew_map_check(scenario, vary, 1, error);
    if (sound != SLEW_OK)
        return sound;
    if (!(tolerance > 0))
        return slew_no_number(error);
    line l = {.vary = vary, .tolerance = tolerance * (vary->to - vary->from), .out = out};
    memset(out, 0, sizeof *out);
    l.probe = slew_map_probe_new(scenario, vary, 1);
    slew_status status = run(&l, sampling);
    free(l.probe);
    if (status != SLEW_OK)
        slew_map_line_free(out);
    return slew_map_end(status, error);
}

void slew_map_line_free(slew_map_line *out)
{
    if (out == NULL)
        return;
    free(out->span);
    free(out->point);
    *out = (slew_map_line){0};
}
