/*
 * ref_controller.c - what the controller watches by time: cancel, brownout, stall, sensors, limits.
 */
#include <math.h>
#include <string.h>

#include "ref_controller.h"

#define REST_LIMIT 60.0

void ref_controller_start(ref_controller *c, const slew_setup *setup)
{
    c->setup = setup;
    c->off_at = -INFINITY;
    c->cancel_at = INFINITY;
    c->watches_brownout = true;
    c->fault = SLEW_FAULT_NONE;
    c->fault_axis = SLEW_NO_AXIS;
    c->first_on_at = NAN;
    for (int a = 0; a < 2; a++) {
        c->act_at[a] = c->sample_at[a] = INFINITY;
        c->known[a] = c->seen[a] = c->plant.closed[a];
    }
}

/* ---- drives ---- */

void ref_tell(ref_controller *c, slew_event_kind kind, int axis, int direction)
{
    ref_plant_tell(&c->plant, ref_event(kind, axis, direction));
}

void ref_drive_on(ref_controller *c, int axis, int direction)
{
    double t = c->plant.t;
    c->drive[axis] = direction;
    c->on_at[axis] = t;
    c->declared[axis] = false;
    c->act_at[axis] = c->sample_at[axis] = INFINITY;
    c->edges[axis].count = 0;
    c->known[axis] = c->seen[axis] = c->plant.closed[axis];
    if (isnan(c->first_on_at))
        c->first_on_at = t;
    ref_plant_drive(&c->plant, axis, direction);
    ref_tell(c, SLEW_EVENT_DRIVE_ON, axis, direction);
}

void ref_drive_off(ref_controller *c, int axis)
{
    int direction = c->drive[axis];
    c->drive[axis] = 0;
    c->act_at[axis] = c->sample_at[axis] = INFINITY;
    c->edges[axis].count = 0;
    c->off_at = c->plant.t;
    ref_plant_drive(&c->plant, axis, 0);
    ref_tell(c, SLEW_EVENT_DRIVE_OFF, axis, direction);
}

void ref_fault(ref_controller *c, slew_fault fault, int axis)
{
    for (int a = 0; a < 2; a++)
        if (c->drive[a] != 0)
            ref_drive_off(c, a);
    slew_event event = ref_event(SLEW_EVENT_FAULT, axis, 0);
    event.fault = c->fault = fault;
    c->fault_axis = axis;
    c->fault_at = c->plant.t;
    ref_plant_tell(&c->plant, event);
}

/* ---- timers: when each is due, INFINITY: not ---- */

static double brownout_due(const ref_controller *c)
{
    if (!c->watches_brownout || !c->plant.motion.under)
        return INFINITY;
    return c->plant.under_since + c->setup->controller.brownout_dwell;
}

static double declaration_due(const ref_controller *c, int axis)
{
    const slew_controller_settings *k = &c->setup->controller;
    if (c->drive[axis] == 0 || c->declared[axis] || !c->plant.motion.over[axis])
        return INFINITY;
    return fmax(c->plant.over_since[axis], c->on_at[axis] + k->stall_blank) + k->stall_dwell;
}

static double edge_due(const ref_controller *c, int axis)
{
    return c->edges[axis].count > 0 ? c->edges[axis].at[0] : INFINITY;
}

static double limit_due(const ref_controller *c, int axis)
{
    return c->drive[axis] ? c->on_at[axis] + c->setup->controller.move_limit : INFINITY;
}

static double load_due(const ref_controller *c, int axis)
{
    return c->drive[axis] ? c->on_at[axis] + c->setup->controller.stall_blank : INFINITY;
}

static double next_due(const ref_controller *c, double deadline)
{
    double next = fmin(fmin(deadline, c->cancel_at), brownout_due(c));
    for (int a = 0; a < 2; a++) {
        next = fmin(next, fmin(declaration_due(c, a), c->act_at[a]));
        next = fmin(next, fmin(c->sample_at[a], edge_due(c, a)));
        next = fmin(next, limit_due(c, a));
        if (load_due(c, a) > c->plant.t)
            next = fmin(next, load_due(c, a));
    }
    return next;
}

/* ---- supervision at one instant, in its order ---- */

static bool brings_fault(ref_controller *c)
{
    double t = c->plant.t;
    if (c->cancel_at <= t) {
        ref_fault(c, SLEW_FAULT_CANCELLED, SLEW_NO_AXIS);
        return true;
    }
    if (brownout_due(c) <= t) {
        ref_tell(c, SLEW_EVENT_BROWNOUT, SLEW_NO_AXIS, 0);
        if (c->plant.motion.below_floor)
            c->plant.meters.below_floor = true;
        ref_fault(c, SLEW_FAULT_UNDERVOLTAGE, SLEW_NO_AXIS);
        return true;
    }
    return false;
}

static void declare_stalls(ref_controller *c)
{
    for (int a = 0; a < 2; a++) {
        if (declaration_due(c, a) > c->plant.t)
            continue;
        c->declared[a] = true;
        c->act_at[a] = c->plant.t + c->setup->controller.latency;
        ref_tell(c, SLEW_EVENT_STALL, a, c->drive[a]);
    }
}

static bool brings_stall(ref_controller *c)
{
    for (int a = 0; a < 2; a++) {
        if (c->act_at[a] > c->plant.t)
            continue;
        c->act_at[a] = INFINITY;
        c->signal_axis = a;
        return true;
    }
    return false;
}

static void look_at_sensors(ref_controller *c)
{
    for (int a = 0; a < 2; a++) {
        ref_edges *e = &c->edges[a];
        if (c->sample_at[a] > c->plant.t)
            continue;
        c->sample_at[a] = INFINITY;
        if (c->plant.closed[a] == c->known[a] || e->count == REF_EDGES)
            continue;
        c->known[a] = c->plant.closed[a];
        e->at[e->count] = c->plant.t + c->setup->controller.latency;
        e->closed[e->count++] = c->known[a];
    }
}

static bool brings_edge(ref_controller *c)
{
    for (int a = 0; a < 2; a++) {
        ref_edges *e = &c->edges[a];
        if (edge_due(c, a) > c->plant.t)
            continue;
        c->signal_axis = a;
        c->signal_closed = e->closed[0];
        e->count--;
        memmove(e->at, e->at + 1, sizeof e->at - sizeof e->at[0]);
        memmove(e->closed, e->closed + 1, sizeof e->closed - sizeof e->closed[0]);
        return true;
    }
    return false;
}

static bool brings_timeout(ref_controller *c)
{
    for (int a = 0; a < 2; a++) {
        if (limit_due(c, a) <= c->plant.t) {
            ref_fault(c, SLEW_FAULT_TIMEOUT, a);
            return true;
        }
    }
    return false;
}

/* false: nothing for a sequence at this instant */
static bool look_at_instant(ref_controller *c, double deadline, ref_signal *signal)
{
    *signal = REF_SIGNAL_OVER;
    if (brings_fault(c))
        return true;
    declare_stalls(c);
    *signal = REF_SIGNAL_STALL;
    if (brings_stall(c))
        return true;
    look_at_sensors(c);
    *signal = REF_SIGNAL_EDGE;
    if (brings_edge(c))
        return true;
    *signal = REF_SIGNAL_TIME;
    if (deadline <= c->plant.t)
        return true;
    *signal = REF_SIGNAL_OVER;
    if (brings_timeout(c))
        return true;
    *signal = REF_SIGNAL_REST;
    return c->waits_for_rest && !ref_plant_moves(&c->plant);
}

/* ---- what the plant shows ---- */

/* an axis is driven for longer than its blank time; a drive that ends with it has not been */
static void note_load(ref_controller *c, bool instant_is_over)
{
    double first = fmin(load_due(c, 0), load_due(c, 1));
    c->plant.loaded = first < c->plant.t || (instant_is_over && first == c->plant.t);
}

static void note_low_voltage(ref_controller *c)
{
    const ref_plant *p = &c->plant;
    if (p->loaded && p->motion.below_floor && !c->told_low_voltage) {
        c->told_low_voltage = true;
        ref_tell(c, SLEW_EVENT_LOW_VOLTAGE, SLEW_NO_AXIS, 0);
    }
}

/* an edge met while driven is looked at on the first instant of the grid that is not before it */
static void note_edges(ref_controller *c)
{
    double dt = c->setup->controller.sample, t = c->plant.t;
    for (int a = 0; a < 2; a++) {
        if (c->drive[a] == 0 || c->plant.closed[a] == c->seen[a])
            continue;
        c->seen[a] = c->plant.closed[a];
        c->sample_at[a] = fmin(c->sample_at[a], dt > 0.0 ? fmax(t, dt * ceil(t / dt)) : t);
    }
}

/* ---- waiting ---- */

ref_signal ref_wait(ref_controller *c, double deadline)
{
    ref_signal signal;
    ref_plant *p = &c->plant;
    for (;;) {
        ref_plant_settle(p);
        note_load(c, false);
        if (p->does_not_hold || p->failed)
            return REF_SIGNAL_OVER;
        note_edges(c);
        note_low_voltage(c);
        if (look_at_instant(c, deadline, &signal))
            return signal;
        note_load(c, true);
        note_low_voltage(c);
        ref_plant_advance(p, next_due(c, deadline));
    }
}

static void still_moves(ref_controller *c)
{
    int axis = c->plant.motion.q[0] ? 0 : 1;
    c->plant.does_not_hold = true;
    ref_tell(c, SLEW_EVENT_DOES_NOT_HOLD, axis, c->plant.motion.q[axis]);
}

bool ref_wait_for_rest(ref_controller *c)
{
    c->waits_for_rest = true;
    ref_signal signal = ref_wait(c, c->plant.t + REST_LIMIT);
    c->waits_for_rest = false;
    if (signal == REF_SIGNAL_TIME)
        still_moves(c);
    return signal == REF_SIGNAL_REST;
}

bool ref_wait_for_pause(ref_controller *c)
{
    return ref_wait(c, c->off_at + c->setup->controller.pause) == REF_SIGNAL_TIME;
}
