/* fit_rows.c - the rows as readings, and what is wrong with them before anything is fitted. */
#include "study/drive/timing_row.h"
#include "study/fit/fit_prior.h"
#include "study/fit/fit_trial.h"

#include "error/error.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* a figure that changes no reading by this share of its sd when it changes by its own has no
 * influence */
static const double NO_INFLUENCE = 1e-3;

/* the step by which that is asked, as a share of the figure's sd */
static const double STEP = 1e-2;

/* how far from the scenario's figures a start is looked for, in what is not known of each */
enum { START_STEPS = 3 };

/* what a controller shows of a stored time, at least [s] */
static const double LEAST_CLOCK = 1e-3;

/* a travel counts as too fast if it is so even with this many sds more */
static const double SDS = 3;

/* ---- readings ---- */

/* a controller tells its stored times to its clock, and counts them from its look at the sensor */
static double sd_of(const slew_trial *t, int row, slew_measure measure)
{
    const slew_timing *own = &t->question->timings->row[row];
    const slew_measured *measured = &own->measured[measure];
    double clock = t->work->setup.controller.clock, sample = t->work->setup.controller.sample;
    if (!slew_timing_is_run(own) || measure != SLEW_MEASURE_SECONDS || measured->sd_given)
        return measured->sd;
    return fmax(hypot(clock, sample) / sqrt(12), LEAST_CLOCK);
}

/* what the controller was set to is no reading */
static bool is_set(const slew_timing *row, slew_measure measure)
{
    return row->to.kind == SLEW_PLACE_DEPLOYED && measure == SLEW_MEASURE_SECONDS;
}

static void take_readings(slew_trial *t)
{
    slew_fit *out = t->out;
    out->readings = 0;
    for (int i = 0; i < t->question->timings->count; i++)
        for (slew_measure m = 0; m < SLEW_MEASURE_COUNT; m++) {
            const slew_measured *measured = &t->question->timings->row[i].measured[m];
            if (isnan(measured->value) || is_set(&t->question->timings->row[i], m))
                continue;
            out->reading[out->readings++] = (slew_fit_reading){.row = i,
                                                               .measure = m,
                                                               .measured = measured->value,
                                                               .sd = sd_of(t, i, m),
                                                               .weight = 1};
            out->sds_given |= measured->sd_given;
        }
}

static slew_status check_sds(const slew_trial *t, slew_error *error)
{
    for (int i = 0; i < t->out->readings; i++)
        if (!(t->out->reading[i].sd > 0) || !isfinite(t->out->reading[i].measured))
            return slew_refuse(error, "",
                               "a reading without a value or a standard deviation above 0", "");
    return SLEW_OK;
}

/* ---- faster than can be ---- */

static double highest_supply(const slew_trial *t, const slew_setup *setup)
{
    double highest = setup->supply.main.voltage;
    if (setup->supply.auxiliary_fitted)
        highest = fmax(highest, setup->supply.auxiliary.voltage);
    for (int i = 0; i < t->question->timings->count; i++)
        highest = fmax(highest, t->question->timings->row[i].supply); /* of NaN the other */
    return highest;
}

static slew_status too_fast(const slew_timing *row, double travel, double limit, double supply,
                            slew_error *error)
{
    char message[256];
    double seconds = row->measured[SLEW_MEASURE_SECONDS].value, speed = travel / seconds;
    snprintf(message, sizeof message,
             "%.4g deg in %.4g s is %.1f deg/s, but at %.4g V the axis can't turn faster than %.1f "
             "deg/s: %.2g times too fast",
             slew_in_degrees(travel), seconds, slew_in_degrees(speed), supply,
             slew_in_degrees(limit), speed / limit);
    slew_refuse(error, "seconds_s", message,
                "another number of seconds or place; or, if the motor is that fast, a "
                "no_load_speed nearer to it to start from");
    if (error)
        error->line = row->line;
    return SLEW_ERROR_INPUT;
}

/* a speed that is fitted may be faster by so much, as a share */
static double leeway(const slew_trial *t, int axis)
{
    static const char *const paths[SLEW_AXES] = {"rotation.motor.no_load_speed",
                                                 "elevation.motor.no_load_speed"};
    for (int j = 0; j < t->out->figures; j++) {
        const slew_fit_figure *f = &t->out->figure[j];
        if (f->key == slew_key_find(paths[axis]))
            return fmax(f->mean + SDS * f->before, f->start) / f->start;
    }
    return 1;
}

static slew_status check_speed(const slew_trial *t, const slew_setup *setup, const slew_timing *row,
                               const slew_timed *timed, slew_error *error)
{
    const slew_measured *seconds = &row->measured[SLEW_MEASURE_SECONDS];
    if (isnan(seconds->value) || t->question->robust) /* then it counts for nothing */
        return SLEW_OK;
    double supply = highest_supply(t, setup);
    double limit = leeway(t, row->axis) * slew_timing_fastest(setup, row, supply);
    if (fabs(timed->travel) > limit * (seconds->value + SDS * seconds->sd))
        return too_fast(row, fabs(timed->travel), limit, supply, error);
    return SLEW_OK;
}

static slew_status check_speeds(slew_trial *t, slew_error *error)
{
    slew_setup setup;
    slew_status status = SLEW_OK;
    for (int i = 0; i < t->question->timings->count && status == SLEW_OK; i++) {
        slew_timed timed;
        const slew_timing *row = &t->question->timings->row[i];
        if (row->to.kind == SLEW_PLACE_NONE || slew_timing_is_run(row))
            continue;
        status = slew_trial_row(t, t->start, row, &timed, error);
        slew_scenario_resolve(t->work, SLEW_OCCASION_STOW, &setup);
        if (status == SLEW_OK)
            status = check_speed(t, &setup, row, &timed, error);
    }
    return status;
}

/* ---- where to begin ---- */

/* the scenario's own figures; where a row stalls with them, the first that moves, of figures moved
 * one by one by what is not known of them */
static slew_status find_start(slew_trial *t, double *room, slew_error *error)
{
    slew_status status = SLEW_OK;
    for (int j = 0; j < t->out->figures; j++)
        t->start[j] = t->out->figure[j].start;
    status = slew_trial_simulate(t, t->start, room, error);
    for (int step = 1; step <= START_STEPS && status != SLEW_OK; step++)
        for (int j = 0; j < 2 * t->out->figures && status != SLEW_OK; j++) {
            const slew_fit_figure *f = &t->out->figure[j / 2];
            double moved = f->start + (j % 2 ? -step : step) * f->before;
            t->start[j / 2] = fmax(fmin(moved, t->high[j / 2]), t->low[j / 2]);
            status = slew_trial_simulate(t, t->start, room, NULL);
            if (status != SLEW_OK)
                t->start[j / 2] = f->start;
        }
    return status;
}

/* ---- influence ---- */

/* the largest change of a reading, in its sds, with one figure moved by its own; NaN: it can be
 * moved neither way */
static double influence_of(slew_trial *t, int figure, const double *at_start, double *moved)
{
    double value[SLEW_FIT_MAX], most = NAN;
    for (int side = -1; side <= 1; side += 2) {
        memcpy(value, t->start, sizeof value);
        value[figure] += side * STEP * t->out->figure[figure].before;
        if (slew_trial_simulate(t, value, moved, NULL) != SLEW_OK)
            continue;
        most = fmax(most, 0);
        for (int i = 0; i < t->out->readings; i++)
            most = fmax(most, fabs(moved[i] - at_start[i]) / (STEP * t->out->reading[i].sd));
    }
    return most;
}

static slew_status check_influence(slew_trial *t, double *room, slew_error *error)
{
    double *at_start = room, *moved = room + t->out->readings;
    slew_status status = find_start(t, at_start, error);
    if (status == SLEW_OK)
        status = check_speeds(t, error);
    for (int j = 0; j < t->out->figures && status == SLEW_OK; j++) {
        const char *name = slew_fit_name(t->out->figure[j].key);
        double influence = influence_of(t, j, at_start, moved);
        if (isnan(influence))
            status = slew_refuse(error, name,
                                 "can be changed neither up nor down: the machine would not move",
                                 "another value to start from");
        else if (t->out->figure[j].asked && influence < NO_INFLUENCE)
            status = slew_refuse(error, name, "has no influence on any of the rows",
                                 "rows that depend on it, or a fit without it");
    }
    return status;
}

slew_status slew_trial_take_rows(slew_trial *t, slew_error *error)
{
    take_readings(t);
    slew_status status = check_sds(t, error);
    if (status != SLEW_OK)
        return status;
    slew_trial_float(t);
    if (!slew_prior_factor(t->work, t->out, t->factor))
        return slew_refuse(error, "spread.correlation", "what goes together contradicts itself",
                           "");
    double *room = malloc(2 * (size_t)t->out->readings * sizeof *room);
    if (room == NULL)
        return SLEW_ERROR_MEMORY;
    status = check_influence(t, room, error);
    free(room);
    return status;
}
