/*
 * ref_sequence.c - timed moves, and the search for home with its approach rules.
 */
#include <math.h>

#include "ref_controller.h"

/* ---- timed moves ---- */

/* a stall ends it all: on the stop in the direction of drive, or elsewhere */
static void stalled_by_time(ref_controller *c, int axis)
{
    bool on_stop = ref_plant_on_stop(&c->plant, axis) == c->plant.motion.s[axis];
    ref_fault(c, on_stop ? SLEW_FAULT_HARD_STOP : SLEW_FAULT_OVERLOAD, axis);
}

static void start_moves(ref_controller *c, const double seconds[2], double end[2])
{
    for (int a = 0; a < 2; a++) {
        end[a] = INFINITY;
        if (seconds[a] == 0.0)
            continue;
        ref_drive_on(c, a, seconds[a] > 0.0 ? 1 : -1);
        end[a] = c->plant.t + fabs(seconds[a]);
    }
}

static void end_moves(ref_controller *c, double end[2])
{
    for (int a = 0; a < 2; a++) {
        if (end[a] > c->plant.t)
            continue;
        end[a] = INFINITY;
        ref_drive_off(c, a);
    }
}

bool ref_timed_moves(ref_controller *c, const double seconds[2])
{
    double end[2];
    if (seconds[0] == 0.0 && seconds[1] == 0.0)
        return true;
    if (!ref_wait_for_pause(c))
        return false;
    start_moves(c, seconds, end);
    while (c->drive[0] != 0 || c->drive[1] != 0) {
        ref_signal signal = ref_wait(c, fmin(end[0], end[1]));
        if (signal == REF_SIGNAL_STALL)
            stalled_by_time(c, c->signal_axis);
        if (signal == REF_SIGNAL_STALL || signal == REF_SIGNAL_OVER)
            return false;
        if (signal == REF_SIGNAL_TIME)
            end_moves(c, end);
    }
    return true;
}

bool ref_ordered_moves(ref_controller *c, const double seconds[2], slew_order order)
{
    double rotation[2] = {seconds[0], 0.0}, elevation[2] = {0.0, seconds[1]};
    if (order == SLEW_TOGETHER)
        return ref_timed_moves(c, seconds);
    if (order == SLEW_ROTATION_FIRST)
        return ref_timed_moves(c, rotation) && ref_timed_moves(c, elevation);
    return ref_timed_moves(c, elevation) && ref_timed_moves(c, rotation);
}

/* ---- search ---- */

typedef enum leg_end { LEG_FOUND, LEG_STOP, LEG_LEFT, LEG_OVER } leg_end;

static leg_end found(ref_controller *c, int axis)
{
    ref_tell(c, SLEW_EVENT_HOME_FOUND, axis, 0);
    if (c->drive[axis] != 0)
        ref_drive_off(c, axis);
    return LEG_FOUND;
}

/* driven away from a window: on to the opening edge, then the overrun; or to a stop */
static leg_end leave(ref_controller *c, int axis)
{
    double deadline = INFINITY;
    for (;;) {
        ref_signal signal = ref_wait(c, deadline);
        if (signal == REF_SIGNAL_OVER)
            return LEG_OVER;
        if (signal == REF_SIGNAL_TIME || signal == REF_SIGNAL_STALL)
            break;
        if (!c->signal_closed && isinf(deadline))
            deadline = c->plant.t + c->setup->axis[axis].overrun;
    }
    ref_drive_off(c, axis);
    return LEG_LEFT;
}

/* driven until a closing edge; one met the wrong way is left behind */
static leg_end look(ref_controller *c, int axis, int accept)
{
    for (;;) {
        ref_signal signal = ref_wait(c, INFINITY);
        if (signal == REF_SIGNAL_OVER)
            return LEG_OVER;
        if (signal == REF_SIGNAL_STALL)
            return LEG_STOP;
        if (!c->signal_closed)
            continue;
        return accept == 0 || accept == c->drive[axis] ? found(c, axis) : leave(c, axis);
    }
}

/* driven in the accepted direction, after leaving */
static bool come_back(ref_controller *c, int axis, int accept)
{
    if (!ref_wait_for_pause(c))
        return false;
    ref_drive_on(c, axis, accept);
    leg_end end = look(c, axis, accept);
    if (end == LEG_STOP)
        ref_fault(c, SLEW_FAULT_HOME_NOT_FOUND, axis);
    return end == LEG_FOUND;
}

/* one leg that looks; a closed switch is left behind, or found at once: that needs no pause */
static leg_end look_leg(ref_controller *c, int axis, int direction, int accept)
{
    if (accept == 0 && c->plant.closed[axis])
        return ref_wait(c, c->plant.t) == REF_SIGNAL_TIME ? found(c, axis) : LEG_OVER;
    if (!ref_wait_for_pause(c))
        return LEG_OVER;
    if (!c->plant.closed[axis]) {
        ref_drive_on(c, axis, direction);
        return look(c, axis, accept);
    }
    if (accept == 0)
        return found(c, axis);
    ref_drive_on(c, axis, -accept);
    return leave(c, axis);
}

static int accepted_direction(slew_approach approach)
{
    return approach == SLEW_APPROACH_RISING ? 1 : approach == SLEW_APPROACH_FALLING ? -1 : 0;
}

bool ref_search(ref_controller *c, int axis)
{
    int direction = c->setup->axis[axis].search;
    int accept = accepted_direction(c->setup->axis[axis].approach);
    leg_end end = look_leg(c, axis, direction, accept);
    if (end == LEG_STOP) {
        ref_drive_off(c, axis);
        end = look_leg(c, axis, -direction, accept);
    }
    if (end == LEG_STOP)
        ref_fault(c, SLEW_FAULT_HOME_NOT_FOUND, axis);
    if (end == LEG_LEFT)
        return come_back(c, axis, accept);
    return end == LEG_FOUND;
}

bool ref_home_all(ref_controller *c, const slew_stow *stow)
{
    double lift[2] = {0.0, stow->lift_first};
    int first = stow->home_order == SLEW_ROTATION_FIRST ? SLEW_ROTATION : SLEW_ELEVATION;
    return ref_timed_moves(c, lift) && ref_search(c, first) && ref_search(c, 1 - first);
}
