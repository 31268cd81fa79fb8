/*
 * motion_plant.h - the daily machine without its controller, and the formulas of its motion.
 */
#ifndef TESTS_MOTION_PLANT_H
#define TESTS_MOTION_PLANT_H

#include "../support.h"

enum { R = SLEW_ROTATION, E = SLEW_ELEVATION };

/* An event is located to 1e-9 s; an axis turns less than 0.25 rad/s. */
#define TIME  1e-9
#define ANGLE 2.5e-10

static inline slew_plant_model model_of(const slew_setup *setup)
{
    slew_plant_model model;
    assert_int_equal(slew_plant_model_build(setup, &model, NULL), SLEW_OK);
    model.watch_voltage[0] = model.watch_voltage[1] = -INFINITY;
    model.axis[R].watch_current = model.axis[E].watch_current = INFINITY;
    return model;
}

static inline slew_plant_model daily_model(void)
{
    const slew_setup setup = daily_setup();
    return model_of(&setup);
}

static inline slew_plant plant_at(const slew_plant_model *model, double rotation, double elevation)
{
    const double angle[SLEW_AXES] = {degrees(rotation), degrees(elevation)};
    slew_plant plant;
    slew_plant_start(model, angle, &plant);
    return plant;
}

/* dw/dt = rate (end - w) */
typedef struct decay {
    double rate, end;
} decay;

/* motor friction and the friction at the output as the motor feels them */
static inline double drag(const slew_plant_axis *axis)
{
    return axis->coulomb + axis->friction / (axis->forward * axis->ratio);
}

/* driven alone by a source; `s` +1 with the motion, -1 against it */
static inline decay driven_by(const slew_plant_axis *axis, double voltage, double resistance, int s)
{
    const double total = axis->resistance + resistance;
    const double damping = axis->constant * axis->constant / total + axis->viscous;
    const double push = s * axis->constant * (voltage - axis->drop) / total;
    return (decay){damping / axis->inertia, (push - drag(axis)) / damping};
}

static inline decay driven(const slew_plant_model *model, int axis)
{
    return driven_by(&model->axis[axis], model->line_voltage, model->line_resistance, 1);
}

static inline double speed_after(decay d, double from, double time)
{
    return d.end + (from - d.end) * exp(-d.rate * time);
}

/* turned by the motor [rad] */
static inline double turn_after(decay d, double from, double time)
{
    return d.end * time - (from - d.end) * expm1(-d.rate * time) / d.rate;
}

static inline double time_to(decay d, double from, double to)
{
    return log((from - d.end) / (to - d.end)) / d.rate;
}

/* goes on to `until`; only these events may come on the way */
static inline slew_plant_event next(const slew_plant_model *model, slew_plant *plant, double until,
                                    slew_plant_event_kind kind)
{
    const slew_plant_event event = slew_plant_advance(model, plant, until);
    if (event.kind != kind)
        fail_msg("event %d at %.9f s instead of %d", (int)event.kind, plant->time, (int)kind);
    return event;
}

static inline void start_drive(const slew_plant_model *model, slew_plant *plant, int axis,
                               int direction)
{
    slew_plant_drive(model, plant, axis, direction);
    const slew_plant_event event = next(model, plant, plant->time, SLEW_PLANT_MOVING);
    assert_int_equal(event.axis, axis);
    assert_int_equal(event.direction, direction);
}

#endif
