/* machine.c - the public door of a machine that is stepped from outside; see machine.h. */
#include "slewtime/machine.h"

#include "error/error.h"
#include "motion/errors.h"
#include "motion/progress.h"
#include "motion/sequences.h"

#include <assert.h>
#include <string.h>

enum { ROOM_FOR_A_COMMAND = 16 };

/* ---- start ---- */

static void set_program(const slew_scenario *s, const double stored[SLEW_AXES], slew_program *p)
{
    p->lift_first = s->stow.lift_first;
    p->home_order = s->stow.home_order;
    p->stow_order = stored ? s->stow.order : SLEW_ROTATION_FIRST;
    p->deploy_order = s->deploy.order;
    for (int j = 0; j < SLEW_AXES; j++) {
        p->stored[j] = stored ? stored[j] : 0;
        p->seconds[j] = s->deploy.seconds[j];
    }
}

void slew_machine_place(slew_course *c, const slew_scenario *scenario,
                        const double stored[SLEW_AXES])
{
    static const slew_keepout none = {0};
    slew_machine *m = c->machine;
    double start[SLEW_AXES];
    for (int j = 0; j < SLEW_AXES; j++)
        start[j] = c->setup->axis[j].start;
    set_program(scenario, stored, &m->program);
    slew_plant_start(c->model, start, &m->plant);
    slew_recorder_start(m);
    slew_controller_start(m);
    m->time = 0;
    m->task = SLEW_TASK_NONE;
    m->says = SLEW_NOT_RUN;
    m->duration = NAN;
    m->told_count = 0;
    m->controller.phase = SLEW_PHASE_REST;
    slew_recorder_look(c, stored ? &scenario->keepout : &none);
}

/* ---- events wait here to be told ---- */

static void keep(void *context, const slew_event *event)
{
    slew_machine *m = context;
    assert(m->told_count < SLEW_TOLD_MAX);
    m->told[m->told_count++] = *event;
}

static slew_event take_first(slew_machine *m)
{
    slew_event first = m->told[0];
    m->told_count--;
    memmove(m->told, m->told + 1, (size_t)m->told_count * sizeof *m->told);
    return first;
}

/* the machine with itself as the one who looks on */
static slew_course course_of(slew_machine *m, slew_observer *keeper)
{
    *keeper = (slew_observer){.event = keep, .context = m};
    return (slew_course){.machine = m, .model = &m->model, .setup = &m->setup, .observer = keeper};
}

void slew_machine_start(const slew_scenario *scenario, const slew_prepared *prepared,
                        slew_occasion occasion, slew_machine *m)
{
    if (scenario == NULL || prepared == NULL || m == NULL)
        return;
    bool deploys = occasion == SLEW_OCCASION_DEPLOY;
    memset(m, 0, sizeof *m);
    slew_observer keeper;
    slew_course c = course_of(m, &keeper);
    m->setup = deploys ? prepared->deploy_setup : prepared->stow_setup;
    m->model = deploys ? prepared->deploy : prepared->stow;
    slew_machine_place(&c, scenario, prepared->stored);
}

/* ---- time ---- */

static bool stands_for_good(const slew_machine *m)
{
    return !m->holds || m->gave_up;
}

bool slew_machine_advance(slew_machine *m, double until, slew_event *event)
{
    if (m == NULL || event == NULL)
        return false;
    slew_observer keeper;
    slew_course c = course_of(m, &keeper);
    if (!(until >= m->time))
        return false;
    while (m->told_count == 0)
        if (!slew_sequence_step(&c, until)) {
            if (isfinite(until) && !stands_for_good(m))
                m->time = until;
            return false;
        }
    *event = take_first(m);
    m->time = event->time;
    return true;
}

/* the plant at the present instant */
static slew_plant plant_now(const slew_machine *m)
{
    slew_plant now = m->plant;
    slew_plant_event event;
    double time = m->time > now.time ? m->time : now.time;
    slew_plant_progress(&m->model, &now, time, INFINITY, !m->underway, &event);
    return now;
}

slew_sample slew_machine_look(const slew_machine *m)
{
    if (m == NULL)
        return (slew_sample){.time = NAN};
    slew_plant now = plant_now(m);
    return slew_recorder_look_at(&m->model, &now);
}

slew_meters slew_machine_meters(const slew_machine *m)
{
    if (m == NULL)
        return (slew_meters){.lowest_voltage = NAN};
    slew_meters meters = m->recorded;
    slew_plant now = plant_now(m);
    slew_recorder_span(&meters, &now.span, slew_controller_is_loaded(m), m->model.watch_voltage[0]);
    return meters;
}

bool slew_machine_is_ready(const slew_machine *m)
{
    if (m == NULL)
        return false;
    return !slew_plant_is_moving(&m->plant) && !m->plant.drive[0] && !m->plant.drive[1] &&
           m->time >= m->controller.off_at + m->setup.controller.pause;
}

/* ---- commands ---- */

/* true: a command is taken, the plant stands at the present instant */
static bool listen(slew_course *c)
{
    slew_machine *m = c->machine;
    if (stands_for_good(m) || m->told_count > SLEW_TOLD_MAX - ROOM_FOR_A_COMMAND)
        return false;
    slew_controller_catch_up(c, m->time);
    return true;
}

bool slew_machine_stow(slew_machine *m)
{
    if (m == NULL)
        return false;
    slew_observer keeper;
    slew_course c = course_of(m, &keeper);
    if (!listen(&c))
        return false;
    slew_sequence_drop(&c);
    if (m->setup.stow_cancel_at >= m->time)
        m->controller.cancel_at = m->setup.stow_cancel_at;
    slew_sequence_begin(&c, SLEW_TASK_STOW, SLEW_LEG_LIFT, SLEW_LEG_END);
    return true;
}

bool slew_machine_deploy(slew_machine *m)
{
    if (m == NULL)
        return false;
    slew_observer keeper;
    slew_course c = course_of(m, &keeper);
    if (!listen(&c))
        return false;
    slew_sequence_drop(&c);
    if (slew_machine_is_ready(m)) {
        slew_sequence_begin(&c, SLEW_TASK_DEPLOY, SLEW_LEG_MOVE_FIRST, SLEW_LEG_END);
    } else {
        m->task = SLEW_TASK_DEPLOY;
        m->controller.leg = SLEW_LEG_MOVE_FIRST;
        m->controller.last_leg = SLEW_LEG_END;
        slew_sequence_get_ready(&c);
    }
    return true;
}

bool slew_machine_cancel(slew_machine *m)
{
    if (m == NULL)
        return false;
    slew_observer keeper;
    slew_course c = course_of(m, &keeper);
    if (!listen(&c))
        return false;
    if (m->task != SLEW_TASK_NONE)
        slew_sequence_fail(&c, SLEW_FAULT_CANCELLED, SLEW_NO_AXIS);
    return true;
}

bool slew_machine_jog(slew_machine *m, int axis, int direction)
{
    if (m == NULL)
        return false;
    slew_observer keeper;
    slew_course c = course_of(m, &keeper);
    bool exists = axis >= 0 && axis < SLEW_AXES && direction >= -1 && direction <= 1;
    if (!exists || !listen(&c))
        return false;
    if (m->task != SLEW_TASK_JOG)
        slew_sequence_drop(&c);
    m->controller.wanted[axis] = direction;
    slew_sequence_jog(&c);
    return true;
}

/* ---- other conditions ---- */

/* what can't change while an axis moves or is driven */
static bool is_other_machine(const slew_machine *m, const slew_plant_model *to, int axis)
{
    const slew_plant_axis *a = &m->model.axis[axis], *b = &to->axis[axis];
    bool rests = !m->plant.moving[axis] && !m->plant.drive[axis];
    return !rests && (a->ratio != b->ratio || a->sign != b->sign || a->stops.low != b->stops.low ||
                      a->stops.high != b->stops.high);
}

static slew_status check_change(const slew_machine *m, const slew_setup *setup,
                                const slew_plant_model *to, slew_error *error)
{
    static const char *const keys[SLEW_AXES] = {"rotation", "elevation"};
    slew_setup placed = *setup;
    for (int j = 0; j < SLEW_AXES; j++)
        placed.axis[j].start = m->plant.angle[j];
    for (int j = 0; j < SLEW_AXES; j++)
        if (is_other_machine(m, to, j))
            return slew_error_set(error, SLEW_ERROR_INPUT, keys[j],
                                  "ratio, wiring and stops can't change while the axis moves",
                                  "an axis at rest with its drive off");
    return slew_check_setup(&placed, error);
}

/* what is no condition of the occasion: marks and what pushes from outside */
static void keep_the_rest(const slew_plant_model *from, slew_plant_model *to)
{
    for (int j = 0; j < SLEW_AXES; j++) {
        to->axis[j].mark_count = from->axis[j].mark_count;
        memcpy(to->axis[j].mark, from->axis[j].mark, sizeof to->axis[j].mark);
        slew_plant_model_load(to, j, from->outside[j]);
    }
}

/* a sensor that the change has closed or opened is told like any edge */
static void tell_edges(slew_course *c, const bool closed[SLEW_AXES])
{
    slew_machine *m = c->machine;
    for (int j = 0; j < SLEW_AXES; j++) {
        if (m->plant.closed[j] == closed[j])
            continue;
        slew_controller_note_edge(c, j);
        slew_recorder_tell(c, closed[j] ? SLEW_EVENT_SWITCH_OPEN : SLEW_EVENT_SWITCH_CLOSED, j,
                           m->plant.moving[j]);
    }
}

static void go_on_under(slew_course *c, const slew_plant_model *to, const slew_setup *setup)
{
    slew_machine *m = c->machine;
    bool closed[SLEW_AXES] = {m->plant.closed[0], m->plant.closed[1]};
    slew_controller_catch_up(c, m->time);
    slew_controller_transfer(c, to, setup);
    m->model = *to;
    m->setup = *setup;
    tell_edges(c, closed);
    m->holds = true;
    m->controller.acted_at = m->plant.time;
    if (m->controller.phase == SLEW_PHASE_IDLE)
        m->controller.phase = SLEW_PHASE_REST;
}

slew_status slew_machine_change(slew_machine *m, const slew_setup *setup, slew_error *error)
{
    if (m == NULL || setup == NULL)
        return slew_no_argument(error);
    slew_plant_model to;
    slew_status status = slew_plant_model_build(setup, &to, error);
    if (status == SLEW_OK)
        status = check_change(m, setup, &to, error);
    if (status != SLEW_OK)
        return status;
    slew_observer keeper;
    slew_course c = course_of(m, &keeper);
    slew_setup own = *setup; /* it may be the machine's */
    keep_the_rest(&m->model, &to);
    go_on_under(&c, &to, &own);
    return SLEW_OK;
}

slew_status slew_machine_load(slew_machine *m, int axis, double torque)
{
    if (m == NULL || axis < 0 || axis >= SLEW_AXES || !isfinite(torque))
        return SLEW_ERROR_INPUT;
    slew_observer keeper;
    slew_course c = course_of(m, &keeper);
    slew_plant_model to = m->model;
    slew_setup own = m->setup;
    slew_plant_model_load(&to, axis, torque);
    go_on_under(&c, &to, &own);
    return SLEW_OK;
}
