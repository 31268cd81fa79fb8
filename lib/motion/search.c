/* search.c - the search for home on one axis, M6.5. */
#include "motion/sequences.h"

static void wait_for(slew_machine *m, slew_phase phase, double until)
{
    m->controller.phase = (int)phase;
    m->controller.wait_until = until;
}

static void pause_before(slew_course *c, slew_phase phase)
{
    slew_machine *m = c->machine;
    m->controller.phase = (int)phase;
    slew_controller_wait_blind(m, slew_controller_pause_end(c));
}

static void find(slew_course *c)
{
    int axis = c->machine->controller.axis;
    slew_recorder_tell(c, SLEW_EVENT_HOME_FOUND, axis, 0);
    slew_controller_off(c, axis);
    slew_sequence_next_leg(c);
}

/* commanded direction in which an edge counts; 0: either */
static int approach_of(const slew_course *c)
{
    switch (c->setup->axis[c->machine->controller.axis].approach) {
    case SLEW_APPROACH_RISING:
        return 1;
    case SLEW_APPROACH_FALLING:
        return -1;
    default:
        return 0;
    }
}

/* a leg that looks: found without moving, it needs no pause */
static void begin_leg(slew_course *c)
{
    slew_machine *m = c->machine;
    if (approach_of(c) == 0 && m->plant.closed[m->controller.axis]) {
        m->controller.phase = SLEW_PHASE_SETTLE;
        slew_controller_wait_blind(m, m->plant.time);
    } else {
        pause_before(c, SLEW_PHASE_LOOK_PAUSE);
    }
}

void slew_search_begin(slew_course *c, int axis)
{
    slew_machine *m = c->machine;
    m->controller.axis = axis;
    m->controller.direction = c->setup->axis[axis].search;
    m->controller.stalls = 0;
    begin_leg(c);
}

static void drive_to_look(slew_course *c)
{
    slew_machine *m = c->machine;
    const slew_controller *k = &m->controller;
    int approach = approach_of(c);
    bool closed = m->plant.closed[k->axis];
    if (closed && approach == 0) {
        find(c);
        return;
    }
    slew_controller_on(c, k->axis, closed ? -approach : k->direction, true);
    wait_for(m, closed ? SLEW_PHASE_LEAVE : SLEW_PHASE_LOOK, INFINITY);
}

static void meet_edge(slew_course *c)
{
    slew_machine *m = c->machine;
    int approach = approach_of(c);
    if (approach == 0 || approach == m->controller.direction)
        find(c);
    else
        wait_for(m, SLEW_PHASE_LEAVE, INFINITY);
}

/* a stall while looking: the other way, once */
static void turn_round(slew_course *c)
{
    slew_machine *m = c->machine;
    slew_controller *k = &m->controller;
    if (++k->stalls == 2) {
        slew_sequence_fail(c, SLEW_FAULT_HOME_NOT_FOUND, k->axis);
        return;
    }
    slew_controller_off(c, k->axis);
    k->direction = -k->direction;
    begin_leg(c);
}

static void look(slew_course *c, slew_wait_end end)
{
    if (end == SLEW_WAIT_CLOSED)
        meet_edge(c);
    else if (end == SLEW_WAIT_STALLED)
        turn_round(c);
}

/* past the opening edge and some more; a stall is a stop and ends it too */
static void leave(slew_course *c, slew_wait_end end)
{
    slew_machine *m = c->machine;
    slew_controller *k = &m->controller;
    bool opened = k->phase == SLEW_PHASE_LEAVE && end == SLEW_WAIT_OPENED;
    if (opened) {
        wait_for(m, SLEW_PHASE_OVERRUN, m->plant.time + c->setup->axis[k->axis].overrun);
    } else if (end == SLEW_WAIT_STALLED || end == SLEW_WAIT_TIME) {
        slew_controller_off(c, k->axis);
        pause_before(c, SLEW_PHASE_BACK_PAUSE);
    }
}

static void come_back(slew_course *c, slew_wait_end end)
{
    if (end == SLEW_WAIT_CLOSED)
        find(c);
    else if (end == SLEW_WAIT_STALLED)
        slew_sequence_fail(c, SLEW_FAULT_HOME_NOT_FOUND, c->machine->controller.axis);
}

void slew_search_go_on(slew_course *c, slew_wait_end end)
{
    slew_machine *m = c->machine;
    switch ((slew_phase)m->controller.phase) {
    case SLEW_PHASE_SETTLE:
        find(c);
        break;
    case SLEW_PHASE_LOOK_PAUSE:
        drive_to_look(c);
        break;
    case SLEW_PHASE_LOOK:
        look(c, end);
        break;
    case SLEW_PHASE_LEAVE:
    case SLEW_PHASE_OVERRUN:
        leave(c, end);
        break;
    case SLEW_PHASE_BACK_PAUSE:
        slew_controller_on(c, m->controller.axis, approach_of(c), true);
        wait_for(m, SLEW_PHASE_BACK, INFINITY);
        break;
    default:
        come_back(c, end);
    }
}
