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

static bool is_inside(const slew_recorder *r, int box)
{
    const bool(*w)[2] = r->within[box];
    return w[0][0] && w[0][1] && w[1][0] && w[1][1];
}

static slew_event plain(slew_event_kind kind, int axis, int direction)
{
    return (slew_event){.kind = kind, .axis = axis, .direction = direction, .box = -1};
}

static void enter(slew_recorder *r, const slew_plant *plant, int box)
{
    slew_result *result = r->result;
    r->open_visit[box] = result->visit_count++;
    if (r->open_visit[box] < SLEW_KEEPOUT_VISITS_MAX)
        result->visit[r->open_visit[box]] = (slew_keepout_visit){box, plant->time, INFINITY};
    slew_event event = plain(SLEW_EVENT_KEEPOUT_ENTERED, SLEW_NO_AXIS, 0);
    event.box = box;
    slew_recorder_event(r, plant, event);
}

static void leave(slew_recorder *r, const slew_plant *plant, int box)
{
    if (r->open_visit[box] < SLEW_KEEPOUT_VISITS_MAX)
        r->result->visit[r->open_visit[box]].left = plant->time;
    r->open_visit[box] = -1;
    slew_event event = plain(SLEW_EVENT_KEEPOUT_LEFT, SLEW_NO_AXIS, 0);
    event.box = box;
    slew_recorder_event(r, plant, event);
}

static void update_box(slew_recorder *r, const slew_plant *plant, int box)
{
    bool inside = is_inside(r, box);
    if (inside && r->open_visit[box] < 0)
        enter(r, plant, box);
    else if (!inside && r->open_visit[box] >= 0)
        leave(r, plant, box);
}

void slew_recorder_look(slew_recorder *r, const slew_plant *plant)
{
    for (int b = 0; b < r->keepout->count; b++) {
        for (int j = 0; j < SLEW_AXES; j++) {
            const slew_range *range = &r->keepout->box[b].axis[j];
            r->within[b][j][LOW_BOUND] = plant->angle[j] >= range->low;
            r->within[b][j][HIGH_BOUND] = plant->angle[j] <= range->high;
        }
        update_box(r, plant, b);
    }
}

static void pass_bound(slew_recorder *r, const slew_plant *plant, slew_plant_event event)
{
    int box = event.index / 2, bound = event.index % 2;
    r->within[box][event.axis][bound] = (event.direction > 0) == (bound == LOW_BOUND);
    update_box(r, plant, box);
}

/* ---- events ---- */

void slew_recorder_start(slew_recorder *r, const slew_keepout *keepout,
                         const slew_observer *observer, slew_result *result)
{
    r->keepout = keepout;
    r->observer = observer;
    r->result = result;
    r->low_voltage_seen = false;
    r->next_sample = 0;
    for (int b = 0; b < keepout->count; b++)
        r->open_visit[b] = -1;
    result->visit_count = 0;
    result->below_floor = false;
    result->lowest_voltage = result->lowest_loaded_voltage = INFINITY;
    result->peak_current = result->charge = 0;
}

void slew_recorder_event(slew_recorder *r, const slew_plant *plant, slew_event event)
{
    if (!r->observer || !r->observer->event)
        return;
    event.time = plant->time;
    event.voltage = plant->voltage;
    event.current = plant->current[0] + plant->current[1];
    memcpy(event.angle, plant->angle, sizeof event.angle);
    r->observer->event(r->observer->context, &event);
}

void slew_recorder_plant_event(slew_recorder *r, const slew_plant *plant, slew_plant_event event)
{
    slew_event_kind kind;
    if (event.kind == SLEW_PLANT_MARK)
        pass_bound(r, plant, event);
    if (!r->observer || !r->observer->event)
        return;
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
    slew_recorder_event(r, plant, out);
}

void slew_recorder_span(slew_recorder *r, const slew_plant *plant, bool loaded, double floor)
{
    const slew_plant_span *span = &plant->span;
    slew_result *result = r->result;
    if (span->lowest_voltage < result->lowest_voltage)
        result->lowest_voltage = span->lowest_voltage;
    if (loaded && span->lowest_voltage < result->lowest_loaded_voltage)
        result->lowest_loaded_voltage = span->lowest_voltage;
    if (loaded && span->lowest_voltage < floor)
        result->below_floor = true;
    if (span->peak_current > result->peak_current)
        result->peak_current = span->peak_current;
    result->charge += span->charge;
}

/* ---- samples ---- */

static bool is_sampled(const slew_recorder *r)
{
    return r->observer && r->observer->sample;
}

double slew_recorder_next_sample(const slew_recorder *r)
{
    return is_sampled(r) ? (double)r->next_sample * r->observer->interval : INFINITY;
}

void slew_recorder_sample(slew_recorder *r, const slew_plant_model *model, const slew_plant *plant,
                          bool on_grid)
{
    if (!is_sampled(r))
        return;
    if (on_grid)
        r->next_sample++;
    slew_sample sample = {.time = plant->time, .voltage = plant->voltage};
    for (int j = 0; j < SLEW_AXES; j++) {
        sample.angle[j] = plant->angle[j];
        sample.speed[j] = slew_plant_output_speed(model, plant, j);
        sample.current[j] = plant->current[j];
        sample.drive[j] = plant->drive[j];
        sample.closed[j] = plant->closed[j];
    }
    r->observer->sample(r->observer->context, &sample);
}
