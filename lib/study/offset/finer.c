/*
 * finer.c - which other seconds would land in the target.
 *
 * In each sample an axis lands inside for the seconds between two times (reach.h). The best time is
 * the one that most samples' stretches have in common: for one axis a sweep over their sorted ends,
 * for both a sweep of one after the other until neither moves. Whether it keeps to the demands, and
 * what is told of it, is for finer_confirm.c.
 */
#include "study/offset/finer_confirm.h"
#include "study/offset/seconds_that_land.h"
#include "study/sampling/stowed_ensemble.h"

#include "error/error.h"
#include "keys/sound.h"

#include <gsl/gsl_sort.h>
#include <stdlib.h>
#include <string.h>

enum { SEARCHED_MAX = 2048, TURNS_MAX = 10, ROUNDS_MAX = 3 };

static const int parts_of_a_step[SLEW_FINER_COUNT] = {2, 10, 0};

/* ---- what each sample allows ---- */

typedef struct field {
    int64_t count;
    slew_range *reach[SLEW_AXES]; /* of each sample, empty where low > high */
    double *room;                 /* 2 * count numbers */
    double present[SLEW_AXES];    /* the best choice [s] */
    double *stored;               /* times of each sample */
} field;

static void ask_reach(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                      const slew_stowed *stowed, double *figures)
{
    slew_deploys deploys;
    slew_deploys_begin(drawn, prepared, stowed, &deploys);
    for (int j = 0; j < SLEW_AXES; j++) {
        slew_range reach = slew_seconds_that_land(&deploys, context, j);
        figures[2 * j] = reach.low;
        figures[2 * j + 1] = reach.high;
    }
}

/* a sample that can't run allows nothing: its NaN hold no time */
static bool allows(const field *f, int axis, int64_t i, double seconds)
{
    return f->reach[axis][i].low <= seconds && seconds <= f->reach[axis][i].high;
}

static int64_t allowing(const field *f, const double seconds[SLEW_AXES])
{
    int64_t count = 0;
    for (int64_t i = 0; i < f->count; i++)
        count += allows(f, SLEW_ROTATION, i, seconds[SLEW_ROTATION]) &&
                 allows(f, SLEW_ELEVATION, i, seconds[SLEW_ELEVATION]);
    return count;
}

/* ---- the time that most have in common ---- */

/* `beside`: seconds of the other axis that the samples have to allow; NaN: all samples count */
static int64_t collect(const field *f, int axis, double beside, double *low, double *high)
{
    int64_t count = 0;
    for (int64_t i = 0; i < f->count; i++) {
        const slew_range *reach = &f->reach[axis][i];
        if (reach->low <= reach->high && (isnan(beside) || allows(f, !axis, i, beside))) {
            low[count] = reach->low;
            high[count++] = reach->high;
        }
    }
    gsl_sort(low, 1, (size_t)count);
    gsl_sort(high, 1, (size_t)count);
    return count;
}

/* The middle of the widest stretch that most samples allow, or the present seconds if as many allow
 * those; NaN if none allows any. */
static double best_time(const field *f, int axis, double beside)
{
    double *low = f->room, *high = f->room + f->count, best = NAN, width = 0;
    double present = f->present[axis];
    int64_t count = collect(f, axis, beside, low, high), most = 0, at_present = 0;
    for (int64_t i = 0, ended = 0; i < count; i++) {
        while (high[ended] < low[i])
            ended++;
        double end = i + 1 < count ? fmin(low[i + 1], high[ended]) : high[ended];
        int64_t here = i + 1 - ended;
        if (low[i] <= present && present <= end && here > at_present)
            at_present = here;
        if (here > most || (here == most && end - low[i] > width)) {
            most = here;
            width = end - low[i];
            best = (low[i] + end) / 2;
        }
    }
    return at_present == most && most > 0 ? present : best;
}

/* each axis by itself, then one beside the other until neither moves */
static void best_pair(const field *f, const double needed[SLEW_AXES], double seconds[SLEW_AXES])
{
    for (int j = 0; j < SLEW_AXES; j++)
        seconds[j] = isnan(needed[j]) ? f->present[j] : needed[j];
    for (int turn = 0; turn < TURNS_MAX; turn++) {
        bool moved = false;
        for (int j = SLEW_AXES - 1; j >= 0; j--) {
            double time = best_time(f, j, seconds[!j]);
            moved |= !isnan(time) && time != seconds[j];
            seconds[j] = isnan(time) ? seconds[j] : time;
        }
        if (!moved)
            return;
    }
}

/* ---- times on a grid through the best choice ---- */

/* the grid points within one present step of `seconds` are numbers from to .. */
static void grid_around(double seconds, double present, double fine, int parts, int range[2])
{
    const double far = 1e9; /* steps; within what an int holds */
    double middle = fine > 0 ? fmin(fmax((seconds - present) / fine, -far), far) : 0;
    range[0] = fine > 0 ? (int)ceil(middle - parts) : 0;
    range[1] = fine > 0 ? (int)floor(middle + parts) : 0;
}

static void best_on_grid(const field *f, const double step[SLEW_AXES], int parts,
                         const double any[SLEW_AXES], double out[SLEW_AXES])
{
    double fine[SLEW_AXES], least = INFINITY;
    int range[SLEW_AXES][2];
    int64_t most = -1;
    for (int j = 0; j < SLEW_AXES; j++) {
        fine[j] = step[j] / parts;
        grid_around(any[j], f->present[j], fine[j], parts, range[j]);
    }
    for (int r = range[0][0]; r <= range[0][1]; r++)
        for (int e = range[1][0]; e <= range[1][1]; e++) {
            const double seconds[SLEW_AXES] = {f->present[0] + r * fine[0],
                                               f->present[1] + e * fine[1]};
            int64_t here = allowing(f, seconds);
            double away = fabs(seconds[0] - any[0]) + fabs(seconds[1] - any[1]);
            if (here > most || (here == most && away < least)) {
                most = here;
                least = away;
                memcpy(out, seconds, sizeof seconds);
            }
        }
}

/* from the best choice to its nearest neighbour; 0: it has none */
static double present_step(const slew_deploy *deploy, int axis, double present)
{
    double step = INFINITY;
    for (int i = 0; i < deploy->choice_count[axis]; i++) {
        double gap = fabs(deploy->choices[axis][i] - present);
        step = gap > 0 ? fmin(step, gap) : step;
    }
    return isfinite(step) ? step : 0;
}

/* ---- the search ---- */

static slew_status search_reach(const slew_scenario *scenario, const slew_sampling *sampling,
                                double seconds[SLEW_AXES], field *f, slew_error *error)
{
    slew_ensemble e;
    slew_sampling few = *sampling;
    few.samples = f->count;
    const slew_stowed_asking asking = {ask_reach, seconds, 2 * SLEW_AXES, NULL, f->stored};
    slew_status status = slew_stowed_ensemble_run(scenario, &few, &asking, &e, error);
    for (int64_t i = 0; status == SLEW_OK && i < f->count; i++)
        for (int j = 0; j < SLEW_AXES; j++)
            f->reach[j][i] =
                (slew_range){e.figure[i * e.count + 2 * j], e.figure[i * e.count + 2 * j + 1]};
    if (status == SLEW_OK || status == SLEW_ERROR_STOPPED)
        slew_ensemble_free(&e);
    return status;
}

static slew_share reachable(const field *f, int axis)
{
    int64_t count = 0, known = 0; /* a sample that can't run is left out, as elsewhere */
    for (int64_t i = 0; i < f->count; i++) {
        count += f->reach[axis][i].low <= f->reach[axis][i].high;
        known += !isnan(f->reach[axis][i].low);
    }
    if (known == 0)
        return (slew_share){NAN, NAN, NAN};
    return slew_exact_share(count, known, 0.95);
}

/* to 0.01 s, as people say it */
static void tidy(double seconds[SLEW_AXES], const double present[SLEW_AXES])
{
    for (int j = 0; j < SLEW_AXES; j++)
        if (seconds[j] != present[j])
            seconds[j] = round(100 * seconds[j]) / 100;
}

/* Axes that are driven together share the supply: with other seconds of the one the other one's
 * stretches are found anew. */
static slew_status search(const slew_scenario *scenario, const slew_sampling *sampling, field *f,
                          slew_finer *out, slew_error *error)
{
    double *any = out->at[SLEW_FINER_ANY].seconds, used[SLEW_AXES];
    memcpy(any, f->present, sizeof used);
    for (int round = 0; round < ROUNDS_MAX; round++) {
        memcpy(used, any, sizeof used);
        slew_status status = search_reach(scenario, sampling, used, f, error);
        if (status != SLEW_OK)
            return status;
        for (int j = 0; j < SLEW_AXES; j++)
            out->needed[j] = best_time(f, j, NAN);
        best_pair(f, out->needed, any);
        tidy(any, f->present);
        if (scenario->deploy.order != SLEW_TOGETHER || memcmp(used, any, sizeof used) == 0)
            break;
    }
    for (int j = 0; j < SLEW_AXES; j++) {
        out->step[j] = present_step(&scenario->deploy, j, f->present[j]);
        out->reachable[j] = reachable(f, j);
    }
    for (int k = 0; k < SLEW_FINER_ANY; k++)
        best_on_grid(f, out->step, parts_of_a_step[k], any, out->at[k].seconds);
    return SLEW_OK;
}

/* ---- the question ---- */

slew_status slew_finer_run(const slew_scenario *scenario, const slew_sampling *sampling,
                           const slew_offset *offset, slew_finer *out, slew_error *error)
{
    if (sampling == NULL || offset == NULL || out == NULL || offset->choice == NULL)
        return slew_no_argument(error);
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
    const slew_offset_choice *best = &offset->choice[offset->best];
    memset(out, 0, sizeof *out);
    out->searched = offset->samples < SEARCHED_MAX ? offset->samples : SEARCHED_MAX;
    field f = {.count = out->searched, .stored = offset->stored_chosen};
    memcpy(f.present, best->seconds, sizeof f.present);
    double *numbers = malloc((size_t)f.count * 2 * sizeof *numbers);
    slew_range *ranges = malloc((size_t)f.count * SLEW_AXES * sizeof *ranges);
    slew_status status = SLEW_ERROR_MEMORY;
    if (numbers != NULL && ranges != NULL) {
        f.room = numbers;
        f.reach[SLEW_ROTATION] = ranges;
        f.reach[SLEW_ELEVATION] = ranges + f.count;
        status = search(scenario, sampling, &f, out, error);
    }
    if (status == SLEW_OK)
        status = slew_finer_confirm(scenario, sampling, offset, out, error);
    free(numbers);
    free(ranges);
    return status == SLEW_ERROR_MEMORY ? slew_error_set(error, status, "", "memory is short", "")
                                       : status;
}
