/* drivers.c - what drives where the axes rest after the deploy: variance-based indices. */
#include "slewtime/offset.h"

#include "error/error.h"
#include "keys/sound.h"
#include "study/sampling/stowed_ensemble.h"

#include <stdlib.h>
#include <string.h>

enum { REPEATS_MAX = 64 };

/* instants are located to 1e-9 s (M8.4): less than that of angle is no spread [rad] */
static const double noise = 1e-9;

static void ask(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                const slew_stowed *stowed, double *figures)
{
    slew_result r;
    (void)context;
    slew_stowed_deploy(drawn, prepared, stowed, drawn->deploy.seconds, &r);
    memcpy(figures, r.deploy.angle, sizeof r.deploy.angle);
}

/* ---- points ---- */

static int64_t points_of_repeat(const slew_drivers *d)
{
    return d->base * (d->count + 2);
}

/* Where point `index` of a repeat (A, B, then A with each dimension of B) stands among those that
 * are run: what belongs to one point of A is run one after the other, from A itself to B.
 * Dimensions of the deploy's day come first, those of the truck last, so that what is the same
 * before them is taught and stowed once. */
static int64_t place_of(const slew_drivers *d, int64_t index)
{
    int64_t block = index / d->base, i = index % d->base;
    int64_t turn = block == 0 ? 0 : block == 1 ? d->count + 1 : d->count + 2 - block;
    return i * (d->count + 2) + turn;
}

static void put_in_places(const slew_drivers *d, const double *points, double *placed)
{
    size_t length = (size_t)d->count * sizeof *points;
    for (int64_t i = 0; i < points_of_repeat(d); i++)
        memcpy(placed + place_of(d, i) * d->count, points + i * d->count, length);
}

/* no two repeats of any two seeds are alike; `room`: for the points of one */
static bool fill_points(const slew_drivers *d, uint64_t seed, double *room, double *points)
{
    for (int r = 0; r < d->repeats; r++) {
        if (!slew_sensitivity_points(d->count, d->base, seed * REPEATS_MAX + (uint64_t)r, room))
            return false;
        put_in_places(d, room, points + r * points_of_repeat(d) * d->count);
    }
    return true;
}

static slew_status run(const slew_scenario *scenario, const slew_sampling *sampling,
                       slew_drivers *out, slew_ensemble *e, slew_error *error)
{
    slew_sampling how = *sampling;
    size_t length = (size_t)out->count * sizeof(double);
    how.samples = out->runs = points_of_repeat(out) * out->repeats;
    double *points = malloc((size_t)out->runs * length);
    double *room = malloc((size_t)points_of_repeat(out) * length);
    slew_status status = SLEW_ERROR_MEMORY;
    if (points != NULL && room != NULL && fill_points(out, sampling->seed, room, points)) {
        const slew_stowed_asking asking = {ask, NULL, SLEW_AXES, points, NULL};
        status = slew_stowed_ensemble_run(scenario, &how, &asking, e, error);
    } else {
        slew_error_set(error, status, "", "memory is short", "");
    }
    free(room);
    free(points);
    if (status == SLEW_ERROR_STOPPED)
        slew_ensemble_free(e);
    return status;
}

/* ---- indices ---- */

/* each index from each repeat */
typedef struct estimates {
    double first[SLEW_DRIVERS_MAX][REPEATS_MAX], total[SLEW_DRIVERS_MAX][REPEATS_MAX];
} estimates;

/* the angles of one axis, in the order of the points */
static void take_axis(const slew_drivers *d, const slew_ensemble *e, int axis, double *angle)
{
    int64_t points = points_of_repeat(d);
    for (int64_t i = 0; i < e->samples; i++) {
        int64_t place = i / points * points + place_of(d, i % points);
        angle[i] = e->figure[place * e->count + axis];
    }
}

/* of the points of A and B, which are drawn as the spread is */
static void measure(const slew_drivers *d, const double *angle, double *mean, double *deviation)
{
    double count = 0, sum = 0, square = 0, middle = NAN;
    for (int r = 0; r < d->repeats; r++)
        for (int64_t i = 0; i < 2 * d->base; i++) {
            double value = angle[r * points_of_repeat(d) + i];
            if (isnan(value))
                continue;
            middle = isnan(middle) ? value : middle; /* keeps the digits of small spreads */
            count++;
            sum += value - middle;
            square += (value - middle) * (value - middle);
        }
    *mean = middle + sum / count;
    *deviation = count > 0 ? sqrt(fmax(square / count - sum / count * (sum / count), 0)) : NAN;
}

static slew_share over_repeats(const double *value, int repeats)
{
    double mean = 0;
    for (int r = 0; r < repeats; r++)
        mean += value[r] / repeats;
    slew_interval interval = slew_mean_interval(value, repeats, 0.95);
    return (slew_share){mean, interval.low, interval.high};
}

static void rank(slew_drivers *d, int axis)
{
    int *order = d->order[axis];
    for (int i = 0; i < d->count; i++) {
        int place = i;
        double total = d->driver[i].total[axis].value;
        for (; place > 0 && d->driver[order[place - 1]].total[axis].value < total; place--)
            order[place] = order[place - 1];
        order[place] = i;
    }
}

static void conclude_axis(int axis, const double *angle, estimates *all, slew_drivers *out)
{
    double first[SLEW_DRIVERS_MAX], total[SLEW_DRIVERS_MAX];
    measure(out, angle, &out->mean[axis], &out->deviation[axis]);
    if (out->deviation[axis] < noise) {
        out->deviation[axis] = 0;
        return;
    }
    for (int r = 0; r < out->repeats; r++) {
        slew_sensitivity_indices(angle + r * points_of_repeat(out), out->count, out->base, first,
                                 total);
        for (int d = 0; d < out->count; d++) {
            all->first[d][r] = first[d];
            all->total[d][r] = total[d];
        }
    }
    for (int d = 0; d < out->count; d++) {
        out->driver[d].first[axis] = over_repeats(all->first[d], out->repeats);
        out->driver[d].total[axis] = over_repeats(all->total[d], out->repeats);
    }
}

static slew_status conclude(const slew_ensemble *e, slew_drivers *out, slew_error *error)
{
    double *angle = malloc((size_t)e->samples * sizeof *angle);
    estimates *all = malloc(sizeof *all);
    bool room = angle != NULL && all != NULL;
    for (int j = 0; j < SLEW_AXES && room; j++) {
        take_axis(out, e, j, angle);
        conclude_axis(j, angle, all, out);
        rank(out, j);
    }
    free(angle);
    free(all);
    return room ? SLEW_OK : slew_error_set(error, SLEW_ERROR_MEMORY, "", "memory is short", "");
}

/* ---- together ---- */

static slew_status check(const slew_scenario *scenario, const slew_sampling *sampling,
                         int dimensions, slew_error *error)
{
    if (!scenario->deploy.given)
        return slew_error_set(error, SLEW_ERROR_INPUT, "deploy", "the scenario has no deploy",
                              "deploy: with seconds, order and target");
    if (dimensions < 1 || dimensions > SLEW_DRIVERS_MAX)
        return slew_error_set(error, SLEW_ERROR_INPUT, "spread",
                              dimensions < 1 ? "nothing varies"
                                             : "more numbers are drawn than indices can be "
                                               "told of (20)",
                              "1 to 20 numbers drawn: those of the truck, those of the day, and "
                              "those of the day once more unless deploy.same_day");
    if (sampling->shifts < 2 || sampling->shifts > REPEATS_MAX)
        return slew_error_set(error, SLEW_ERROR_INPUT, "",
                              "the repeats of the indices must be 2 to 64", "");
    if (sampling->samples < 1 || sampling->samples > 1000000000L / (SLEW_DRIVERS_MAX + 2))
        return slew_error_set(error, SLEW_ERROR_INPUT, "",
                              "the number of base points must be 1 to 4e7", "");
    return SLEW_OK;
}

slew_status slew_drivers_run(const slew_scenario *scenario, const slew_sampling *sampling,
                             slew_drivers *out, slew_error *error)
{
    if (sampling == NULL || out == NULL)
        return slew_no_argument(error);
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
    slew_ensemble e;
    int dimensions = slew_ensemble_dimensions(scenario, SLEW_STOW_AND_DEPLOY);
    memset(out, 0, sizeof *out);
    slew_status status = check(scenario, sampling, dimensions, error);
    if (status != SLEW_OK)
        return status;
    out->count = dimensions;
    out->repeats = sampling->shifts;
    out->base = (sampling->samples + sampling->shifts - 1) / sampling->shifts;
    for (int d = 0; d < dimensions; d++)
        out->driver[d].drawn = slew_ensemble_dimension(scenario, SLEW_STOW_AND_DEPLOY, d);
    status = run(scenario, sampling, out, &e, error);
    if (status != SLEW_OK)
        return status;
    out->refused = e.refused;
    status = conclude(&e, out, error);
    slew_ensemble_free(&e);
    return status;
}
