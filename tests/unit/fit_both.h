/* fit_both.h - rows of timed travels, and the same rows by the reference solver. */
#ifndef TESTS_UNIT_FIT_BOTH_H
#define TESTS_UNIT_FIT_BOTH_H

#include "../reference/ref_plant.h"
#include "../support.h"

#include "slewtime/fit.h"

static inline slew_place at_place(slew_place_kind kind)
{
    return (slew_place){kind, 0};
}

static inline slew_place at_degrees(double angle)
{
    return (slew_place){SLEW_PLACE_ANGLE, degrees(angle)};
}

/* nothing measured yet; conditions of the scenario */
static inline slew_timing travel(int axis, int direction, slew_place from, slew_place to)
{
    slew_timing row = slew_timing_default();
    row.line = 1;
    row.axis = axis;
    row.direction = direction;
    row.from = from;
    row.to = to;
    return row;
}

static inline slew_timing stop_to_stop(int axis, int direction)
{
    slew_place low = at_place(SLEW_PLACE_LOW_STOP), high = at_place(SLEW_PLACE_HIGH_STOP);
    return direction > 0 ? travel(axis, 1, low, high) : travel(axis, -1, high, low);
}

/* ---- the reference ---- */

enum { BOX_HALF, BOX_END };

typedef struct seen {
    const slew_timing *row;
    slew_timed timed;
    bool arrived;
} seen;

static inline void see_event(void *context, const slew_event *e)
{
    seen *s = context;
    bool box = e->kind == SLEW_EVENT_KEEPOUT_ENTERED || e->kind == SLEW_EVENT_KEEPOUT_LEFT;
    slew_event_kind end =
        s->row->to.kind == SLEW_PLACE_HOME ? SLEW_EVENT_SWITCH_CLOSED : SLEW_EVENT_STOP_CONTACT;
    if (!(e->time > 0))
        return;
    if (box && e->box == BOX_HALF) {
        s->timed.value[SLEW_MEASURE_VOLTAGE] = e->voltage;
        s->timed.value[SLEW_MEASURE_CURRENT] = e->current;
    }
    if (s->row->to.kind == SLEW_PLACE_ANGLE ? box && e->box == BOX_END
                                            : e->kind == end && e->axis == s->row->axis) {
        s->timed.value[SLEW_MEASURE_SECONDS] = e->time;
        s->arrived = true;
    }
}

static inline double reference_angle(const slew_axis_setup *axis, const slew_place *place,
                                     double edge)
{
    return place->kind == SLEW_PLACE_LOW_STOP    ? axis->stops.low
           : place->kind == SLEW_PLACE_HIGH_STOP ? axis->stops.high
           : place->kind == SLEW_PLACE_HOME      ? axis->home.angle + edge
                                                 : place->angle;
}

/* The boxes begin half way and at the end, and reach on for ever: their bounds are what is passed.
 */
static inline slew_keepout boxes(const slew_timing *row, double from, double to)
{
    slew_keepout k = {.count = 2};
    const double bound[] = {from + (to - from) / 2, to};
    for (int i = 0; i < 2; i++)
        for (int j = 0; j < SLEW_AXES; j++)
            k.box[i].axis[j] =
                (slew_range){j == row->axis ? bound[i] : -(double)INFINITY, INFINITY};
    return k;
}

static inline void row_conditions(slew_setup *setup, const slew_timing *row)
{
    if (!isnan(row->supply))
        setup->supply.main.voltage = row->supply;
    if (!isnan(row->temperature))
        setup->environment.temperature = row->temperature;
    if (!isnan(row->winding_rise) && row->axis != SLEW_NO_AXIS)
        setup->axis[row->axis].motor.winding_rise = row->winding_rise;
    if (!isnan(row->pressure)) {
        setup->nozzle.flowing = row->pressure > 0;
        setup->nozzle.pressure = row->pressure > 0 ? row->pressure : setup->nozzle.pressure;
    }
}

/* a travel through SUNDIALS CVODE */
static inline slew_timed reference_row(slew_setup setup, const slew_timing *row)
{
    char why[256];
    ref_machine machine;
    ref_plant plant;
    seen s = {.row = row};
    const ref_options options = {.solver = REF_CVODE};
    slew_result result = {0};
    ref_log log = {see_event, &s, &result};
    row_conditions(&setup, row);
    const slew_axis_setup *axis = &setup.axis[row->axis];
    double from = reference_angle(axis, &row->from, 0);
    double to = reference_angle(axis, &row->to, -row->direction * axis->home.operate);
    slew_keepout keepout = boxes(row, from, to);
    double angle[] = {setup.axis[0].start, setup.axis[1].start};
    angle[row->axis] = from;
    assert_true(ref_machine_build(&setup, &machine, why, sizeof why));
    ref_stepper *stepper = ref_stepper_open(&options, REF_CURRENT);
    assert_non_null(stepper);
    ref_plant_start(&plant, &machine, angle, &options, stepper);
    plant.log = &log;
    plant.keepout = &keepout;
    ref_plant_drive(&plant, row->axis, row->direction * (int)machine.axis[row->axis].sign);
    while (!s.arrived && !plant.failed && plant.t < 300) {
        ref_plant_settle(&plant);
        ref_plant_advance(&plant, 300);
    }
    ref_plant_settle(&plant);
    ref_stepper_close(stepper);
    assert_true(s.arrived);
    return s.timed;
}

#endif
