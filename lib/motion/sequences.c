/* sequences.c - search, timed moves and homing of the built-in controller, M6. */
#include "motion/controller.h"

/* ---- search ---- */

static bool found(slew_controller *c, int axis)
{
    slew_recorder_event(c->recorder, c->plant,
                        (slew_event){.kind = SLEW_EVENT_HOME_FOUND, .axis = axis, .box = -1});
    slew_controller_off(c, axis);
    return true;
}

static bool start_leg(slew_controller *c, int axis, int direction)
{
    if (!slew_controller_pause(c))
        return false;
    slew_controller_on(c, axis, direction, true);
    return true;
}

/* drives on past the opening edge and some more; a stall is a stop and ends it too */
static bool leave_window(slew_controller *c, int axis)
{
    int stalled;
    slew_wait_end end;
    do
        end = slew_controller_wait(c, INFINITY, &stalled);
    while (end == SLEW_WAIT_CLOSED);
    double until = c->plant->time + c->setup->axis[axis].overrun;
    while (end == SLEW_WAIT_OPENED || end == SLEW_WAIT_CLOSED)
        end = slew_controller_wait(c, until, &stalled);
    if (end == SLEW_WAIT_OVER)
        return false;
    slew_controller_off(c, axis);
    return true;
}

static bool come_back(slew_controller *c, int axis, int direction)
{
    int stalled;
    if (!start_leg(c, axis, direction))
        return false;
    for (;;) {
        switch (slew_controller_wait(c, INFINITY, &stalled)) {
        case SLEW_WAIT_CLOSED:
            return found(c, axis);
        case SLEW_WAIT_STALLED:
            return slew_controller_fail(c, SLEW_FAULT_HOME_NOT_FOUND, axis);
        case SLEW_WAIT_OVER:
            return false;
        default:
            break;
        }
    }
}

/* commanded direction in which an edge counts; 0: either */
static int approach_direction(const slew_axis_setup *setup)
{
    switch (setup->approach) {
    case SLEW_APPROACH_RISING:
        return 1;
    case SLEW_APPROACH_FALLING:
        return -1;
    default:
        return 0;
    }
}

bool slew_controller_search(slew_controller *c, int axis)
{
    const slew_axis_setup *setup = &c->setup->axis[axis];
    int approach = approach_direction(setup), direction = setup->search, stalled;
    for (int stalls = 0; stalls < 2;) {
        /* found without moving needs no pause */
        if (approach == 0 && c->plant->closed[axis])
            return slew_controller_settle(c) && found(c, axis);
        if (!slew_controller_pause(c))
            return false;
        bool closed = c->plant->closed[axis];
        if (closed && approach == 0)
            return found(c, axis);
        slew_controller_on(c, axis, closed ? -approach : direction, true);
        slew_wait_end end = SLEW_WAIT_CLOSED;
        if (!closed)
            do
                end = slew_controller_wait(c, INFINITY, &stalled);
            while (end == SLEW_WAIT_OPENED);
        if (end == SLEW_WAIT_OVER)
            return false;
        if (end == SLEW_WAIT_CLOSED) {
            if (!closed && (approach == 0 || approach == direction))
                return found(c, axis);
            return leave_window(c, axis) && come_back(c, axis, approach);
        }
        stalls++;
        if (stalls < 2)
            slew_controller_off(c, axis);
        direction = -direction;
    }
    return slew_controller_fail(c, SLEW_FAULT_HOME_NOT_FOUND, axis);
}

/* ---- timed moves ---- */

static bool stopped_short(slew_controller *c, int axis)
{
    const slew_plant *plant = c->plant;
    const slew_plant_axis *a = &c->model->axis[axis];
    bool up = plant->drive[axis] * a->sign > 0;
    bool on_stop =
        !plant->moving[axis] && plant->angle[axis] == (up ? a->stops.high : a->stops.low);
    return slew_controller_fail(c, on_stop ? SLEW_FAULT_HARD_STOP : SLEW_FAULT_OVERLOAD, axis);
}

/* both axes of `seconds` that are not 0, from one start */
static bool move_at_once(slew_controller *c, const double seconds[SLEW_AXES])
{
    if (seconds[0] == 0 && seconds[1] == 0)
        return true;
    if (!slew_controller_pause(c))
        return false;
    double start = c->plant->time, end_at[SLEW_AXES];
    for (int j = 0; j < SLEW_AXES; j++) {
        end_at[j] = start + fabs(seconds[j]);
        if (seconds[j] != 0)
            slew_controller_on(c, j, seconds[j] > 0 ? 1 : -1, false);
    }
    while (c->plant->drive[0] || c->plant->drive[1]) {
        double until = INFINITY;
        for (int j = 0; j < SLEW_AXES; j++)
            if (c->plant->drive[j])
                until = fmin(until, end_at[j]);
        int stalled;
        slew_wait_end end = slew_controller_wait(c, until, &stalled);
        if (end == SLEW_WAIT_STALLED)
            return stopped_short(c, stalled);
        if (end == SLEW_WAIT_OVER)
            return false;
        for (int j = 0; j < SLEW_AXES; j++)
            if (c->plant->drive[j] && end_at[j] <= until)
                slew_controller_off(c, j);
    }
    return true;
}

static bool move_alone(slew_controller *c, int axis, double seconds)
{
    double alone[SLEW_AXES] = {0, 0};
    alone[axis] = seconds;
    return move_at_once(c, alone);
}

bool slew_controller_move(slew_controller *c, const double seconds[SLEW_AXES], slew_order order)
{
    if (order == SLEW_TOGETHER)
        return move_at_once(c, seconds);
    int first = order == SLEW_ELEVATION_FIRST ? SLEW_ELEVATION : SLEW_ROTATION, second = !first;
    return move_alone(c, first, seconds[first]) && move_alone(c, second, seconds[second]);
}

/* ---- homing ---- */

bool slew_controller_home(slew_controller *c, const slew_stow *stow)
{
    int first = stow->home_order == SLEW_ELEVATION_FIRST ? SLEW_ELEVATION : SLEW_ROTATION;
    return move_alone(c, SLEW_ELEVATION, stow->lift_first) && slew_controller_search(c, first) &&
           slew_controller_search(c, !first);
}
