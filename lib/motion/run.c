/* run.c - one truck, one stow, one deploy: from a scenario to its result. */
#include "slewtime/run.h"

#include "error/error.h"
#include "motion/controller.h"
#include "motion/errors.h"

#include <string.h>

/* ---- preparing ---- */

static slew_status build(const slew_scenario *scenario, slew_occasion occasion, slew_setup *setup,
                         slew_plant_model *model, slew_error *error)
{
    slew_scenario_resolve(scenario, occasion, setup);
    slew_status status = slew_plant_model_build(setup, model, error);
    if (status == SLEW_OK)
        status = slew_check_setup(setup, error);
    if (status != SLEW_OK)
        return slew_blame_occasion(error, status, scenario, occasion);
    slew_recorder_mark_keepout(&scenario->keepout, model);
    return SLEW_OK;
}

/* the axes must be able to stand on deploy day wherever stowing may leave them */
static slew_status check_stops(const slew_scenario *scenario, const slew_prepared *p,
                               slew_error *error)
{
    static const char *const keys[SLEW_AXES][2] = {{"rotation.stops.low", "rotation.stops.high"},
                                                   {"elevation.stops.low", "elevation.stops.high"}};
    for (int j = 0; j < SLEW_AXES; j++) {
        const slew_range *stow = &p->stow.axis[j].stops, *deploy = &p->deploy.axis[j].stops;
        if (deploy->low <= stow->low && deploy->high >= stow->high)
            continue;
        slew_error_set(error, SLEW_ERROR_INPUT, keys[j][deploy->low <= stow->low],
                       "a hard stop lies further in than when stowing, where the axis may rest",
                       "the same stops as today, or wider ones");
        return slew_blame_occasion(error, SLEW_ERROR_INPUT, scenario, SLEW_OCCASION_DEPLOY);
    }
    return SLEW_OK;
}

slew_status slew_prepare(const slew_scenario *scenario, slew_parts parts, slew_prepared *out,
                         slew_error *error)
{
    slew_status status = SLEW_OK;
    bool deploys = scenario->deploy.given && parts != SLEW_STOW_ONLY;
    out->stored[0] = out->stored[1] = NAN;
    if (parts == SLEW_DEPLOY_ONLY && !deploys)
        return slew_error_set(error, SLEW_ERROR_INPUT, "deploy",
                              "the scenario has no deploy to be run",
                              "deploy: with seconds, order and target");
    if (parts != SLEW_DEPLOY_ONLY)
        status = build(scenario, SLEW_OCCASION_STOW, &out->stow_setup, &out->stow, error);
    if (status == SLEW_OK && deploys)
        status = build(scenario, SLEW_OCCASION_DEPLOY, &out->deploy_setup, &out->deploy, error);
    if (status == SLEW_OK && deploys && parts != SLEW_DEPLOY_ONLY)
        status = check_stops(scenario, out, error);
    if (status == SLEW_OK && parts != SLEW_DEPLOY_ONLY)
        status = slew_teach(scenario, out->stored, error);
    return status;
}

/* ---- running ---- */

typedef struct run {
    const slew_scenario *scenario;
    const slew_prepared *prepared;
    slew_result *result;
    slew_plant plant;
    slew_recorder recorder;
    slew_controller controller;
} run;

static void begin(run *r, const slew_plant_model *model, const slew_setup *setup,
                  const slew_observer *observer)
{
    double start[SLEW_AXES];
    for (int j = 0; j < SLEW_AXES; j++)
        start[j] = setup->axis[j].start;
    slew_plant_start(model, start, &r->plant);
    slew_recorder_start(&r->recorder, &r->scenario->keepout, observer, r->result);
    slew_controller_start(&r->controller, model, setup, &r->plant, &r->recorder);
    slew_recorder_look(&r->recorder, &r->plant);
}

static void give_verdict(run *r, slew_part *part, bool done, slew_verdict verdict)
{
    slew_controller *c = &r->controller;
    double duration = r->plant.time - c->first_on;
    part->says = done ? verdict : c->fault != SLEW_FAULT_NONE ? SLEW_FAULTED : SLEW_NOT_RUN;
    part->fault = c->fault;
    part->axis = c->fault_axis;
    part->duration = isfinite(duration) && part->says != SLEW_NOT_RUN ? duration : NAN;
    if (done)
        slew_recorder_event(&r->recorder, &r->plant,
                            (slew_event){.kind = SLEW_EVENT_DONE, .axis = SLEW_NO_AXIS, .box = -1});
}

static void end_part(run *r, slew_part *part)
{
    part->holds = r->controller.holds;
    memcpy(part->angle, r->plant.angle, sizeof part->angle);
}

static void skip_part(run *r, slew_part *part)
{
    part->says = SLEW_NOT_RUN;
    part->fault = SLEW_FAULT_NONE;
    part->axis = SLEW_NO_AXIS;
    part->holds = true;
    part->duration = NAN;
    memcpy(part->angle, r->plant.angle, sizeof part->angle);
}

/* true: a deploy can follow */
static bool stow(run *r, bool deploy_follows)
{
    slew_controller *c = &r->controller;
    const slew_stow *stow = &r->scenario->stow;
    c->cancel_at = r->prepared->stow_setup.stow_cancel_at;
    bool done =
        slew_controller_home(c, stow) && slew_controller_move(c, r->prepared->stored, stow->order);
    give_verdict(r, &r->result->stow, done, SLEW_STOWED);
    c->cancel_at = INFINITY;
    bool ready =
        done && deploy_follows && slew_controller_pause(c) && slew_controller_rest(c, true);
    if (!ready && c->holds)
        slew_controller_rest(c, false);
    end_part(r, &r->result->stow);
    return ready;
}

static void deploy(run *r)
{
    slew_controller *c = &r->controller;
    const slew_deploy *deploy = &r->scenario->deploy;
    bool done = slew_controller_move(c, deploy->seconds, deploy->order);
    give_verdict(r, &r->result->deploy, done, SLEW_DEPLOYED);
    if (c->holds)
        slew_controller_rest(c, false);
    end_part(r, &r->result->deploy);
}

/* ---- the truth against what was wanted ---- */

int slew_stop_under(const slew_setup *setup, int axis, double angle)
{
    static const double touch = 1e-9; /* a place is exact to this [rad] */
    const slew_range *stops = &setup->axis[axis].stops;
    if (angle <= stops->low + touch)
        return -1;
    return angle >= stops->high - touch ? 1 : 0;
}

static bool is_within(double angle, slew_range range)
{
    return angle >= range.low && angle <= range.high;
}

static void judge(const slew_scenario *scenario, slew_result *result)
{
    const slew_stow *stow = &scenario->stow;
    result->stow.has_target = stow->has_point;
    result->deploy.has_target = scenario->deploy.given;
    result->stow.on_target = stow->has_point;
    result->deploy.on_target = scenario->deploy.given;
    for (int j = 0; j < SLEW_AXES; j++) {
        if (!(fabs(result->stow.angle[j] - stow->point[j]) <= stow->tolerance))
            result->stow.on_target = false;
        if (!is_within(result->deploy.angle[j], scenario->deploy.target[j]))
            result->deploy.on_target = false;
    }
}

void slew_run_prepared(const slew_scenario *scenario, const slew_prepared *prepared,
                       slew_parts parts, const slew_observer *observer, slew_result *result)
{
    run r = {.scenario = scenario, .prepared = prepared, .result = result};
    bool deploys = scenario->deploy.given && parts != SLEW_STOW_ONLY;
    memcpy(result->stored, prepared->stored, sizeof result->stored);
    if (parts == SLEW_DEPLOY_ONLY) {
        begin(&r, &prepared->deploy, &prepared->deploy_setup, observer);
        skip_part(&r, &result->stow);
    } else {
        begin(&r, &prepared->stow, &prepared->stow_setup, observer);
        bool ready = stow(&r, deploys);
        deploys = ready;
        if (ready)
            slew_controller_transfer(&r.controller, &prepared->deploy, &prepared->deploy_setup);
        else
            skip_part(&r, &result->deploy);
        /* a brownout after the stow verdict keeps the deploy from beginning */
        r.controller.first_on = INFINITY;
        if (result->stow.says == SLEW_STOWED && r.controller.fault != SLEW_FAULT_NONE)
            give_verdict(&r, &result->deploy, false, SLEW_DEPLOYED);
    }
    if (deploys)
        deploy(&r);
    result->end = r.plant.time;
    judge(scenario, result);
}

slew_status slew_run(const slew_scenario *scenario, slew_parts parts, const slew_observer *observer,
                     slew_result *result, slew_error *error)
{
    slew_prepared prepared;
    slew_status status = slew_prepare(scenario, parts, &prepared, error);
    if (status == SLEW_OK)
        slew_run_prepared(scenario, &prepared, parts, observer, result);
    return status;
}
