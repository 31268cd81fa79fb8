/* supervision.c - what is due when, and waiting for it; see controller.h. */
#include "motion/controller.h"

#include "motion/least.h"
#include "motion/progress.h"

#include <assert.h>

static const double rest_limit = 60; /* an axis that moves longer after its drive went off [s] */

/* ---- home sensor ---- */

static slew_wait_end act_on_edge(slew_course *c)
{
    slew_controller *k = &c->machine->controller;
    if (k->edge_count == 0)
        slew_controller_see(c, c->machine->plant.closed[k->sensor]);
    bool closed = k->edge[0].closed;
    k->edge_count--;
    for (int i = 0; i < k->edge_count; i++)
        k->edge[i] = k->edge[i + 1];
    return closed ? SLEW_WAIT_CLOSED : SLEW_WAIT_OPENED;
}

/* ---- going on ---- */

/* a sample on the grid, of a copy of the plant */
static void sample_at(slew_course *c, double time)
{
    slew_plant there = c->machine->plant;
    slew_plant_event event;
    slew_plant_progress(c->model, &there, slew_larger(time, there.time), INFINITY, true, &event);
    slew_recorder_sample(c, &there, true);
}

/* a plant that stood just before it met a stop, for the trace */
static void sample_before_contact(slew_course *c, slew_plant before)
{
    const slew_machine *m = c->machine;
    double time = slew_larger(before.time, m->plant.time - 1e-9);
    slew_plant_advance(c->model, &before, time);
    slew_recorder_sample(c, &before, false);
}

static void note_plant_event(slew_course *c, slew_plant_event event)
{
    slew_machine *m = c->machine;
    slew_recorder_plant_event(c, event);
    if (event.kind == SLEW_PLANT_DOES_NOT_HOLD)
        m->holds = false;
    if (event.kind == SLEW_PLANT_GAVE_UP)
        m->gave_up = true;
    if (event.kind == SLEW_PLANT_SWITCH_CLOSED || event.kind == SLEW_PLANT_SWITCH_OPEN)
        slew_controller_note_edge(c, event.axis);
}

/* comparators change by what the plant tells, or are heard again */
static void end_span(slew_course *c, slew_plant_event_kind told)
{
    slew_machine *m = c->machine;
    m->underway = false;
    slew_recorder_span(&m->recorded, &m->plant.span, slew_controller_is_loaded(m),
                       c->model->watch_voltage[0]);
    if (told == SLEW_PLANT_NOTHING)
        slew_controller_hear(c);
    else
        slew_controller_compare(m);
}

/* Advances the plant to `until` or to its next event. false: neither comes before the horizon. */
static bool go_on(slew_course *c, double until, double horizon, slew_plant_event *event)
{
    slew_machine *m = c->machine;
    if (!slew_plant_progress(c->model, &m->plant, until, horizon, !m->underway, event)) {
        m->underway = true;
        return false;
    }
    end_span(c, event->kind);
    return true;
}

/* The same, with the samples that are due on the way. They are taken of copies. */
static bool go_on_sampled(slew_course *c, double until, double horizon, slew_plant_event *event)
{
    slew_plant before = c->machine->plant;
    double sample = slew_recorder_next_sample(c);
    while (!go_on(c, until, slew_smaller(horizon, sample), event)) {
        if (sample > horizon)
            return false;
        sample_at(c, sample);
        if (c->stopped)
            return false;
        sample = slew_recorder_next_sample(c);
    }
    if (event->kind == SLEW_PLANT_STOP_CONTACT)
        sample_before_contact(c, before);
    if (event->kind != SLEW_PLANT_NOTHING || sample == until)
        slew_recorder_sample(c, &c->machine->plant, event->kind == SLEW_PLANT_NOTHING);
    return true;
}

static bool advance(slew_course *c, double until, double horizon, slew_plant_event *event)
{
    bool done = slew_recorder_is_sampled(c) ? go_on_sampled(c, until, horizon, event)
                                            : go_on(c, until, horizon, event);
    if (!done)
        return false;
    if (event->kind != SLEW_PLANT_NOTHING) {
        note_plant_event(c, *event);
        slew_controller_warn(c);
    }
    return true;
}

void slew_controller_catch_up(slew_course *c, double time)
{
    slew_plant_event event;
    if (c->machine->underway || time > c->machine->plant.time)
        advance(c, time, time, &event);
}

/* ---- what is due ---- */

/* in the order of their handling at one instant */
typedef enum due_kind {
    DUE_CANCEL,
    DUE_BROWNOUT,
    DUE_STALL_DECLARED,
    DUE_STALL_ACTED,
    DUE_EDGE,
    DUE_TIME,
    DUE_MOVE_LIMIT,
    DUE_BLANK_END /* a drive that ends at this instant has not been under load */
} due_kind;

typedef struct due {
    double time;
    due_kind kind;
    int axis;
} due;

static void consider(due *first, double time, due_kind kind, int axis)
{
    if (time <= first->time && (time < first->time || kind < first->kind)) {
        first->time = time;
        first->kind = kind;
        first->axis = axis;
    }
}

static void consider_drive(const slew_course *c, int j, due *first)
{
    const slew_controller_settings *s = &c->setup->controller;
    const slew_controller *k = &c->machine->controller;
    double unblanked = k->on_at[j] + s->stall_blank;
    if (k->blanked[j])
        consider(first, unblanked, DUE_BLANK_END, j);
    if (k->stall_at[j] < INFINITY)
        consider(first, k->stall_at[j], DUE_STALL_ACTED, j);
    else
        consider(first, slew_larger(k->over_since[j], unblanked) + s->stall_dwell,
                 DUE_STALL_DECLARED, j);
    consider(first, k->on_at[j] + s->move_limit, DUE_MOVE_LIMIT, j);
}

static void find_first_due(const slew_course *c, due *first)
{
    const slew_machine *m = c->machine;
    const slew_controller *k = &m->controller;
    first->time = k->wait_until;
    first->kind = DUE_TIME;
    first->axis = SLEW_NO_AXIS;
    for (int j = 0; j < SLEW_AXES; j++)
        if (m->plant.drive[j])
            consider_drive(c, j, first);
    consider(first, k->cancel_at, DUE_CANCEL, SLEW_NO_AXIS);
    consider(first, k->under_since + c->setup->controller.brownout_dwell, DUE_BROWNOUT,
             SLEW_NO_AXIS);
    if (k->edge_count > 0)
        consider(first, k->edge[0].act_at, DUE_EDGE, k->sensor);
    else if (k->sample_at < INFINITY && m->plant.closed[k->sensor] != k->known)
        consider(first, k->sample_at + c->setup->controller.latency, DUE_EDGE, k->sensor);
}

static slew_wait_end fail_and_end(slew_course *c, slew_fault fault, int axis)
{
    slew_controller_fail(c, fault, axis);
    return SLEW_WAIT_OVER;
}

static slew_wait_end brown_out(slew_course *c)
{
    slew_machine *m = c->machine;
    slew_recorder_tell(c, SLEW_EVENT_BROWNOUT, SLEW_NO_AXIS, 0);
    /* too low to go on, however short the drive was */
    m->recorded.below_floor |= m->plant.under_voltage[0];
    return fail_and_end(c, SLEW_FAULT_UNDERVOLTAGE, SLEW_NO_AXIS);
}

/* unless the current, heard from this instant on, is below the threshold after all */
static void declare_stall(slew_course *c, int axis)
{
    slew_machine *m = c->machine;
    if (isinf(m->controller.over_since[axis]))
        return;
    m->controller.stall_at[axis] = m->plant.time + c->setup->controller.latency;
    slew_recorder_tell(c, SLEW_EVENT_STALL, axis, m->plant.drive[axis]);
}

static void end_blanking(slew_course *c, int axis)
{
    c->machine->controller.blanked[axis] = false;
    slew_controller_warn(c);
}

static slew_wait_end handle(slew_course *c, const due *d, int *stalled)
{
    switch (d->kind) {
    case DUE_CANCEL:
        return fail_and_end(c, SLEW_FAULT_CANCELLED, SLEW_NO_AXIS);
    case DUE_BROWNOUT:
        return brown_out(c);
    case DUE_STALL_DECLARED:
        declare_stall(c, d->axis);
        return SLEW_WAIT_GOES_ON;
    case DUE_STALL_ACTED:
        *stalled = d->axis;
        return SLEW_WAIT_STALLED;
    case DUE_EDGE:
        return act_on_edge(c);
    case DUE_MOVE_LIMIT:
        return fail_and_end(c, SLEW_FAULT_TIMEOUT, d->axis);
    case DUE_BLANK_END:
        end_blanking(c, d->axis);
        return SLEW_WAIT_GOES_ON;
    default:
        return SLEW_WAIT_TIME;
    }
}

/* ---- waiting ---- */

static bool stands_for_good(const slew_machine *m)
{
    return !m->holds || m->gave_up;
}

slew_wait_end slew_controller_wait(slew_course *c, double horizon, int *stalled)
{
    slew_machine *m = c->machine;
    slew_plant_event event;
    due d;
    find_first_due(c, &d);
    if (!advance(c, slew_larger(d.time, m->plant.time), horizon, &event))
        return SLEW_WAIT_BEYOND;
    if (stands_for_good(m))
        return SLEW_WAIT_OVER;
    return event.kind == SLEW_PLANT_NOTHING ? handle(c, &d, stalled) : SLEW_WAIT_GOES_ON;
}

void slew_controller_wait_blind(slew_machine *m, double until)
{
    slew_controller_look_at(m, SLEW_NO_AXIS);
    m->controller.wait_until = slew_larger(until, m->plant.time);
}

double slew_controller_pause_end(const slew_course *c)
{
    const slew_machine *m = c->machine;
    return slew_larger(m->controller.off_at + c->setup->controller.pause, m->plant.time);
}

/* an axis that won't come to rest does not hold either */
static slew_wait_end tell_moving(slew_course *c)
{
    slew_machine *m = c->machine;
    int axis = m->plant.moving[0] ? 0 : 1;
    m->holds = false;
    slew_recorder_tell(c, SLEW_EVENT_DOES_NOT_HOLD, axis, m->plant.moving[axis]);
    return SLEW_WAIT_OVER;
}

slew_wait_end slew_controller_rest(slew_course *c, double horizon, bool supervised)
{
    slew_machine *m = c->machine;
    slew_plant_event event;
    double limit = m->controller.acted_at + rest_limit, now = m->plant.time;
    double brownout = m->controller.under_since + c->setup->controller.brownout_dwell;
    double until = supervised ? slew_smaller(limit, brownout) : limit;
    bool moving = slew_plant_is_moving(&m->plant);
    if (!advance(c, moving ? slew_larger(until, now) : now, horizon, &event))
        return SLEW_WAIT_BEYOND;
    if (stands_for_good(m))
        return SLEW_WAIT_OVER;
    if (event.kind != SLEW_PLANT_NOTHING)
        return SLEW_WAIT_GOES_ON;
    if (!moving)
        return SLEW_WAIT_TIME;
    return until < limit ? brown_out(c) : tell_moving(c);
}
