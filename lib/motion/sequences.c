/* sequences.c - timed moves, jog, and the order of legs of the built-in controller, M6. */
#include "motion/sequences.h"

#include "motion/least.h"

/* ---- verdicts ---- */

/* The duration counts from the first drive-on of the task. */
static void end_task(slew_machine *m, slew_verdict says)
{
    slew_controller *k = &m->controller;
    double duration = m->plant.time - k->first_on;
    m->says = says;
    m->duration = isfinite(duration) && says != SLEW_NOT_RUN ? duration : NAN;
    m->task = SLEW_TASK_NONE;
    k->leg = k->last_leg = 0;
    k->cancel_at = k->first_on = INFINITY;
    k->phase = SLEW_PHASE_REST;
}

static void be_done(slew_course *c)
{
    slew_machine *m = c->machine;
    bool verdict = m->task != SLEW_TASK_NONE;
    end_task(m, m->task == SLEW_TASK_STOW     ? SLEW_STOWED
                : m->task == SLEW_TASK_DEPLOY ? SLEW_DEPLOYED
                                              : SLEW_NOT_RUN);
    if (verdict)
        slew_recorder_tell(c, SLEW_EVENT_DONE, SLEW_NO_AXIS, 0);
}

void slew_sequence_fail(slew_course *c, slew_fault fault, int axis)
{
    slew_controller_fail(c, fault, axis);
    end_task(c->machine, SLEW_FAULTED);
}

/* ---- timed moves ---- */

/* both axes whose time is not 0, from one start; false: there is nothing to do */
static bool begin_move(slew_course *c, double rotation, double elevation)
{
    slew_machine *m = c->machine;
    slew_controller *k = &m->controller;
    k->seconds[SLEW_ROTATION] = rotation;
    k->seconds[SLEW_ELEVATION] = elevation;
    if (rotation == 0 && elevation == 0)
        return false;
    k->phase = SLEW_PHASE_MOVE_PAUSE;
    slew_controller_wait_blind(m, slew_controller_pause_end(c));
    return true;
}

static bool begin_alone(slew_course *c, int axis, double seconds)
{
    return axis == SLEW_ROTATION ? begin_move(c, seconds, 0) : begin_move(c, 0, seconds);
}

/* until the first of the drives that are on is to end */
static void wait_for_first_end(slew_machine *m)
{
    slew_controller *k = &m->controller;
    k->wait_until = INFINITY;
    for (int j = 0; j < SLEW_AXES; j++)
        if (m->plant.drive[j])
            k->wait_until = slew_smaller(k->end_at[j], k->wait_until); /* NaN: none */
}

void slew_sequence_time_move(slew_machine *m, const double seconds[SLEW_AXES])
{
    slew_controller *k = &m->controller;
    for (int j = 0; j < SLEW_AXES; j++) {
        k->seconds[j] = seconds[j];
        k->end_at[j] = k->on_at[j] + fabs(seconds[j]);
    }
    wait_for_first_end(m);
}

static void drive_off_on(slew_course *c)
{
    slew_machine *m = c->machine;
    slew_controller *k = &m->controller;
    const double seconds[SLEW_AXES] = {k->seconds[0], k->seconds[1]};
    for (int j = 0; j < SLEW_AXES; j++)
        if (seconds[j] != 0)
            slew_controller_on(c, j, seconds[j] > 0 ? 1 : -1, false);
    k->phase = SLEW_PHASE_MOVE;
    slew_sequence_time_move(m, seconds);
}

static bool rests_on_stop(const slew_course *c, int axis)
{
    const slew_plant *plant = &c->machine->plant;
    const slew_plant_axis *a = &c->model->axis[axis];
    bool up = plant->drive[axis] * a->sign > 0;
    return !plant->moving[axis] && plant->angle[axis] == (up ? a->stops.high : a->stops.low);
}

static void stop_short(slew_course *c, int axis)
{
    bool on_stop = rests_on_stop(c, axis);
    slew_sequence_fail(c, on_stop ? SLEW_FAULT_HARD_STOP : SLEW_FAULT_OVERLOAD, axis);
}

static void go_on_moving(slew_course *c)
{
    slew_machine *m = c->machine;
    const slew_controller *k = &m->controller;
    for (int j = 0; j < SLEW_AXES; j++)
        if (m->plant.drive[j] && k->end_at[j] <= k->wait_until)
            slew_controller_off(c, j);
    if (m->plant.drive[0] || m->plant.drive[1])
        wait_for_first_end(m);
    else
        slew_sequence_next_leg(c);
}

/* ---- jog ---- */

static bool is_wanted(const slew_machine *m, int axis)
{
    return m->controller.wanted[axis] != 0;
}

/* an axis still waits for the end of the pause */
static bool waits_to_jog(const slew_machine *m)
{
    for (int j = 0; j < SLEW_AXES; j++)
        if (is_wanted(m, j) && !m->plant.drive[j])
            return true;
    return false;
}

void slew_sequence_jog(slew_course *c)
{
    slew_machine *m = c->machine;
    for (int j = 0; j < SLEW_AXES; j++)
        if (m->plant.drive[j] != m->controller.wanted[j])
            slew_controller_off(c, j);
    if (!is_wanted(m, 0) && !is_wanted(m, 1)) {
        end_task(m, SLEW_NOT_RUN);
        return;
    }
    m->task = SLEW_TASK_JOG;
    m->controller.phase = SLEW_PHASE_JOG;
    slew_controller_wait_blind(m, waits_to_jog(m) ? slew_controller_pause_end(c) : INFINITY);
}

static void drive_wanted(slew_course *c)
{
    slew_machine *m = c->machine;
    for (int j = 0; j < SLEW_AXES; j++)
        if (is_wanted(m, j) && !m->plant.drive[j])
            slew_controller_on(c, j, m->controller.wanted[j], false);
    m->controller.wait_until = INFINITY;
}

/* ---- legs ---- */

static int first_of(slew_order order)
{
    return order == SLEW_ELEVATION_FIRST ? SLEW_ELEVATION : SLEW_ROTATION;
}

void slew_sequence_first_move(slew_order order, const double seconds[SLEW_AXES],
                              double move[SLEW_AXES])
{
    int first = first_of(order);
    move[0] = seconds[0];
    move[1] = seconds[1];
    if (order != SLEW_TOGETHER)
        move[seconds[first] != 0 ? !first : first] = 0;
}

/* false: nothing to be moved in this leg */
static bool begin_timed(slew_course *c, bool second)
{
    const slew_machine *m = c->machine;
    const slew_program *p = &m->program;
    bool deploys = m->task == SLEW_TASK_DEPLOY;
    const double *seconds = deploys ? p->seconds : p->stored;
    slew_order order = deploys ? p->deploy_order : p->stow_order;
    if (order == SLEW_TOGETHER)
        return !second && begin_move(c, seconds[0], seconds[1]);
    int axis = second ? !first_of(order) : first_of(order);
    return begin_alone(c, axis, seconds[axis]);
}

/* false: nothing to do in this leg */
static bool begin_leg(slew_course *c, int leg)
{
    slew_machine *m = c->machine;
    int first = first_of(m->program.home_order);
    switch (leg) {
    case SLEW_LEG_LIFT:
        return begin_alone(c, SLEW_ELEVATION, m->program.lift_first);
    case SLEW_LEG_HOME_FIRST:
    case SLEW_LEG_HOME_SECOND:
        slew_search_begin(c, leg == SLEW_LEG_HOME_FIRST ? first : !first);
        return true;
    default:
        return begin_timed(c, leg == SLEW_LEG_MOVE_SECOND);
    }
}

void slew_sequence_next_leg(slew_course *c)
{
    slew_controller *k = &c->machine->controller;
    while (k->leg < k->last_leg)
        if (begin_leg(c, k->leg++))
            return;
    be_done(c);
}

void slew_sequence_begin(slew_course *c, slew_task task, int leg, int end)
{
    slew_machine *m = c->machine;
    m->task = task;
    m->says = SLEW_NOT_RUN;
    m->duration = NAN;
    m->controller.leg = leg;
    m->controller.last_leg = end;
    m->controller.first_on = INFINITY;
    slew_sequence_next_leg(c);
}

void slew_sequence_get_ready(slew_course *c)
{
    slew_machine *m = c->machine;
    m->controller.phase = SLEW_PHASE_READY_PAUSE;
    slew_controller_wait_blind(m, slew_controller_pause_end(c));
}

void slew_sequence_drop(slew_course *c)
{
    slew_machine *m = c->machine;
    for (int j = 0; j < SLEW_AXES; j++)
        slew_controller_off(c, j);
    m->fault = SLEW_FAULT_NONE;
    m->fault_axis = SLEW_NO_AXIS;
    m->controller.wanted[0] = m->controller.wanted[1] = 0;
    end_task(m, SLEW_NOT_RUN);
}

/* ---- going on ---- */

/* how the wait of a phase ended, that is no search and did not end it all */
static void go_on(slew_course *c, slew_wait_end end, int stalled)
{
    slew_machine *m = c->machine;
    slew_controller *k = &m->controller;
    if (end == SLEW_WAIT_STALLED && k->phase < SLEW_PHASE_SETTLE) {
        stop_short(c, stalled);
        return;
    }
    switch ((slew_phase)k->phase) {
    case SLEW_PHASE_READY_PAUSE:
        k->phase = SLEW_PHASE_READY_REST;
        break;
    case SLEW_PHASE_READY_REST:
        if (k->leg < k->last_leg)
            slew_sequence_next_leg(c);
        else
            k->phase = SLEW_PHASE_IDLE;
        break;
    case SLEW_PHASE_REST:
        k->phase = SLEW_PHASE_IDLE;
        break;
    case SLEW_PHASE_MOVE_PAUSE:
        drive_off_on(c);
        break;
    case SLEW_PHASE_MOVE:
        go_on_moving(c);
        break;
    case SLEW_PHASE_JOG:
        drive_wanted(c);
        break;
    default:
        slew_search_go_on(c, end);
    }
}

static slew_wait_end wait_in_phase(slew_course *c, double horizon, int *stalled)
{
    int phase = c->machine->controller.phase;
    if (phase == SLEW_PHASE_REST || phase == SLEW_PHASE_READY_REST)
        return slew_controller_rest(c, horizon, phase == SLEW_PHASE_READY_REST);
    return slew_controller_wait(c, horizon, stalled);
}

/* a fault, or a plant that stands still for good; after a task the verdict stands */
static void end_in_phase(slew_machine *m)
{
    if (m->controller.phase != SLEW_PHASE_REST)
        end_task(m, m->fault == SLEW_FAULT_NONE ? SLEW_NOT_RUN : SLEW_FAULTED);
}

bool slew_sequence_step(slew_course *c, double horizon)
{
    slew_machine *m = c->machine;
    int stalled = SLEW_NO_AXIS;
    if (c->stopped || m->controller.phase == SLEW_PHASE_IDLE || !m->holds || m->gave_up)
        return false;
    slew_wait_end end = wait_in_phase(c, horizon, &stalled);
    if (end == SLEW_WAIT_OVER)
        end_in_phase(m);
    else if (end != SLEW_WAIT_BEYOND && end != SLEW_WAIT_GOES_ON)
        go_on(c, end, stalled);
    return end != SLEW_WAIT_BEYOND;
}

static bool is_well(const slew_course *c)
{
    const slew_machine *m = c->machine;
    return m->fault == SLEW_FAULT_NONE && m->holds && !m->gave_up && !c->stopped;
}

bool slew_sequence_finish(slew_course *c)
{
    while (c->machine->controller.leg > 0 && slew_sequence_step(c, INFINITY))
        continue;
    return is_well(c);
}

bool slew_sequence_come_to_rest(slew_course *c)
{
    while (slew_sequence_step(c, INFINITY))
        continue;
    return is_well(c);
}
