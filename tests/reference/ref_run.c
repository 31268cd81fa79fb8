/*
 * ref_run.c - the whole: teach, stow, hand over, deploy; what the controller says and what is true.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ref_controller.h"

/* one run: the reference's tools, and where it has come to */
typedef struct run {
    const slew_scenario *scenario;
    ref_options options;
    ref_stepper *stepper;
    ref_log log;
    ref_controller *c;
    slew_result *result;
    slew_part *part; /* in progress: blamed when an axis does not hold */
    char *why;
    size_t why_size;
} run;

/* ---- tools ---- */

static bool open_run(run *r, const ref_options *options, char *why, size_t size)
{
    memset(r, 0, sizeof *r);
    if (options)
        r->options = *options;
    r->why = why;
    r->why_size = size;
    if (r->options.inductance && r->options.solver != REF_CVODE) {
        snprintf(why, size, "inductance needs CVODE");
        return false;
    }
    r->stepper = ref_stepper_open(&r->options, r->options.inductance ? REF_STATES : REF_CURRENT);
    r->c = calloc(1, sizeof *r->c);
    if (!r->stepper || !r->c)
        snprintf(why, size, "no memory");
    return r->stepper && r->c;
}

static void close_run(run *r, ref_statistics *stats)
{
    if (stats && r->stepper) {
        stats->rhs_evaluations += r->stepper->statistics.rhs_evaluations;
        stats->steps += r->stepper->statistics.steps;
    }
    ref_stepper_close(r->stepper);
    free(r->c);
}

/* a controller at time 0 with the axes at their start */
static bool start_run(run *r, const slew_setup *setup)
{
    ref_machine machine;
    double angle[2] = {setup->axis[0].start, setup->axis[1].start};
    if (!ref_machine_build(setup, &machine, r->why, r->why_size))
        return false;
    for (int a = 0; a < 2; a++) {
        if (!(angle[a] >= machine.axis[a].low && angle[a] <= machine.axis[a].high)) {
            snprintf(r->why, r->why_size, "an axis starts beyond a stop");
            return false;
        }
    }
    memset(r->c, 0, sizeof *r->c);
    ref_plant_start(&r->c->plant, &machine, angle, &r->options, r->stepper);
    ref_controller_start(r->c, setup);
    return true;
}

/* ---- teaching ---- */

static bool homing_failed(run *r)
{
    const char *word = r->c->plant.failed               ? "the solver failed"
                       : r->c->fault == SLEW_FAULT_NONE ? "an axis does not hold"
                                                        : "the search ends in a fault";
    snprintf(r->why, r->why_size, "while teaching, %s", word);
    return false;
}

static bool teach(run *r, const slew_scenario *scenario, const slew_setup *setup, double stored[2])
{
    if (scenario->stow.has_times) {
        memcpy(stored, scenario->stow.times, 2 * sizeof *stored);
        return true;
    }
    if (!start_run(r, setup))
        return false;
    if (!ref_home_all(r->c, &scenario->stow) || !ref_wait_for_rest(r->c))
        return homing_failed(r);
    return ref_teach_times(r->c, &scenario->stow, stored, r->why, r->why_size);
}

/* ---- verdicts ---- */

static void say(run *r, slew_part *part, slew_verdict says, double at)
{
    part->says = says;
    part->duration = at - r->c->first_on_at;
}

static void say_done(run *r, slew_part *part, slew_verdict says)
{
    say(r, part, says, r->c->plant.t);
    ref_tell(r->c, SLEW_EVENT_DONE, SLEW_NO_AXIS, 0);
}

static void say_fault(run *r, slew_part *part)
{
    if (r->c->fault == SLEW_FAULT_NONE)
        return;
    say(r, part, SLEW_FAULTED, r->c->fault_at);
    part->fault = r->c->fault;
    part->axis = r->c->fault_axis;
}

/* ---- parts ---- */

static bool stow(run *r, const slew_scenario *scenario)
{
    r->c->cancel_at = r->c->setup->stow_cancel_at;
    bool done = ref_home_all(r->c, &scenario->stow) &&
                ref_ordered_moves(r->c, r->result->stored, scenario->stow.order);
    r->c->cancel_at = INFINITY;
    if (done)
        say_done(r, &r->result->stow, SLEW_STOWED);
    else
        say_fault(r, &r->result->stow);
    return done;
}

static void note_angles(run *r, slew_part *part)
{
    for (int a = 0; a < 2; a++)
        part->angle[a] = r->c->plant.y[REF_ANGLE + a];
}

/* from the stow verdict to the deploy: rest and pause, with an eye on the voltage */
static bool hand_over(run *r, const slew_setup *setup)
{
    ref_machine machine;
    r->c->first_on_at = NAN;
    if (!ref_wait_for_rest(r->c) || !ref_wait_for_pause(r->c)) {
        say_fault(r, &r->result->deploy);
        return false;
    }
    note_angles(r, &r->result->stow);
    r->part = &r->result->deploy;
    if (memcmp(setup, r->c->setup, sizeof *setup) == 0)
        return true;
    if (!ref_machine_build(setup, &machine, r->why, r->why_size))
        return false;
    r->c->setup = setup;
    ref_plant_change(&r->c->plant, &machine);
    return true;
}

/* the first wait asks anew whether all holds, before the first drive or the verdict */
static bool deploy(run *r, const slew_scenario *scenario)
{
    bool done = ref_wait(r->c, r->c->plant.t) == REF_SIGNAL_TIME &&
                ref_ordered_moves(r->c, scenario->deploy.seconds, scenario->deploy.order);
    if (done)
        say_done(r, &r->result->deploy, SLEW_DEPLOYED);
    else
        say_fault(r, &r->result->deploy);
    return done;
}

/* after the last action: no supervision, only rest */
static void run_out(run *r)
{
    ref_controller *c = r->c;
    c->watches_brownout = false;
    c->cancel_at = INFINITY;
    if (!c->plant.does_not_hold)
        ref_wait_for_rest(c);
    ref_plant_read_meters(&c->plant);
    ref_plant_close_book(&c->plant);
}

/* ---- result ---- */

static void clear_result(const slew_scenario *scenario, slew_result *result)
{
    slew_part nothing = {.axis = SLEW_NO_AXIS, .holds = true, .duration = NAN};
    memset(result, 0, sizeof *result);
    result->stow = result->deploy = nothing;
    result->stow.has_target = scenario->stow.has_point;
    result->deploy.has_target = scenario->deploy.given;
}

static void judge(const slew_scenario *scenario, slew_result *result)
{
    bool stowed = true, deployed = true;
    for (int a = 0; a < 2; a++) {
        double x = result->deploy.angle[a];
        const slew_range *target = &scenario->deploy.target[a];
        stowed = stowed &&
                 fabs(result->stow.angle[a] - scenario->stow.point[a]) <= scenario->stow.tolerance;
        deployed = deployed && x >= target->low && x <= target->high;
    }
    result->stow.on_target = result->stow.has_target && stowed;
    result->deploy.on_target = result->deploy.has_target && deployed;
}

static void finish_result(run *r, bool handed_over)
{
    const ref_plant *p = &r->c->plant;
    slew_result *result = r->result;
    if (!handed_over)
        note_angles(r, &result->stow);
    note_angles(r, &result->deploy);
    r->part->holds = !p->does_not_hold;
    result->end = p->t;
    result->lowest_voltage = p->meters.lowest;
    result->lowest_loaded_voltage = p->meters.lowest_loaded;
    result->below_floor = p->meters.below_floor;
    result->peak_current = p->meters.peak;
    result->charge = p->y[REF_CHARGE];
    judge(r->scenario, result);
}

/* ---- the run ---- */

static void connect_log(run *r)
{
    r->log = (ref_log){r->options.event, r->options.ctx, r->result};
    r->c->plant.log = &r->log;
    r->c->plant.keepout = &r->scenario->keepout;
    ref_plant_look_at_boxes(&r->c->plant);
    if (r->options.balance) {
        *r->options.balance = (ref_balance){0};
        ref_plant_open_book(&r->c->plant, r->options.balance);
    }
}

/* true: the deploy has taken over */
static bool run_parts(run *r, const slew_setup *deploy_setup, slew_parts parts)
{
    if (parts == SLEW_DEPLOY_ONLY) {
        note_angles(r, &r->result->stow);
        r->part = &r->result->deploy;
        deploy(r, r->scenario);
        return true;
    }
    r->part = &r->result->stow;
    bool goes_on =
        stow(r, r->scenario) && parts == SLEW_STOW_AND_DEPLOY && r->scenario->deploy.given;
    if (!goes_on || !hand_over(r, deploy_setup))
        return false;
    deploy(r, r->scenario);
    return true;
}

static int run_all(run *r, const slew_setup *stow_setup, const slew_setup *deploy_setup,
                   slew_parts parts)
{
    if (!start_run(r, parts == SLEW_DEPLOY_ONLY ? deploy_setup : stow_setup))
        return 1;
    connect_log(r);
    bool handed_over = run_parts(r, deploy_setup, parts);
    if (r->why[0])
        return 1;
    run_out(r);
    finish_result(r, handed_over);
    if (!r->c->plant.failed)
        return 0;
    snprintf(r->why, r->why_size, "the solver failed at %.9g s", r->c->plant.t);
    return 2;
}

static int run_with(const slew_scenario *scenario, const slew_setup *teach_setup,
                    const double known[2], const slew_setup *stow_setup,
                    const slew_setup *deploy_setup, slew_parts parts, const ref_options *options,
                    slew_result *result, ref_statistics *stats, char *why, size_t why_size)
{
    run r;
    int status = 1;
    double stored[2] = {0.0, 0.0};
    char unused[160];
    why = why_size > 0 ? why : unused;
    why_size = why_size > 0 ? why_size : sizeof unused;
    why[0] = '\0';
    if (stats)
        *stats = (ref_statistics){0, 0};
    if (open_run(&r, options, why, why_size)) {
        r.scenario = scenario;
        r.result = result;
        if (known)
            memcpy(stored, known, sizeof stored);
        if (known || parts == SLEW_DEPLOY_ONLY || teach(&r, scenario, teach_setup, stored)) {
            clear_result(scenario, result);
            memcpy(result->stored, stored, sizeof stored);
            status = run_all(&r, stow_setup, deploy_setup, parts);
        }
    }
    close_run(&r, stats);
    return status;
}

int ref_run(const slew_scenario *scenario, const slew_setup *teach_setup,
            const slew_setup *stow_setup, const slew_setup *deploy_setup, slew_parts parts,
            const ref_options *options, slew_result *result, ref_statistics *stats, char *why,
            size_t why_size)
{
    return run_with(scenario, teach_setup, NULL, stow_setup, deploy_setup, parts, options, result,
                    stats, why, why_size);
}

int ref_run_taught(const slew_scenario *scenario, const double stored[SLEW_AXES],
                   const slew_setup *stow_setup, const slew_setup *deploy_setup, slew_parts parts,
                   const ref_options *options, slew_result *result, ref_statistics *stats,
                   char *why, size_t why_size)
{
    return run_with(scenario, NULL, stored, stow_setup, deploy_setup, parts, options, result, stats,
                    why, why_size);
}

int ref_teach(const slew_scenario *scenario, const slew_setup *teach_setup,
              const ref_options *options, double stored[SLEW_AXES], ref_statistics *stats,
              char *why, size_t why_size)
{
    run r;
    int status = 1;
    why[0] = '\0';
    if (stats)
        *stats = (ref_statistics){0, 0};
    if (open_run(&r, options, why, why_size))
        status = teach(&r, scenario, teach_setup, stored) ? 0 : 1;
    close_run(&r, stats);
    return status;
}
