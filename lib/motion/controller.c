/* controller.c - drives, clocks and supervision; see controller.h. */
#include "motion/controller.h"

#include "motion/least.h"
#include "motion/progress.h"

#include <assert.h>

/* ---- bookkeeping ---- */

static double since(bool state, double before, double now)
{
    return state ? slew_smaller(before, now) : INFINITY;
}

void slew_controller_compare(slew_machine *m)
{
    slew_controller *k = &m->controller;
    const slew_plant *plant = &m->plant;
    for (int j = 0; j < SLEW_AXES; j++)
        if (!plant->deaf[j])
            k->over_since[j] = since(plant->over_current[j], k->over_since[j], plant->time);
    k->under_since = since(plant->under_voltage[1], k->under_since, plant->time);
}

void slew_controller_hear(slew_course *c)
{
    slew_machine *m = c->machine;
    for (int j = 0; j < SLEW_AXES; j++)
        if (m->plant.deaf[j] &&
            m->plant.time >= m->controller.on_at[j] + c->setup->controller.stall_blank) {
            slew_plant_hear(c->model, &m->plant, j);
            slew_controller_compare(m);
        }
}

bool slew_controller_is_loaded(const slew_machine *m)
{
    const bool *blanked = m->controller.blanked;
    return (m->plant.drive[0] && !blanked[0]) || (m->plant.drive[1] && !blanked[1]);
}

void slew_controller_warn(slew_course *c)
{
    slew_machine *m = c->machine;
    if (m->low_voltage_seen || !m->plant.under_voltage[0] || !slew_controller_is_loaded(m))
        return;
    m->low_voltage_seen = true;
    slew_recorder_tell(c, SLEW_EVENT_LOW_VOLTAGE, SLEW_NO_AXIS, 0);
}

void slew_controller_start(slew_machine *m)
{
    m->fault = SLEW_FAULT_NONE;
    m->fault_axis = SLEW_NO_AXIS;
    m->holds = true;
    m->gave_up = m->underway = false;
    m->controller = (slew_controller){.cancel_at = INFINITY,
                                      .over_since = {INFINITY, INFINITY},
                                      .stall_at = {INFINITY, INFINITY},
                                      .under_since = INFINITY,
                                      .off_at = -INFINITY,
                                      .first_on = INFINITY,
                                      .sensor = SLEW_NO_AXIS,
                                      .sample_at = INFINITY};
    slew_controller_compare(m);
}

void slew_controller_transfer(slew_course *c, const slew_plant_model *model,
                              const slew_setup *setup)
{
    slew_machine *m = c->machine;
    slew_plant_transfer(c->model, model, &m->plant);
    c->model = model;
    c->setup = setup;
    slew_controller_compare(m);
}

/* ---- drives ---- */

static void set_drive(slew_course *c, int axis, int direction)
{
    slew_machine *m = c->machine;
    slew_recorder_sample(c, &m->plant, false);
    slew_plant_drive(c->model, &m->plant, axis, direction);
    slew_recorder_sample(c, &m->plant, false);
    slew_controller_compare(m);
}

void slew_controller_look_at(slew_machine *m, int sensor)
{
    slew_controller *k = &m->controller;
    k->sensor = sensor;
    k->sample_at = INFINITY;
    k->edge_count = 0;
}

void slew_controller_on(slew_course *c, int axis, int direction, bool look)
{
    slew_machine *m = c->machine;
    slew_controller *k = &m->controller;
    double now = m->plant.time;
    k->on_at[axis] = now;
    k->blanked[axis] = true;
    k->stall_at[axis] = INFINITY;
    if (isinf(k->first_on))
        k->first_on = now;
    k->known = m->plant.closed[axis];
    slew_controller_look_at(m, look ? axis : SLEW_NO_AXIS);
    set_drive(c, axis, direction);
    slew_plant_deafen(&m->plant, axis);
    k->over_since[axis] = now;
    slew_recorder_tell(c, SLEW_EVENT_DRIVE_ON, axis, direction);
}

void slew_controller_off(slew_course *c, int axis)
{
    slew_controller *k = &c->machine->controller;
    int direction = c->machine->plant.drive[axis];
    if (!direction)
        return;
    k->stall_at[axis] = INFINITY;
    k->off_at = k->acted_at = c->machine->plant.time;
    set_drive(c, axis, 0);
    slew_recorder_tell(c, SLEW_EVENT_DRIVE_OFF, axis, direction);
    slew_controller_warn(c);
}

void slew_controller_fail(slew_course *c, slew_fault fault, int axis)
{
    slew_machine *m = c->machine;
    for (int j = 0; j < SLEW_AXES; j++)
        slew_controller_off(c, j);
    m->fault = fault;
    m->fault_axis = axis;
    m->controller.acted_at = m->plant.time;
    slew_recorder_event(
        c, (slew_event){.kind = SLEW_EVENT_FAULT, .axis = axis, .fault = fault, .box = -1});
}

/* ---- home sensor ---- */

double slew_sampling_instant(double grid, double time)
{
    return grid > 0 ? slew_larger(time, grid * ceil(time / grid)) : time;
}

void slew_controller_see(slew_course *c, bool closed)
{
    slew_controller *k = &c->machine->controller;
    if (closed != k->known) {
        assert(k->edge_count < SLEW_EDGES_MAX);
        k->edge[k->edge_count++] = (slew_edge){k->sample_at + c->setup->controller.latency, closed};
    }
    k->known = closed;
    k->sample_at = INFINITY;
}

void slew_controller_note_edge(slew_course *c, int axis)
{
    slew_machine *m = c->machine;
    slew_controller *k = &m->controller;
    if (axis != k->sensor)
        return;
    if (k->sample_at < m->plant.time)
        slew_controller_see(c, !m->plant.closed[axis]);
    k->sample_at = slew_sampling_instant(c->setup->controller.sample, m->plant.time);
}
