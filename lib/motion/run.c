/* run.c - one truck, one stow, one deploy: from a scenario to its result. */
#include "slewtime/run.h"

#include "error/error.h"
#include "keys/sound.h"
#include "motion/errors.h"
#include "motion/sequences.h"
#include "motion/stowed.h"

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
    if (out == NULL)
        return slew_no_argument(error);
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
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
    slew_machine *machine; /* not cleared: most of it is written before it is read, it is large */
    slew_course course;
} run;

/* who looks on at what the machine does under the conditions of `occasion` */
static void set_course(run *r, slew_occasion occasion, const slew_observer *observer)
{
    const slew_prepared *p = r->prepared;
    bool deploys = occasion == SLEW_OCCASION_DEPLOY;
    r->course = (slew_course){.machine = r->machine,
                              .model = deploys ? &p->deploy : &p->stow,
                              .setup = deploys ? &p->deploy_setup : &p->stow_setup,
                              .observer = observer,
                              .result = r->result};
}

static void begin(run *r, slew_occasion occasion, const slew_observer *observer)
{
    memcpy(r->result->stored, r->prepared->stored, sizeof r->result->stored);
    set_course(r, occasion, observer);
    slew_machine_place(&r->course, r->scenario, r->prepared->stored);
}

static void note_verdict(const run *r, slew_part *part)
{
    const slew_machine *m = r->machine;
    part->says = m->says;
    part->fault = m->fault;
    part->axis = m->fault_axis;
    part->duration = m->duration;
}

static void end_part(const run *r, slew_part *part)
{
    part->holds = r->machine->holds;
    memcpy(part->angle, r->machine->plant.angle, sizeof part->angle);
}

static void skip_part(const run *r, slew_part *part)
{
    part->says = SLEW_NOT_RUN;
    part->fault = SLEW_FAULT_NONE;
    part->axis = SLEW_NO_AXIS;
    part->duration = NAN;
    end_part(r, part);
    part->holds = true;
}

/* true: a deploy can follow */
static bool stow(run *r, bool deploy_follows)
{
    slew_course *c = &r->course;
    slew_part *part = &r->result->stow;
    r->machine->controller.cancel_at = r->prepared->stow_setup.stow_cancel_at;
    slew_sequence_begin(c, SLEW_TASK_STOW, SLEW_LEG_LIFT, SLEW_LEG_END);
    bool done = slew_sequence_finish(c);
    note_verdict(r, part);
    if (done && deploy_follows)
        slew_sequence_get_ready(c);
    bool rests = slew_sequence_come_to_rest(c);
    end_part(r, part);
    return rests && deploy_follows;
}

static void begin_deploy(run *r)
{
    slew_sequence_begin(&r->course, SLEW_TASK_DEPLOY, SLEW_LEG_MOVE_FIRST, SLEW_LEG_END);
}

static void finish_deploy(run *r)
{
    slew_course *c = &r->course;
    slew_part *part = &r->result->deploy;
    slew_sequence_finish(c);
    note_verdict(r, part);
    slew_sequence_come_to_rest(c);
    end_part(r, part);
}

static void deploy(run *r)
{
    begin_deploy(r);
    finish_deploy(r);
}

/* `ready`: a deploy can follow */
static void go_on_after_stow(run *r, bool ready)
{
    const slew_prepared *p = r->prepared;
    if (ready) {
        slew_controller_transfer(&r->course, &p->deploy, &p->deploy_setup);
        deploy(r);
        return;
    }
    skip_part(r, &r->result->deploy);
    /* a brownout after the stow verdict keeps the deploy from beginning */
    if (r->result->stow.says == SLEW_STOWED && r->machine->fault != SLEW_FAULT_NONE)
        note_verdict(r, &r->result->deploy);
}

static void keep_meters(const run *r)
{
    const slew_meters *m = &r->machine->recorded;
    slew_result *result = r->result;
    result->end = r->machine->plant.time;
    result->visit_count = r->machine->keepout.visits;
    result->lowest_voltage = m->lowest_voltage;
    result->lowest_loaded_voltage = m->lowest_loaded_voltage;
    result->below_floor = m->below_floor;
    result->peak_current = m->peak_current;
    result->charge = m->charge;
}

/* ---- the truth against what was wanted ---- */

int slew_stop_under(const slew_setup *setup, int axis, double angle)
{
    if (setup == NULL || axis < 0 || axis >= SLEW_AXES)
        return 0;
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

static void end(run *r)
{
    keep_meters(r);
    judge(r->scenario, r->result);
}

slew_status slew_run_prepared(const slew_scenario *scenario, const slew_prepared *prepared,
                              slew_parts parts, const slew_observer *observer, slew_result *result)
{
    if (scenario == NULL || prepared == NULL || result == NULL)
        return SLEW_ERROR_INPUT;
    slew_machine machine;
    run r = {.scenario = scenario, .prepared = prepared, .result = result, .machine = &machine};
    if (observer != NULL && observer->sample != NULL &&
        !(observer->interval >= SLEW_LEAST_INTERVAL))
        return SLEW_ERROR_INPUT;
    if (parts == SLEW_DEPLOY_ONLY) {
        begin(&r, SLEW_OCCASION_DEPLOY, observer);
        skip_part(&r, &result->stow);
        deploy(&r);
    } else {
        begin(&r, SLEW_OCCASION_STOW, observer);
        go_on_after_stow(&r, stow(&r, scenario->deploy.given && parts != SLEW_STOW_ONLY));
    }
    end(&r);
    return machine.gave_up ? SLEW_ERROR_PIECES : r.course.stopped ? SLEW_ERROR_STOPPED : SLEW_OK;
}

/* a run that its observer stopped is no error to be explained */
static slew_status explain(slew_status status, slew_error *error)
{
    if (status == SLEW_ERROR_PIECES)
        return slew_error_set(error, status, "", slew_too_many_pieces, slew_fewer_pieces);
    if (status == SLEW_ERROR_INPUT)
        return slew_error_set(error, status, "", "the observer's samples are too close together",
                              "an interval of 1e-5 s or more");
    if (status == SLEW_ERROR_STOPPED)
        return slew_error_set(error, status, "", "stopped", "");
    return status;
}

slew_status slew_run(const slew_scenario *scenario, slew_parts parts, const slew_observer *observer,
                     slew_result *result, slew_error *error)
{
    if (result == NULL)
        return slew_no_argument(error);
    slew_prepared prepared;
    slew_status status = slew_prepare(scenario, parts, &prepared, error);
    if (status != SLEW_OK)
        return status;
    return explain(slew_run_prepared(scenario, &prepared, parts, observer, result), error);
}

/* ---- one stow, several deploys ---- */

void slew_stowed_run(const slew_scenario *scenario, const slew_prepared *prepared, slew_stowed *out)
{
    run r = {.scenario = scenario,
             .prepared = prepared,
             .result = &out->result,
             .machine = &out->machine};
    begin(&r, SLEW_OCCASION_STOW, NULL);
    out->ready = stow(&r, true);
}

void slew_stowed_deploy(const slew_scenario *scenario, const slew_prepared *prepared,
                        const slew_stowed *stowed, const double seconds[SLEW_AXES],
                        slew_result *result)
{
    slew_machine machine = stowed->machine;
    run r = {.scenario = scenario, .prepared = prepared, .result = result, .machine = &machine};
    *result = stowed->result;
    memcpy(machine.program.seconds, seconds, sizeof machine.program.seconds);
    set_course(&r, SLEW_OCCASION_STOW, NULL);
    go_on_after_stow(&r, stowed->ready);
    end(&r);
}

/* ---- deploys that begin alike ---- */

void slew_deploys_begin(const slew_scenario *scenario, const slew_prepared *prepared,
                        const slew_stowed *stowed, slew_deploys *out)
{
    out->scenario = scenario;
    out->prepared = prepared;
    out->stowed = stowed;
    out->way[0] = out->way[1] = 0;
}

static int way_of(double seconds)
{
    return (seconds > 0) - (seconds < 0);
}

/* when the first drive of the move that goes on ends with these seconds */
static double first_end(const slew_deploys *d, const double move[SLEW_AXES])
{
    double end = INFINITY;
    for (int j = 0; j < SLEW_AXES; j++)
        if (move[j] != 0)
            end = fmin(end, d->machine.controller.on_at[j] + fabs(move[j]));
    return end;
}

/* true: nothing has happened yet that this move would not bring about too */
static bool is_on_the_way(const slew_deploys *d, const double move[SLEW_AXES])
{
    return d->way[0] == way_of(move[0]) && d->way[1] == way_of(move[1]) &&
           d->machine.plant.time < first_end(d, move);
}

static run run_common(slew_deploys *d, slew_occasion occasion)
{
    run r = {.scenario = d->scenario,
             .prepared = d->prepared,
             .result = &d->result,
             .machine = &d->machine};
    set_course(&r, occasion, NULL);
    return r;
}

/* from the stow to the drive-on of a first move without an end */
static void set_off(slew_deploys *d, const double move[SLEW_AXES])
{
    slew_machine *m = &d->machine;
    *m = d->stowed->machine;
    d->result = d->stowed->result;
    for (int j = 0; j < SLEW_AXES; j++) {
        d->way[j] = way_of(move[j]);
        m->program.seconds[j] = move[j] != 0 ? copysign(INFINITY, move[j]) : 0;
    }
    run r = run_common(d, SLEW_OCCASION_STOW);
    slew_controller_transfer(&r.course, &d->prepared->deploy, &d->prepared->deploy_setup);
    begin_deploy(&r);
    while (m->controller.phase == SLEW_PHASE_MOVE_PAUSE && slew_sequence_step(&r.course, INFINITY))
        continue;
}

/* what happens before `end`; what happens at that very time is for those who end then */
static void go_on_before(slew_deploys *d, double end)
{
    run r = run_common(d, SLEW_OCCASION_DEPLOY);
    double horizon = nextafter(end, -INFINITY);
    while (d->machine.controller.phase == SLEW_PHASE_MOVE && slew_sequence_step(&r.course, horizon))
        continue;
}

/* a copy of the common beginning goes on by itself */
static void finish_alone(const slew_deploys *d, const double seconds[SLEW_AXES],
                         const double move[SLEW_AXES], slew_result *result)
{
    slew_machine machine = d->machine;
    run r = {
        .scenario = d->scenario, .prepared = d->prepared, .result = result, .machine = &machine};
    *result = d->result;
    memcpy(machine.program.seconds, seconds, sizeof machine.program.seconds);
    if (machine.controller.phase == SLEW_PHASE_MOVE)
        slew_sequence_time_move(&machine, move);
    set_course(&r, SLEW_OCCASION_DEPLOY, NULL);
    finish_deploy(&r);
    end(&r);
}

void slew_deploys_run(slew_deploys *d, const double seconds[SLEW_AXES], slew_result *result)
{
    double move[SLEW_AXES];
    slew_sequence_first_move(d->stowed->machine.program.deploy_order, seconds, move);
    if (!d->stowed->ready || (move[0] == 0 && move[1] == 0)) {
        slew_stowed_deploy(d->scenario, d->prepared, d->stowed, seconds, result);
        return;
    }
    if (!is_on_the_way(d, move))
        set_off(d, move);
    go_on_before(d, first_end(d, move));
    finish_alone(d, seconds, move, result);
}
