/* fit_run.c - rows that the controller makes: a stored time as it is taught, where a stow or a
 * deploy of today comes to rest. M12.8, M12.11 */
#include "study/drive/timing_row.h"
#include "study/fit/fit_trial.h"

#include "error/error.h"
#include "slewtime/run.h"

#include <stdio.h>
#include <string.h>

/* stops are out of the way by so much [rad] */
static const double NO_STOP = 1;

/* what one stow differs from the next by: some 10 ms of a drive [rad] */
static const double CORNER = 2e-3;

static slew_status refuse(const slew_timing *row, slew_error *error, const char *message)
{
    slew_refuse(error, "", message, "figures with which the run can be made, to start from");
    if (error)
        error->line = row->line;
    return SLEW_ERROR_INPUT;
}

/* The run's conditions are those of the row, on both occasions: a visit is one day. No stop is in
 * the way: what it takes comes after. */
static slew_status prepare(const slew_trial *t, const slew_timing *row, slew_prepared *p,
                           slew_error *error)
{
    slew_status status = slew_prepare(t->work, SLEW_STOW_ONLY, p, error);
    if (status != SLEW_OK)
        return status;
    slew_timing_set_conditions(&p->stow_setup, row);
    p->deploy_setup = p->stow_setup;
    p->deploy_setup.axis[row->axis].stops.low -= NO_STOP;
    p->deploy_setup.axis[row->axis].stops.high += NO_STOP;
    status = slew_plant_model_build(&p->deploy_setup, &p->deploy, error);
    p->stow = p->deploy;
    return status;
}

/* one part of the run; false: it does not come to its end */
static bool go(const slew_scenario *work, const slew_prepared *p, slew_parts part,
               const slew_timing *row, double angle[SLEW_AXES], slew_error *error)
{
    slew_result result;
    char message[160];
    bool runs = slew_run_prepared(work, p, part, NULL, &result) == SLEW_OK;
    const slew_part *end = part == SLEW_STOW_ONLY ? &result.stow : &result.deploy;
    if (runs && end->says == (part == SLEW_STOW_ONLY ? SLEW_STOWED : SLEW_DEPLOYED) && end->holds) {
        memcpy(angle, end->angle, SLEW_AXES * sizeof *angle);
        return true;
    }
    snprintf(message, sizeof message, "simulated, the %s does not come to its end: %s",
             part == SLEW_STOW_ONLY ? "stow" : "deploy",
             runs && end->fault != SLEW_FAULT_NONE ? slew_fault_in_words(end->fault)
                                                   : "an axis does not hold");
    refuse(row, error, message);
    return false;
}

/* how far it rests from a stop from which it would rest `way`, beyond it if negative */
static double within(double way)
{
    return fmax(way, 0) + CORNER * log1p(exp(-fabs(way) / CORNER));
}

/* Where an axis rests that would go on to `angle`: before the stop, or on it. Round the corner
 * within what one stow differs from the next, so that there is something to derive. */
static double before_stops(double angle, const slew_range *stops)
{
    return angle < (stops->low + stops->high) / 2 ? stops->low + within(angle - stops->low)
                                                  : stops->high - within(stops->high - angle);
}

static slew_status rest(slew_scenario *work, slew_prepared *p, const slew_timing *row,
                        slew_timed *out, slew_error *error)
{
    double angle[SLEW_AXES];
    const slew_range *stops = &p->stow_setup.axis[row->axis].stops;
    if (!go(work, p, SLEW_STOW_ONLY, row, angle, error))
        return SLEW_ERROR_INPUT;
    angle[row->axis] = before_stops(angle[row->axis], stops);
    for (int j = 0; j < SLEW_AXES; j++)
        p->deploy_setup.axis[j].start = angle[j];
    if (row->to.kind == SLEW_PLACE_DEPLOYED) {
        if (!go(work, p, SLEW_DEPLOY_ONLY, row, angle, error))
            return SLEW_ERROR_INPUT;
        angle[row->axis] = before_stops(angle[row->axis], stops);
    }
    out->value[SLEW_MEASURE_ANGLE] = angle[row->axis];
    return SLEW_OK;
}

static slew_status run(slew_trial *t, const slew_timing *row, slew_timed *out, slew_error *error)
{
    slew_prepared p;
    slew_scenario *work = t->work;
    bool deploys = row->to.kind == SLEW_PLACE_DEPLOYED;
    double *seconds = &work->deploy.seconds[row->axis], before = *seconds;
    if (deploys && !work->deploy.given)
        return refuse(row, error, "the scenario has no deploy");
    slew_status status = prepare(t, row, &p, error);
    if (status != SLEW_OK)
        return status;
    if (!deploys)
        out->value[SLEW_MEASURE_SECONDS] = p.stored[row->axis] * row->direction;
    if (!deploys && isnan(row->measured[SLEW_MEASURE_ANGLE].value))
        return SLEW_OK;
    if (deploys)
        *seconds = row->measured[SLEW_MEASURE_SECONDS].value * row->direction;
    status = rest(work, &p, row, out, error);
    *seconds = before;
    return status;
}

/* A stored time is taught as the scenario says: whatever the day was like, the point that has this
 * time there is where its replay comes to rest. Neither rounded to the controller's clock nor
 * waiting for its next look at the sensor, but half of that: both would leave nothing to derive. */
slew_status slew_trial_run(slew_trial *t, const slew_timing *row, slew_timed *out,
                           slew_error *error)
{
    slew_controller_settings *controller = &t->work->setup.controller;
    const slew_controller_settings before = *controller;
    *out = slew_timed_nothing();
    controller->clock = 0;
    controller->latency += controller->sample / 2;
    controller->sample = 0;
    slew_status status = run(t, row, out, error);
    *controller = before;
    if (status != SLEW_OK && error)
        error->line = row->line;
    return status == SLEW_OK ? SLEW_OK : SLEW_ERROR_INPUT;
}
