/* controller.c - drives, clocks and supervision; see controller.h. */
#include "motion/controller.h"

#include "motion/least.h"

#include <assert.h>

static const double rest_limit = 60; /* an axis that moves longer after its drive went off [s] */

/* ---- bookkeeping ---- */

static double since(bool state, double before, double now)
{
    return !state ? INFINITY : isinf(before) ? now : before;
}

/* notes when the comparators changed */
static void compare(slew_controller *c)
{
    const slew_plant *plant = c->plant;
    for (int j = 0; j < SLEW_AXES; j++)
        c->over_since[j] = since(plant->over_current[j], c->over_since[j], plant->time);
    c->under_since = since(plant->under_voltage[1], c->under_since, plant->time);
}

static bool is_loaded(const slew_controller *c)
{
    return (c->plant->drive[0] && !c->blanked[0]) || (c->plant->drive[1] && !c->blanked[1]);
}

static void warn_of_low_voltage(slew_controller *c)
{
    if (c->recorder->low_voltage_seen || !c->plant->under_voltage[0] || !is_loaded(c))
        return;
    c->recorder->low_voltage_seen = true;
    slew_recorder_event(
        c->recorder, c->plant,
        (slew_event){.kind = SLEW_EVENT_LOW_VOLTAGE, .axis = SLEW_NO_AXIS, .box = -1});
}

void slew_controller_start(slew_controller *c, const slew_plant_model *model,
                           const slew_setup *setup, slew_plant *plant, slew_recorder *recorder)
{
    *c = (slew_controller){.model = model,
                           .setup = setup,
                           .plant = plant,
                           .recorder = recorder,
                           .cancel_at = INFINITY,
                           .over_since = {INFINITY, INFINITY},
                           .stall_at = {INFINITY, INFINITY},
                           .under_since = INFINITY,
                           .off_at = -INFINITY,
                           .first_on = INFINITY,
                           .sensor = SLEW_NO_AXIS,
                           .sample_at = INFINITY,
                           .fault_axis = SLEW_NO_AXIS,
                           .holds = true};
    compare(c);
}

void slew_controller_transfer(slew_controller *c, const slew_plant_model *model,
                              const slew_setup *setup)
{
    c->model = model;
    c->setup = setup;
    c->first_on = INFINITY;
    slew_plant_transfer(model, c->plant);
    compare(c);
}

/* ---- drives ---- */

static void tell(slew_controller *c, slew_event_kind kind, int axis, int direction)
{
    slew_recorder_event(
        c->recorder, c->plant,
        (slew_event){.kind = kind, .axis = axis, .direction = direction, .box = -1});
}

static void set_drive(slew_controller *c, int axis, int direction)
{
    slew_recorder_sample(c->recorder, c->model, c->plant, false);
    slew_plant_drive(c->model, c->plant, axis, direction);
    slew_recorder_sample(c->recorder, c->model, c->plant, false);
    compare(c);
}

void slew_controller_on(slew_controller *c, int axis, int direction, bool look)
{
    double now = c->plant->time;
    c->on_at[axis] = now;
    c->blanked[axis] = true;
    c->stall_at[axis] = INFINITY;
    if (isinf(c->first_on))
        c->first_on = now;
    c->sensor = look ? axis : SLEW_NO_AXIS;
    c->known = c->plant->closed[axis];
    c->sample_at = INFINITY;
    c->edge_count = 0;
    set_drive(c, axis, direction);
    tell(c, SLEW_EVENT_DRIVE_ON, axis, direction);
}

void slew_controller_off(slew_controller *c, int axis)
{
    int direction = c->plant->drive[axis];
    if (!direction)
        return;
    c->stall_at[axis] = INFINITY;
    c->off_at = c->acted_at = c->plant->time;
    set_drive(c, axis, 0);
    tell(c, SLEW_EVENT_DRIVE_OFF, axis, direction);
    warn_of_low_voltage(c);
}

bool slew_controller_fail(slew_controller *c, slew_fault fault, int axis)
{
    for (int j = 0; j < SLEW_AXES; j++)
        slew_controller_off(c, j);
    c->fault = fault;
    c->fault_axis = axis;
    c->acted_at = c->plant->time;
    slew_recorder_event(
        c->recorder, c->plant,
        (slew_event){.kind = SLEW_EVENT_FAULT, .axis = axis, .fault = fault, .box = -1});
    return false;
}

/* ---- home sensor ---- */

double slew_sampling_instant(double grid, double time)
{
    return grid > 0 ? slew_larger(time, grid * ceil(time / grid)) : time;
}

static void look_at_sensor(slew_controller *c)
{
    bool closed = c->plant->closed[c->sensor];
    c->sample_at = INFINITY;
    if (closed == c->known)
        return;
    c->known = closed;
    assert(c->edge_count < SLEW_EDGES_MAX);
    c->edge[c->edge_count++] = (slew_edge){c->plant->time + c->setup->controller.latency, closed};
}

static slew_wait_end act_on_edge(slew_controller *c)
{
    bool closed = c->edge[0].closed;
    c->edge_count--;
    for (int i = 0; i < c->edge_count; i++)
        c->edge[i] = c->edge[i + 1];
    return closed ? SLEW_WAIT_CLOSED : SLEW_WAIT_OPENED;
}

/* ---- going on ---- */

/* a plant that stood just before it met a stop, for the trace */
static void sample_before_contact(slew_controller *c, slew_plant before)
{
    double time = slew_larger(before.time, c->plant->time - 1e-9);
    slew_plant_advance(c->model, &before, time);
    slew_recorder_sample(c->recorder, c->model, &before, false);
}

static void note_plant_event(slew_controller *c, slew_plant_event event)
{
    slew_recorder_plant_event(c->recorder, c->plant, event);
    if (event.kind == SLEW_PLANT_DOES_NOT_HOLD)
        c->holds = false;
    bool edge = event.kind == SLEW_PLANT_SWITCH_CLOSED || event.kind == SLEW_PLANT_SWITCH_OPEN;
    if (edge && event.axis == c->sensor)
        c->sample_at = slew_sampling_instant(c->setup->controller.sample, c->plant->time);
}

/* Advances the plant to `until` or to its next event, sampling on the way. */
static slew_plant_event go_on(slew_controller *c, double until)
{
    slew_recorder *r = c->recorder;
    for (;;) {
        double sample = slew_recorder_next_sample(r), target = slew_smaller(until, sample);
        slew_plant before;
        if (isfinite(sample))
            before = *c->plant;
        slew_plant_event event = slew_plant_advance(c->model, c->plant, target);
        slew_recorder_span(r, c->plant, is_loaded(c), c->model->watch_voltage[0]);
        compare(c);
        if (event.kind != SLEW_PLANT_NOTHING) {
            if (isfinite(sample)) {
                if (event.kind == SLEW_PLANT_STOP_CONTACT)
                    sample_before_contact(c, before);
                slew_recorder_sample(r, c->model, c->plant, false);
            }
            note_plant_event(c, event);
            warn_of_low_voltage(c);
            return event;
        }
        if (target < until || sample == until)
            slew_recorder_sample(r, c->model, c->plant, true);
        if (target >= until)
            return event;
    }
}

/* ---- supervision ---- */

/* in the order of their handling at one instant */
typedef enum due_kind {
    DUE_CANCEL,
    DUE_BROWNOUT,
    DUE_STALL_DECLARED,
    DUE_STALL_ACTED,
    DUE_SAMPLE,
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
    if (time < first->time || (time == first->time && kind < first->kind)) {
        first->time = time;
        first->kind = kind;
        first->axis = axis;
    }
}

static void consider_drive(const slew_controller *c, int j, due *first)
{
    const slew_controller_settings *s = &c->setup->controller;
    double unblanked = c->on_at[j] + s->stall_blank;
    if (c->blanked[j])
        consider(first, unblanked, DUE_BLANK_END, j);
    if (isfinite(c->stall_at[j]))
        consider(first, c->stall_at[j], DUE_STALL_ACTED, j);
    else
        consider(first, slew_larger(c->over_since[j], unblanked) + s->stall_dwell,
                 DUE_STALL_DECLARED, j);
    consider(first, c->on_at[j] + s->move_limit, DUE_MOVE_LIMIT, j);
}

static void find_first_due(const slew_controller *c, double until, due *first)
{
    first->time = until;
    first->kind = DUE_TIME;
    first->axis = SLEW_NO_AXIS;
    for (int j = 0; j < SLEW_AXES; j++)
        if (c->plant->drive[j])
            consider_drive(c, j, first);
    consider(first, c->cancel_at, DUE_CANCEL, SLEW_NO_AXIS);
    consider(first, c->under_since + c->setup->controller.brownout_dwell, DUE_BROWNOUT,
             SLEW_NO_AXIS);
    consider(first, c->sample_at, DUE_SAMPLE, c->sensor);
    if (c->edge_count > 0)
        consider(first, c->edge[0].act_at, DUE_EDGE, c->sensor);
}

static slew_wait_end fail_and_end(slew_controller *c, slew_fault fault, int axis)
{
    slew_controller_fail(c, fault, axis);
    return SLEW_WAIT_OVER;
}

static void declare_stall(slew_controller *c, int axis)
{
    c->stall_at[axis] = c->plant->time + c->setup->controller.latency;
    tell(c, SLEW_EVENT_STALL, axis, c->plant->drive[axis]);
}

/* true: the wait goes on */
static bool handle_inner(slew_controller *c, const due *d)
{
    switch (d->kind) {
    case DUE_BLANK_END:
        c->blanked[d->axis] = false;
        warn_of_low_voltage(c);
        return true;
    case DUE_STALL_DECLARED:
        declare_stall(c, d->axis);
        return true;
    case DUE_SAMPLE:
        look_at_sensor(c);
        return true;
    default:
        return false;
    }
}

static slew_wait_end handle_end(slew_controller *c, const due *d, int *stalled)
{
    switch (d->kind) {
    case DUE_CANCEL:
        return fail_and_end(c, SLEW_FAULT_CANCELLED, SLEW_NO_AXIS);
    case DUE_BROWNOUT:
        tell(c, SLEW_EVENT_BROWNOUT, SLEW_NO_AXIS, 0);
        return fail_and_end(c, SLEW_FAULT_UNDERVOLTAGE, SLEW_NO_AXIS);
    case DUE_STALL_ACTED:
        *stalled = d->axis;
        return SLEW_WAIT_STALLED;
    case DUE_EDGE:
        return act_on_edge(c);
    case DUE_MOVE_LIMIT:
        return fail_and_end(c, SLEW_FAULT_TIMEOUT, d->axis);
    default:
        return SLEW_WAIT_TIME;
    }
}

slew_wait_end slew_controller_wait(slew_controller *c, double until, int *stalled)
{
    for (;;) {
        due d;
        find_first_due(c, until, &d);
        slew_plant_event event = go_on(c, slew_larger(d.time, c->plant->time));
        if (!c->holds)
            return SLEW_WAIT_OVER;
        if (event.kind == SLEW_PLANT_NOTHING && !handle_inner(c, &d))
            return handle_end(c, &d, stalled);
    }
}

static bool wait_undisturbed(slew_controller *c, double until)
{
    int stalled;
    c->sensor = SLEW_NO_AXIS;
    c->sample_at = INFINITY;
    c->edge_count = 0;
    return slew_controller_wait(c, slew_larger(until, c->plant->time), &stalled) == SLEW_WAIT_TIME;
}

bool slew_controller_pause(slew_controller *c)
{
    return wait_undisturbed(c, c->off_at + c->setup->controller.pause);
}

bool slew_controller_settle(slew_controller *c)
{
    return wait_undisturbed(c, c->plant->time);
}

/* an axis that won't come to rest does not hold either */
static void tell_moving(slew_controller *c)
{
    int axis = c->plant->moving[0] ? 0 : 1;
    tell(c, SLEW_EVENT_DOES_NOT_HOLD, axis, c->plant->moving[axis]);
}

bool slew_controller_rest(slew_controller *c, bool supervised)
{
    double limit = c->acted_at + rest_limit;
    for (;;) {
        double brownout = c->under_since + c->setup->controller.brownout_dwell;
        double until = supervised ? slew_smaller(limit, brownout) : limit;
        bool moving = slew_plant_is_moving(c->plant);
        slew_plant_event event =
            go_on(c, moving ? slew_larger(until, c->plant->time) : c->plant->time);
        if (!c->holds)
            return false;
        if (event.kind != SLEW_PLANT_NOTHING)
            continue;
        if (!moving)
            return true;
        if (until < limit) {
            tell(c, SLEW_EVENT_BROWNOUT, SLEW_NO_AXIS, 0);
            return slew_controller_fail(c, SLEW_FAULT_UNDERVOLTAGE, SLEW_NO_AXIS);
        }
        c->holds = false;
        tell_moving(c);
        return false;
    }
}
