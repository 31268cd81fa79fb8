/*
 * ref_jumps.c - the discrete side of the machine: rest, start, stop, switch, keep-out, thresholds.
 */
#include <math.h>

#include "ref_jumps.h"

/* ---- thresholds ---- */

static void set_flag(bool *flag, double *since, bool now, double t)
{
    if (now && !*flag)
        *since = t;
    *flag = now;
}

void ref_jump(ref_plant *p)
{
    ref_motion *m = &p->motion;
    ref_electric e;
    ref_choose_source(m, p->y);
    ref_electric_at(m, p->y, &e);
    for (int a = 0; a < 2; a++)
        set_flag(&m->over[a], &p->over_since[a], m->s[a] != 0 && e.drawn[a] >= p->machine.trip,
                 p->t);
    set_flag(&m->under, &p->under_since, e.voltage < p->machine.brownout, p->t);
    m->below_floor = e.voltage < p->machine.floor;
}

/* ---- keep-out ---- */

/* bounds belong to the box; once an axis moves outwards from a bound it has left */
static bool in_range(const ref_plant *p, const slew_range *range, int axis)
{
    double x = p->y[REF_ANGLE + axis];
    int q = p->motion.q[axis];
    bool above = q < 0 ? x > range->low : x >= range->low;
    bool below = q > 0 ? x < range->high : x <= range->high;
    return above && below;
}

static void set_inside(ref_plant *p, int box, bool now)
{
    slew_event event =
        ref_event(now ? SLEW_EVENT_KEEPOUT_ENTERED : SLEW_EVENT_KEEPOUT_LEFT, SLEW_NO_AXIS, 0);
    event.box = box;
    p->inside[box] = now;
    p->told_at[box] = p->t;
    ref_plant_tell(p, event);
}

/* a box without width along a moving axis, met just now: its bounds belong to it */
static bool is_passed_through(const ref_plant *p, int box)
{
    const slew_range *r = p->keepout->box[box].axis;
    bool thin = false, within = true;
    for (int a = 0; a < 2; a++) {
        double x = p->y[REF_ANGLE + a];
        bool is_thin = p->motion.q[a] != 0 && r[a].low == r[a].high;
        thin = thin || is_thin;
        within = within && (is_thin ? x == r[a].low : in_range(p, &r[a], a));
    }
    return thin && within && p->told_at[box] < p->t;
}

static bool is_inside(const ref_plant *p, int box)
{
    const slew_range *r = p->keepout->box[box].axis;
    return in_range(p, &r[0], 0) && in_range(p, &r[1], 1);
}

/* a place that belongs to two boxes is in both before it is in none: entered before left */
void ref_plant_look_at_boxes(ref_plant *p)
{
    int count = p->keepout ? p->keepout->count : 0;
    for (int i = 0; i < count; i++)
        if (!p->inside[i] && (is_inside(p, i) || is_passed_through(p, i)))
            set_inside(p, i, true);
    for (int i = 0; i < count; i++)
        if (p->inside[i] && !is_inside(p, i))
            set_inside(p, i, false);
}

/* ---- places ahead ---- */

static double switch_edge(const ref_plant *p, int axis)
{
    const ref_axis *x = &p->machine.axis[axis];
    int q = p->motion.q[axis];
    if (!x->present || x->stuck)
        return q * (double)INFINITY;
    if (p->closed[axis])
        return x->home + q * x->release;
    return x->home - q * x->operate;
}

static void consider(double *nearest, double place, double from, int q)
{
    if (q * (place - from) > 0.0 && q * (*nearest - place) > 0.0)
        *nearest = place;
}

/* the nearest one in the direction of motion: stop, switch edge, keep-out bound */
static void set_place(ref_plant *p, int axis)
{
    const ref_axis *x = &p->machine.axis[axis];
    int q = p->motion.q[axis], boxes = p->keepout ? p->keepout->count : 0;
    p->motion.place[axis] = INFINITY;
    if (q == 0)
        return;
    double from = p->y[REF_ANGLE + axis], nearest = q * (double)INFINITY;
    consider(&nearest, q > 0 ? x->high : x->low, from, q);
    consider(&nearest, switch_edge(p, axis), from, q);
    for (int i = 0; i < boxes; i++) {
        consider(&nearest, p->keepout->box[i].axis[axis].low, from, q);
        consider(&nearest, p->keepout->box[i].axis[axis].high, from, q);
    }
    p->motion.place[axis] = nearest;
}

/* ---- motion ---- */

/* tau by its sign; where it is zero, by its sign a moment later */
static bool carries_forward(const ref_plant *p, int axis)
{
    double tau = ref_tau(&p->motion, axis, p->motion.q[axis], p->y), later[2];
    if (tau != 0.0)
        return tau > 0.0;
    for (int a = 0; a < 2; a++) {
        int own = a == axis ? p->motion.q[axis] : 0;
        double rate = p->y[REF_SPEED + a] / p->machine.axis[a].N;
        later[a] = p->y[REF_ANGLE + a] + 1e-4 * rate + 1e-6 * own;
    }
    return ref_tau(&p->motion, axis, p->motion.q[axis], later) >= 0.0;
}

static void start_motion(ref_plant *p, int axis, int direction)
{
    p->motion.q[axis] = direction;
    p->motion.forward[axis] = carries_forward(p, axis);
    ref_plant_tell(p, ref_event(SLEW_EVENT_MOVING, axis, direction));
}

static void come_to_rest(ref_plant *p, int axis)
{
    p->motion.q[axis] = 0;
    p->y[REF_SPEED + axis] = 0.0;
    ref_plant_tell(p, ref_event(SLEW_EVENT_AT_REST, axis, 0));
}

static void does_not_hold(ref_plant *p, int axis, int direction)
{
    p->does_not_hold = true;
    ref_plant_tell(p, ref_event(SLEW_EVENT_DOES_NOT_HOLD, axis, direction));
}

/* an axis at rest gives way: it starts, or that is the end */
static void give_way(ref_plant *p, int axis, bool back)
{
    int direction = ref_rest_direction(&p->motion, axis, back);
    if (p->motion.s[axis] != 0 && !back)
        start_motion(p, axis, direction);
    else
        does_not_hold(p, axis, direction);
}

/* ---- settling ---- */

/* a current that is only just rising from zero starts an axis without any friction */
static bool gives_way(const ref_plant *p, int axis, bool back)
{
    ref_electric e;
    if (!ref_rest_is_free(&p->motion, axis, back, p->y))
        return false;
    ref_electric_at(&p->motion, p->y, &e);
    double margin = ref_rest_margin(&p->motion, axis, back, p->y, &e);
    bool rising = p->motion.inductance && p->motion.s[axis] != 0 && !back;
    return margin > 0.0 || (rising && margin == 0.0);
}

static bool settle_rest(ref_plant *p, int axis)
{
    for (int back = 0; back < 2; back++) {
        if (gives_way(p, axis, back)) {
            give_way(p, axis, back);
            return true;
        }
    }
    return false;
}

static bool settle_switch(ref_plant *p, int axis)
{
    const ref_axis *x = &p->machine.axis[axis];
    int q = p->motion.q[axis];
    double at = p->y[REF_ANGLE + axis], edge = switch_edge(p, axis);
    bool passed = q * (at - edge) >= 0.0;
    if (!p->closed[axis])
        passed = passed && q * (at - x->home) < 0.0; /* not on the far side of the window */
    if (!passed)
        return false;
    p->closed[axis] = !p->closed[axis];
    ref_plant_tell(
        p, ref_event(p->closed[axis] ? SLEW_EVENT_SWITCH_CLOSED : SLEW_EVENT_SWITCH_OPEN, axis, q));
    return true;
}

static bool settle_stop(ref_plant *p, int axis)
{
    const ref_axis *x = &p->machine.axis[axis];
    int q = p->motion.q[axis];
    double stop = q > 0 ? x->high : x->low, w = p->y[REF_SPEED + axis];
    if (q * (p->y[REF_ANGLE + axis] - stop) < 0.0)
        return false;
    slew_event event = ref_event(SLEW_EVENT_STOP_CONTACT, axis, q);
    event.energy = 0.5 * x->J * w * w;
    if (p->balance)
        p->balance->stops += event.energy;
    p->motion.q[axis] = 0;
    p->y[REF_ANGLE + axis] = stop;
    ref_plant_look_at_boxes(p); /* as it comes, with its speed: a bound on the stop is met first */
    p->y[REF_SPEED + axis] = 0.0;
    ref_jump(p);
    ref_plant_tell(p, event);
    return true;
}

/* a solver's last digit must not drive an axis backwards */
static bool settle_speed(ref_plant *p, int axis)
{
    if (p->motion.q[axis] * p->y[REF_SPEED + axis] >= -1e-9)
        return false;
    come_to_rest(p, axis);
    return true;
}

static bool settle_axis(ref_plant *p, int axis)
{
    if (p->motion.q[axis] == 0)
        return settle_rest(p, axis);
    return settle_switch(p, axis) || settle_stop(p, axis) || settle_speed(p, axis);
}

void ref_plant_settle(ref_plant *p)
{
    bool more = true;
    p->motion.machine = &p->machine;
    while (more && !p->failed && !p->does_not_hold) {
        more = false;
        for (int a = 0; a < 2 && !p->does_not_hold; a++)
            more = settle_axis(p, a) || more;
    }
    ref_plant_look_at_boxes(p);
    for (int a = 0; a < 2; a++)
        set_place(p, a);
}

/* ---- roots ---- */

static void take_axis_root(ref_plant *p, int axis, int root)
{
    switch (root) {
    case REF_ROOT_REST:
        come_to_rest(p, axis);
        break;
    case REF_ROOT_KINK:
        p->motion.forward[axis] = !p->motion.forward[axis];
        break;
    case REF_ROOT_PLACE:
        p->y[REF_ANGLE + axis] = p->motion.place[axis];
        break;
    case REF_ROOT_TRIP:
        set_flag(&p->motion.over[axis], &p->over_since[axis], !p->motion.over[axis], p->t);
        break;
    default:
        give_way(p, axis, root == REF_ROOT_BACK);
    }
}

void ref_take_root(ref_plant *p, int root)
{
    if (root < REF_ROOT_SOURCE)
        take_axis_root(p, root / REF_ROOTS_PER_AXIS, root % REF_ROOTS_PER_AXIS);
    else if (root == REF_ROOT_SOURCE)
        p->motion.joint = !p->motion.joint;
    else if (root == REF_ROOT_BROWNOUT)
        set_flag(&p->motion.under, &p->under_since, !p->motion.under, p->t);
    else
        p->motion.below_floor = !p->motion.below_floor;
}
