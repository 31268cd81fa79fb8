/* timing.c - one row simulated: what stopwatch, voltmeter and clamp would show. M12.1, M12.2 */
#include "slewtime/timing.h"

#include "study/drive/fastest.h"

#include "error/error.h"
#include "slewtime/plant.h"

#include <stdio.h>

/* an axis that has not arrived by then has stalled [s] */
static const double LONGEST = 600;

/* an angle this close to a stop is the stop [rad] */
static const double TOUCH = 1e-9;

enum { HALF_WAY, ARRIVED }; /* tags of marks */

typedef struct travel {
    const slew_timing *row;
    slew_setup setup; /* with the row's conditions */
    slew_plant_model model;
    double from, to;                  /* [rad] */
    slew_plant_event_kind arrives_by; /* the event that stops the clock */
} travel;

static slew_status refuse(const slew_timing *row, slew_error *error, const char *key,
                          const char *message, const char *expected)
{
    slew_refuse(error, key, message, expected);
    if (error)
        error->line = row->line;
    return SLEW_ERROR_INPUT;
}

/* ---- conditions ---- */

static void set_conditions(slew_setup *setup, const slew_timing *row)
{
    if (!isnan(row->supply))
        setup->supply.main.voltage = row->supply;
    if (!isnan(row->temperature))
        setup->environment.temperature = row->temperature;
    if (!isnan(row->winding_rise) && row->axis != SLEW_NO_AXIS)
        setup->axis[row->axis].motor.winding_rise = row->winding_rise;
    if (!isnan(row->pressure)) {
        setup->nozzle.flowing = row->pressure > 0;
        if (row->pressure > 0)
            setup->nozzle.pressure = row->pressure;
    }
}

static slew_status build(travel *t, slew_error *error)
{
    slew_status status = slew_plant_model_build(&t->setup, &t->model, error);
    t->model.watch_voltage[0] = t->model.watch_voltage[1] = -INFINITY;
    for (int j = 0; j < SLEW_AXES; j++)
        t->model.axis[j].watch_current = INFINITY;
    if (status != SLEW_OK && error)
        error->line = t->row->line;
    return status;
}

/* the axes that the row does not name stand where stowing begins */
static slew_status check_others(const travel *t, slew_error *error)
{
    static const char *const keys[SLEW_AXES] = {"rotation.start", "elevation.start"};
    for (int j = 0; j < SLEW_AXES; j++) {
        const slew_axis_setup *axis = &t->setup.axis[j];
        bool within = axis->start >= axis->stops.low && axis->start <= axis->stops.high;
        if (j != t->row->axis && !within)
            return refuse(t->row, error, keys[j], "the axis that stands still is beyond a stop",
                          "an angle between the stops of its axis");
    }
    return SLEW_OK;
}

/* ---- places ---- */

static double angle_of(const slew_axis_setup *axis, const slew_place *place)
{
    switch (place->kind) {
    case SLEW_PLACE_LOW_STOP:
        return axis->stops.low;
    case SLEW_PLACE_HIGH_STOP:
        return axis->stops.high;
    case SLEW_PLACE_HOME:
        return axis->home.angle;
    default:
        return place->angle;
    }
}

static slew_status check_within(const travel *t, const char *key, double *angle, slew_error *error)
{
    const slew_range *stops = &t->setup.axis[t->row->axis].stops;
    char message[120];
    if (!(*angle >= stops->low - TOUCH && *angle <= stops->high + TOUCH)) {
        snprintf(message, sizeof message, "%.6g deg lies beyond the stops, %.6g to %.6g deg",
                 slew_in_degrees(*angle), slew_in_degrees(stops->low),
                 slew_in_degrees(stops->high));
        return refuse(t->row, error, key, message, "a place between the stops of the axis");
    }
    *angle = fmin(fmax(*angle, stops->low), stops->high);
    return SLEW_OK;
}

static slew_status check_sensor(const travel *t, slew_error *error)
{
    const slew_home *home = &t->setup.axis[t->row->axis].home;
    if (!home->present || home->stuck)
        return refuse(t->row, error, "to", "the home sensor of this axis never closes",
                      "to_deg, low_stop or high_stop, or a sensor that works");
    if (fabs(t->from - home->angle) <= home->operate)
        return refuse(t->row, error, "to", "the home sensor is closed already where it starts",
                      "a start outside the sensor's window");
    return SLEW_OK;
}

static slew_status check_direction(const travel *t, slew_error *error)
{
    char message[120];
    double way = (t->to - t->from) * t->row->direction;
    if (way > TOUCH)
        return SLEW_OK;
    if (fabs(way) <= TOUCH)
        return refuse(t->row, error, "to", "from and to are the same place", "two places");
    snprintf(message, sizeof message, "from %.6g to %.6g deg is against the direction",
             slew_in_degrees(t->from), slew_in_degrees(t->to));
    return refuse(t->row, error, "direction", message, "the direction in which the axis turns");
}

static void choose_arrival(travel *t)
{
    const slew_range *stops = &t->setup.axis[t->row->axis].stops;
    bool stop = t->row->direction > 0 ? t->to == stops->high : t->to == stops->low;
    t->arrives_by = t->row->to.kind == SLEW_PLACE_HOME ? SLEW_PLANT_SWITCH_CLOSED
                    : stop                             ? SLEW_PLANT_STOP_CONTACT
                                                       : SLEW_PLANT_MARK;
}

static slew_status find_places(travel *t, slew_error *error)
{
    const slew_axis_setup *axis = &t->setup.axis[t->row->axis];
    t->from = angle_of(axis, &t->row->from);
    t->to = angle_of(axis, &t->row->to);
    if (t->row->to.kind == SLEW_PLACE_HOME)
        t->to -= t->row->direction * axis->home.operate;
    slew_status status = check_within(t, "from", &t->from, error);
    if (status != SLEW_OK || t->row->to.kind == SLEW_PLACE_NONE)
        return status;
    if (t->row->to.kind == SLEW_PLACE_HOME)
        status = check_sensor(t, error);
    if (status == SLEW_OK)
        status = check_within(t, "to", &t->to, error);
    if (status == SLEW_OK)
        status = check_direction(t, error);
    choose_arrival(t);
    return status;
}

/* ---- driving ---- */

static void drive(const travel *t, slew_plant *plant)
{
    int axis = t->row->axis;
    double angle[SLEW_AXES] = {t->setup.axis[SLEW_ROTATION].start,
                               t->setup.axis[SLEW_ELEVATION].start};
    if (axis != SLEW_NO_AXIS && t->row->from.kind != SLEW_PLACE_NONE)
        angle[axis] = t->from;
    slew_plant_start(&t->model, angle, plant);
    if (t->row->direction != 0)
        slew_plant_drive(&t->model, plant, axis, t->row->direction * (int)t->model.axis[axis].sign);
}

static void read_meters(const travel *t, const slew_plant *plant, slew_timed *out)
{
    out->value[SLEW_MEASURE_VOLTAGE] = plant->voltage;
    if (t->row->direction != 0)
        out->value[SLEW_MEASURE_CURRENT] = plant->current[t->row->axis];
}

static slew_status does_not_arrive(const travel *t, const slew_plant *plant, slew_error *error)
{
    char message[120];
    if (plant->does_not_hold)
        snprintf(message, sizeof message, "an axis is moved by its load, it would not hold");
    else
        snprintf(message, sizeof message, "simulated, the axis stalls at %.4g deg",
                 slew_in_degrees(plant->angle[t->row->axis]));
    return refuse(t->row, error, "", message,
                  "figures with which the travel can be made, to start from");
}

static bool has_arrived(const travel *t, const slew_plant_event *event)
{
    return event->kind == t->arrives_by && event->axis == t->row->axis &&
           (event->kind != SLEW_PLANT_MARK || event->index == ARRIVED);
}

static slew_status go(travel *t, slew_timed *out, slew_error *error)
{
    slew_plant plant;
    const slew_mark half = {t->from + (t->to - t->from) / 2, 1, HALF_WAY};
    const slew_mark end = {t->to, 1, ARRIVED};
    slew_plant_model_watch_angle(&t->model, t->row->axis, half);
    if (t->arrives_by == SLEW_PLANT_MARK)
        slew_plant_model_watch_angle(&t->model, t->row->axis, end);
    drive(t, &plant);
    while (plant.time < LONGEST && !slew_plant_is_over(&plant)) {
        slew_plant_event event = slew_plant_advance(&t->model, &plant, LONGEST);
        if (event.kind == SLEW_PLANT_MARK && event.index == HALF_WAY)
            read_meters(t, &plant, out);
        if (has_arrived(t, &event)) {
            out->value[SLEW_MEASURE_SECONDS] = plant.time;
            return SLEW_OK;
        }
    }
    return does_not_arrive(t, &plant, error);
}

static slew_status stand(const travel *t, slew_timed *out, slew_error *error)
{
    slew_plant plant;
    drive(t, &plant);
    slew_plant_advance(&t->model, &plant, 0);
    read_meters(t, &plant, out);
    return slew_plant_is_over(&plant) ? does_not_arrive(t, &plant, error) : SLEW_OK;
}

slew_status slew_timing_simulate(const slew_setup *setup, const slew_timing *row, slew_timed *out,
                                 slew_error *error)
{
    if (setup == NULL || row == NULL || out == NULL)
        return slew_no_argument(error);
    travel t = {.row = row, .setup = *setup};
    *out = (slew_timed){.value = {NAN, NAN, NAN}};
    if (row->to.kind == SLEW_PLACE_STOW_POINT)
        return refuse(row, error, "to", "a stored time is no travel of its own", "");
    set_conditions(&t.setup, row);
    slew_status status = build(&t, error);
    if (status == SLEW_OK)
        status = check_others(&t, error);
    if (status == SLEW_OK && row->axis != SLEW_NO_AXIS && row->from.kind != SLEW_PLACE_NONE)
        status = find_places(&t, error);
    if (status != SLEW_OK)
        return status;
    bool travels = row->to.kind != SLEW_PLACE_NONE;
    out->travel = travels ? t.to - t.from : 0;
    return travels ? go(&t, out, error) : stand(&t, out, error);
}

/* ---- as fast as can be ---- */

/* without friction, helped by the largest load if that can drive the gear backward */
double slew_timing_fastest(const slew_setup *setup, const slew_timing *row, double voltage)
{
    travel t = {.row = row, .setup = *setup};
    set_conditions(&t.setup, row);
    t.setup.supply.main.voltage = voltage;
    if (build(&t, NULL) != SLEW_OK)
        return INFINITY;
    const slew_plant_axis *a = &t.model.axis[row->axis];
    double help = fmax(a->backward, 0) * a->largest_torque / a->ratio;
    double resistance = a->resistance + t.model.line_resistance;
    return ((voltage - a->drop) / a->constant + help * resistance / (a->constant * a->constant)) /
           a->ratio;
}
