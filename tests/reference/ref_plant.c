/*
 * ref_plant.c - lets the machine run from event to event, and reads the meters on the way.
 */
#include <math.h>
#include <string.h>

#include "ref_jumps.h"
#include "ref_plant.h"

/* ---- telling ---- */

slew_event ref_event(slew_event_kind kind, int axis, int direction)
{
    return (slew_event){
        .kind = kind, .axis = axis, .direction = direction, .fault = SLEW_FAULT_NONE, .box = -1};
}

void ref_plant_tell(ref_plant *p, slew_event event)
{
    ref_electric e;
    if (!p->log)
        return;
    p->motion.machine = &p->machine;
    ref_electric_at(&p->motion, p->y, &e);
    event.time = p->t;
    event.angle[0] = p->y[REF_ANGLE];
    event.angle[1] = p->y[REF_ANGLE + 1];
    event.voltage = e.voltage;
    event.current = e.sum;
    ref_log_event(p->log, &event);
}

/* ---- start and change ---- */

static bool within(double x, double width)
{
    return fabs(x) <= width;
}

void ref_plant_start(ref_plant *p, const ref_machine *machine, const double angle[2],
                     const ref_options *options, ref_stepper *stepper)
{
    memset(p, 0, sizeof *p);
    p->machine = *machine;
    p->motion.machine = &p->machine;
    p->motion.inductance = options->inductance;
    p->motion.states = stepper->states;
    p->stepper = stepper;
    p->meters.lowest = p->meters.lowest_loaded = INFINITY;
    for (int a = 0; a < 2; a++) {
        const ref_axis *x = &p->machine.axis[a];
        p->y[REF_ANGLE + a] = angle[a];
        p->motion.L[a] = options->inductance_h[a];
        p->motion.place[a] = INFINITY;
        p->closed[a] = x->present && (x->stuck || within(angle[a] - x->home, x->operate));
    }
    ref_jump(p);
}

void ref_plant_open_book(ref_plant *p, ref_balance *balance)
{
    p->balance = balance;
    p->lifted_from = ref_energy_potential(&p->machine, p->y);
}

void ref_plant_close_book(ref_plant *p)
{
    if (!p->balance)
        return;
    double now = ref_energy_potential(&p->machine, p->y), gain = now - p->lifted_from;
    p->balance->lifted += gain;
    p->balance->turned += fabs(gain);
    p->balance->kinetic = ref_energy_kinetic(&p->machine, p->y);
    p->lifted_from = now;
}

void ref_plant_change(ref_plant *p, const ref_machine *machine)
{
    bool changed[2];
    ref_plant_close_book(p);
    p->machine = *machine;
    p->motion.machine = &p->machine;
    p->lifted_from = ref_energy_potential(machine, p->y);
    for (int a = 0; a < 2; a++) {
        const ref_axis *x = &p->machine.axis[a];
        double off = fabs(p->y[REF_ANGLE + a] - x->home);
        bool near = off <= x->operate || (p->closed[a] && off < x->release);
        bool before = p->closed[a];
        p->closed[a] = x->present && (x->stuck || near);
        changed[a] = p->closed[a] != before;
    }
    ref_jump(p);
    for (int a = 0; a < 2; a++)
        if (changed[a])
            ref_plant_tell(
                p, ref_event(p->closed[a] ? SLEW_EVENT_SWITCH_CLOSED : SLEW_EVENT_SWITCH_OPEN, a,
                             p->motion.q[a]));
}

void ref_plant_drive(ref_plant *p, int axis, int direction)
{
    p->motion.machine = &p->machine;
    p->motion.s[axis] = direction * (int)p->machine.axis[axis].sign;
    p->motion.over[axis] = false;
    if (direction == 0 && p->motion.inductance && !p->machine.brake)
        p->y[REF_CURRENT + axis] = 0.0;
    ref_jump(p);
}

bool ref_plant_moves(const ref_plant *p)
{
    return p->motion.q[0] != 0 || p->motion.q[1] != 0;
}

int ref_plant_on_stop(const ref_plant *p, int axis)
{
    const ref_axis *x = &p->machine.axis[axis];
    double angle = p->y[REF_ANGLE + axis];
    if (p->motion.q[axis] != 0)
        return 0;
    return angle >= x->high ? 1 : angle <= x->low ? -1 : 0;
}

/* ---- meters ---- */

static void read_at(ref_plant *p, const double y[])
{
    ref_electric e;
    ref_electric_at(&p->motion, y, &e);
    p->meters.lowest = fmin(p->meters.lowest, e.voltage);
    p->meters.peak = fmax(p->meters.peak, e.sum);
    if (!p->loaded)
        return;
    p->meters.lowest_loaded = fmin(p->meters.lowest_loaded, e.voltage);
    if (e.voltage < p->machine.floor)
        p->meters.below_floor = true;
}

void ref_plant_read_meters(ref_plant *p)
{
    p->motion.machine = &p->machine;
    read_at(p, p->y);
}

/* ---- advance ---- */

/* nothing changes by itself */
static bool is_still(const ref_plant *p)
{
    return !ref_plant_moves(p) && !p->motion.inductance;
}

/* along the tangent: for lapses that are nothing to a solver, or when all stands still */
static void glide(ref_plant *p, double until)
{
    double dy[REF_STATES] = {0};
    ref_rates(&p->motion, p->y, dy);
    if (p->balance)
        ref_energy_add(p->balance, &p->motion, p->y, until - p->t);
    for (int i = 0; i < p->motion.states; i++)
        p->y[i] += dy[i] * (until - p->t);
    p->t = until;
}

static void integrate(ref_plant *p, double until)
{
    double peak[REF_STATES];
    ref_stepper *st = p->stepper;
    ref_step_end end = REF_STEP_GOES_ON;
    if (!ref_stepper_begin(st, &p->motion, p->t, p->y, until))
        p->failed = true;
    while (!p->failed && end == REF_STEP_GOES_ON) {
        end = ref_stepper_step(st, until);
        p->failed = end == REF_STEP_FAILED;
        if (!p->failed && p->balance)
            ref_energy_step(p->balance, st);
        if (!p->failed && ref_stepper_current_peak(st, peak))
            read_at(p, peak);
    }
    p->t = end == REF_STEP_STOP ? until : st->t;
    memcpy(p->y, st->y, sizeof *p->y * (size_t)st->states);
    for (int i = 0; !p->failed && end == REF_STEP_ROOT && i < REF_ROOTS; i++)
        if (st->found[i])
            ref_take_root(p, i);
}

void ref_plant_advance(ref_plant *p, double until)
{
    if (p->failed || p->does_not_hold || !(until > p->t))
        return;
    p->motion.machine = &p->machine;
    ref_plant_read_meters(p);
    if (is_still(p) || until - p->t < 1e-12)
        glide(p, until);
    else
        integrate(p, until);
    if (!p->failed)
        ref_plant_read_meters(p);
}
