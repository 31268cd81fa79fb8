/* pairs.c - values that are nothing to wonder at each by itself, and do not go together. */
#include "doubting.h"

#include "slewtime/drive.h"
#include "slewtime/physics.h"

#define DEG 0.01745329251994329577

static void text_of(const slew_doubting *d, int key, char text[64])
{
    slew_key_format_number(key, slew_doubting_value(d, key), text, 64);
}

/* ---- currents ---- */

static const double BETWEEN =
    0.65; /* a usual threshold over the stalled current; common practice */

/* the largest steady current of the axis between its stops; 0: it does not run */
static double running_current(const slew_plant_model *model, int axis)
{
    const slew_range range[SLEW_AXES] = {model->axis[0].stops, model->axis[1].stops};
    double most = 0;
    for (int direction = -1; direction <= 1; direction += 2) {
        slew_speed_places p = slew_speed_find_places(model, axis, direction, range);
        slew_speed_point at = slew_speed_at(model, axis, direction, p.slowest);
        if (at.state == SLEW_SPEED_RUNS || at.state == SLEW_SPEED_RUNS_ON)
            most = fmax(most, at.current);
    }
    return most;
}

static void doubt_threshold(slew_doubting *d, const slew_plant_model *model)
{
    int key = slew_key_find("controller.stall.current");
    double threshold = d->setup.controller.stall_current;
    double weakest = fmin(slew_speed_blocked_current(model, SLEW_ROTATION),
                          slew_speed_blocked_current(model, SLEW_ELEVATION));
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        double stalled = slew_speed_blocked_current(model, axis);
        double running = running_current(model, axis);
        if (threshold >= stalled)
            slew_doubt_add(d, key, BETWEEN * weakest,
                           "the %s draws %.3g A when it is stalled, less than this threshold of "
                           "%.3g A: a stop is never noticed",
                           slew_axis_word(axis), stalled, threshold);
        else if (threshold <= running)
            slew_doubt_add(d, key, BETWEEN * weakest,
                           "the %s draws %.3g A where it runs hardest, this threshold of %.3g A or "
                           "more: running is taken for a stall",
                           slew_axis_word(axis), running, threshold);
    }
}

/* ---- the motor ---- */

static const double SLOWEST = 0.8 * DEG, FASTEST = 70 * DEG; /* of an output [rad/s] */
static const double SHORTEST = 0.001, LONGEST = 0.5;         /* mechanical time constant [s] */

static void doubt_speed(slew_doubting *d, int axis)
{
    const slew_axis_setup *a = &d->setup.axis[axis];
    int key = slew_doubting_key(axis, ".motor.no_load_speed");
    double output = a->motor.no_load_speed / a->gear.ratio;
    char own[64];
    text_of(d, key, own);
    if (output < SLOWEST)
        slew_doubt_add(d, key, a->motor.no_load_speed * a->gear.ratio,
                       "%s at the motor turns the output at %.2g deg/s only: a speed of the output "
                       "shaft belongs into %s.gearmotor.no_load_speed",
                       own, output / DEG, slew_axis_word(axis));
    if (output > FASTEST)
        slew_doubt_add(d, key, 10 * DEG * a->gear.ratio,
                       "%s at the motor turns the output at %.3g deg/s: this speed, or gear.ratio "
                       "(%.4g), is off",
                       own, output / DEG, a->gear.ratio);
}

static void doubt_inertia(slew_doubting *d, int axis)
{
    const slew_motor_sheet *s = &d->setup.axis[axis].motor;
    slew_motor motor = slew_motor_from_sheet(s->rated_voltage, s->no_load_speed, s->no_load_current,
                                             s->stall_current, s->viscous_share);
    double per_time = motor.constant * motor.constant / motor.resistance;
    double time = s->inertia / per_time;
    int key = slew_doubting_key(axis, ".motor.inertia");
    char own[64];
    text_of(d, key, own);
    if (time < SHORTEST || time > LONGEST)
        slew_doubt_add(
            d, key, slew_motor_typical_inertia(motor),
            "%s of a rotor makes this motor take %.3g s to come up to speed, where 0.015 "
            "to 0.03 s are common; check the unit (1 g.cm2 is 1e-7 kg.m2), and that it is not the "
            "load's",
            own, time);
}

static void doubt_currents(slew_doubting *d, int axis)
{
    const slew_motor_sheet *s = &d->setup.axis[axis].motor;
    if (s->no_load_current > 0.5 * s->stall_current)
        slew_doubt_add(d, slew_doubting_key(axis, ".motor.no_load_current"),
                       SLEW_MOTOR_IDLE_SHARE * s->stall_current,
                       "%.3g A running free is %.0f %% of the stall current; check that it is not "
                       "the rated current, under load",
                       s->no_load_current, 100 * s->no_load_current / s->stall_current);
}

/* ---- voltages ---- */

static void doubt_voltage(slew_doubting *d, int key, double least, double most)
{
    double value = slew_doubting_value(d, key), system = d->setup.supply.system;
    char own[64];
    text_of(d, key, own);
    if (value < least * system || value > most * system)
        slew_doubt_add(d, key, system, "%s does not go with supply.system, %g V", own, system);
}

static void doubt_voltages(slew_doubting *d)
{
    doubt_voltage(d, slew_key_find("supply.main.voltage"), 0.6, 1.35);
    if (d->setup.supply.auxiliary_fitted)
        doubt_voltage(d, slew_key_find("supply.auxiliary.voltage"), 0.6, 1.35);
    doubt_voltage(d, slew_key_find("supply.floor"), 0, 1.1);
    doubt_voltage(d, slew_key_find("controller.brownout.voltage"), 0, 1);
    for (int axis = 0; axis < SLEW_AXES; axis++)
        doubt_voltage(d, slew_doubting_key(axis, ".motor.rated_voltage"), 0.7, 1.5);
}

/* ---- angles ---- */

static void doubt_home(slew_doubting *d, int axis)
{
    const slew_axis_setup *a = &d->setup.axis[axis];
    bool above = a->home.angle > a->stops.high, below = a->home.angle < a->stops.low;
    double middle = (a->stops.low + a->stops.high) / 2;
    bool zero = a->stops.low < 0 && 0 < a->stops.high;
    int stop = slew_doubting_key(axis, above ? ".stops.high" : ".stops.low");
    char own[64], other[64];
    if (!above && !below)
        return;
    text_of(d, slew_doubting_key(axis, ".home.angle"), own);
    text_of(d, stop, other);
    slew_doubt_add(d, slew_doubting_key(axis, ".home.angle"), zero ? 0 : middle,
                   "home at %s lies beyond %s (%s): its sensor is never reached", own,
                   slew_key_at(stop)->path, other);
}

static void doubt_span(slew_doubting *d, int axis)
{
    const slew_range *stops = &d->setup.axis[axis].stops;
    double span = stops->high - stops->low;
    if (span < 8 * DEG || span > 1000 * DEG)
        slew_doubt_add(d, slew_doubting_key(axis, ".stops.high"), NAN,
                       "from stop to stop it is %.3g deg; check that the stops are in deg",
                       span / DEG);
}

/* ---- times ---- */

static void doubt_move(slew_doubting *d, int key, double seconds)
{
    double limit = d->setup.controller.move_limit;
    if (fabs(seconds) > limit)
        slew_doubt_add(d, key, NAN, "%.4g s is longer than controller.move_limit (%.4g s) lets it",
                       seconds, limit);
}

static void doubt_limit(slew_doubting *d, int axis)
{
    const slew_axis_setup *a = &d->setup.axis[axis];
    double least = (a->stops.high - a->stops.low) * a->gear.ratio / a->motor.no_load_speed;
    double limit = d->setup.controller.move_limit;
    if (least > limit)
        slew_doubt_add(d, slew_key_find("controller.move_limit"), 3 * least,
                       "%.4g s ends a drive before the %s comes from stop to stop, in %.3g s at "
                       "least",
                       limit, slew_axis_word(axis), least);
}

static bool is_choice(const slew_deploy *deploy, int axis, double *nearest)
{
    *nearest = INFINITY;
    for (int i = 0; i < deploy->choice_count[axis]; i++)
        if (fabs(deploy->choices[axis][i] - deploy->seconds[axis]) <
            fabs(*nearest - deploy->seconds[axis]))
            *nearest = deploy->choices[axis][i];
    return deploy->choice_count[axis] == 0 || fabs(*nearest - deploy->seconds[axis]) < 1e-9;
}

static void doubt_deploy(slew_doubting *d, int axis)
{
    const slew_deploy *deploy = &d->scenario->deploy;
    const slew_range *stops = &d->setup.axis[axis].stops, *target = &deploy->target[axis];
    static const char *const seconds[] = {"deploy.seconds.rotation", "deploy.seconds.elevation"};
    static const char *const low[] = {"deploy.target.rotation.low", "deploy.target.elevation.low"};
    double nearest;
    if (!is_choice(deploy, axis, &nearest))
        slew_doubt_add(d, slew_key_find(seconds[axis]), NAN,
                       "%.4g s is none of deploy.choices.%s, the nearest is %.4g s",
                       deploy->seconds[axis], slew_axis_word(axis), nearest);
    doubt_move(d, slew_key_find(seconds[axis]), deploy->seconds[axis]);
    if (target->low > stops->high || target->high < stops->low)
        slew_doubt_add(d, slew_key_find(low[axis]), NAN,
                       "the target of the %s lies beyond its stops", slew_axis_word(axis));
}

/* ---- all of them ---- */

void slew_doubt_pairs(slew_doubting *d)
{
    slew_plant_model model;
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        doubt_home(d, axis);
        doubt_speed(d, axis);
        doubt_inertia(d, axis);
        doubt_currents(d, axis);
        doubt_span(d, axis);
        doubt_limit(d, axis);
        if (d->scenario->deploy.given)
            doubt_deploy(d, axis);
    }
    doubt_voltages(d);
    if (slew_plant_model_build(&d->setup, &model, NULL) == SLEW_OK)
        doubt_threshold(d, &model);
}
