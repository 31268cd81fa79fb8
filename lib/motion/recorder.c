/* recorder.c - see recorder.h. */
#include "motion/recorder.h"

#include <string.h>

enum { LOW_BOUND = 0, HIGH_BOUND = 1 };

/* ---- keep-out boxes ---- */

void slew_recorder_mark_keepout(const slew_keepout *keepout, slew_plant_model *model)
{
    for (int b = 0; b < keepout->count; b++)
        for (int j = 0; j < SLEW_AXES; j++) {
            const slew_range *range = &keepout->box[b].axis[j];
            if (isfinite(range->low))
                slew_plant_model_watch_angle(model, j,
                                             (slew_mark){range->low, 1, 2 * b + LOW_BOUND});
            if (isfinite(range->high))
                slew_plant_model_watch_angle(model, j,
                                             (slew_mark){range->high, -1, 2 * b + HIGH_BOUND});
        }
}

static bool is_inside(const slew_keepout_state *k, int box)
{
    const bool(*w)[2] = k->within[box];
    return w[0][0] && w[0][1] && w[1][0] && w[1][1];
}

static slew_event plain(slew_event_kind kind, int axis, int direction)
{
    return (slew_event){.kind = kind, .axis = axis, .direction = direction, .box = -1};
}

static void tell_box(slew_course *c, slew_event_kind kind, int box)
{
    slew_event event = plain(kind, SLEW_NO_AXIS, 0);
    event.box = box;
    slew_recorder_event(c, event);
}

static void enter(slew_course *c, int box)
{
    slew_keepout_state *k = &c->machine->keepout;
    int visit = k->open_visit[box] = k->visits++;
    if (c->result && visit < SLEW_KEEPOUT_VISITS_MAX)
        c->result->visit[visit] = (slew_keepout_visit){box, c->machine->plant.time, INFINITY};
    tell_box(c, SLEW_EVENT_KEEPOUT_ENTERED, box);
}

static void leave(slew_course *c, int box)
{
    int *visit = &c->machine->keepout.open_visit[box];
    if (c->result && *visit < SLEW_KEEPOUT_VISITS_MAX)
        c->result->visit[*visit].left = c->machine->plant.time;
    *visit = -1;
    tell_box(c, SLEW_EVENT_KEEPOUT_LEFT, box);
}

static void update_box(slew_course *c, int box)
{
    const slew_keepout_state *k = &c->machine->keepout;
    bool inside = is_inside(k, box);
    if (inside && k->open_visit[box] < 0)
        enter(c, box);
    else if (!inside && k->open_visit[box] >= 0)
        leave(c, box);
}

void slew_recorder_look(slew_course *c, const slew_keepout *keepout)
{
    slew_keepout_state *k = &c->machine->keepout;
    const double *angle = c->machine->plant.angle;
    for (int b = 0; b < keepout->count; b++) {
        k->open_visit[b] = -1;
        for (int j = 0; j < SLEW_AXES; j++) {
            const slew_range *range = &keepout->box[b].axis[j];
            k->within[b][j][LOW_BOUND] = angle[j] >= range->low;
            k->within[b][j][HIGH_BOUND] = angle[j] <= range->high;
        }
        update_box(c, b);
    }
}

static void pass_bound(slew_course *c, slew_plant_event event)
{
    int box = event.index / 2, bound = event.index % 2;
    bool in = (event.direction > 0) == (bound == LOW_BOUND);
    c->machine->keepout.within[box][event.axis][bound] = in;
    update_box(c, box);
}

/* ---- events ---- */

void slew_recorder_start(slew_machine *m)
{
    m->low_voltage_seen = false;
    m->keepout.visits = 0;
    m->recorded = (slew_meters){.lowest_voltage = INFINITY, .lowest_loaded_voltage = INFINITY};
}

static bool is_told(const slew_course *c)
{
    return c->observer && c->observer->event;
}

static void ask_to_stop(slew_course *c)
{
    const slew_observer *o = c->observer;
    if (o->stop && o->stop(o->context))
        c->stopped = true;
}

void slew_recorder_event(slew_course *c, slew_event event)
{
    const slew_plant *plant = &c->machine->plant;
    if (!is_told(c) || c->stopped)
        return;
    event.time = plant->time;
    event.voltage = plant->voltage;
    event.current = plant->current[0] + plant->current[1];
    memcpy(event.angle, plant->angle, sizeof event.angle);
    c->observer->event(c->observer->context, &event);
    ask_to_stop(c);
}

void slew_recorder_tell(slew_course *c, slew_event_kind kind, int axis, int direction)
{
    if (is_told(c))
        slew_recorder_event(c, plain(kind, axis, direction));
}

static void tell_plant_event(slew_course *c, slew_plant_event event)
{
    slew_event_kind kind;
    switch (event.kind) {
    case SLEW_PLANT_SWITCH_CLOSED:
        kind = SLEW_EVENT_SWITCH_CLOSED;
        break;
    case SLEW_PLANT_SWITCH_OPEN:
        kind = SLEW_EVENT_SWITCH_OPEN;
        break;
    case SLEW_PLANT_MOVING:
        kind = SLEW_EVENT_MOVING;
        break;
    case SLEW_PLANT_AT_REST:
        kind = SLEW_EVENT_AT_REST;
        break;
    case SLEW_PLANT_STOP_CONTACT:
        kind = SLEW_EVENT_STOP_CONTACT;
        break;
    case SLEW_PLANT_DOES_NOT_HOLD:
        kind = SLEW_EVENT_DOES_NOT_HOLD;
        break;
    default:
        return;
    }
    slew_event out = plain(kind, event.axis, event.direction);
    out.energy = event.kind == SLEW_PLANT_STOP_CONTACT ? event.value : 0;
    slew_recorder_event(c, out);
}

void slew_recorder_plant_event(slew_course *c, slew_plant_event event)
{
    if (event.kind == SLEW_PLANT_MARK)
        pass_bound(c, event);
    if (is_told(c))
        tell_plant_event(c, event);
}

void slew_recorder_span(slew_meters *m, const slew_plant_span *span, bool loaded, double floor)
{
    if (span->lowest_voltage < m->lowest_voltage)
        m->lowest_voltage = span->lowest_voltage;
    if (loaded && span->lowest_voltage < m->lowest_loaded_voltage)
        m->lowest_loaded_voltage = span->lowest_voltage;
    if (loaded && span->lowest_voltage < floor)
        m->below_floor = true;
    if (span->peak_current > m->peak_current)
        m->peak_current = span->peak_current;
    m->charge += span->charge;
}

/* ---- samples ---- */

double slew_recorder_next_sample(const slew_course *c)
{
    return slew_recorder_is_sampled(c) ? (double)c->next_sample * c->observer->interval : INFINITY;
}

slew_sample slew_recorder_look_at(const slew_plant_model *model, const slew_plant *plant)
{
    slew_sample sample = {.time = plant->time, .voltage = plant->voltage};
    for (int j = 0; j < SLEW_AXES; j++) {
        sample.angle[j] = plant->angle[j];
        sample.speed[j] = slew_plant_output_speed(model, plant, j);
        sample.current[j] = plant->current[j];
        sample.drive[j] = plant->drive[j];
        sample.closed[j] = plant->closed[j];
    }
    return sample;
}

void slew_recorder_sample(slew_course *c, const slew_plant *plant, bool on_grid)
{
    if (!slew_recorder_is_sampled(c) || c->stopped)
        return;
    if (on_grid)
        c->next_sample++;
    slew_sample sample = slew_recorder_look_at(c->model, plant);
    c->observer->sample(c->observer->context, &sample);
    ask_to_stop(c);
}
