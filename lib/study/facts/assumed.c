/* assumed.c - see assumed.h. The ranges are what trucks have: common practice. */
#include "assumed.h"

#include <stdio.h>

#include "keys/fields.h"

typedef enum change { TO, TIMES } change; /* of the default */

typedef struct assumption {
    const char *path; /* beginning with a point: of each axis */
    change change;
    double low, high;
    const char *measure;
} assumption;

static const char free_run[] = "time and current of the gearmotor running free, cold and warm";
static const char travels[] = "timed travels, for slewtime fit";

static const assumption ALL[] = {
    {".motor.viscous_share", TO, 0.1, 0.5, free_run},
    {".motor.breakaway", TO, 1, 1.5, "the current at which it begins to turn"},
    {".motor.inertia", TIMES, 0.5, 2, "the rotor's inertia, from its manufacturer"},
    {".motor.no_load_current", TIMES, 0.5, 1.5, "the current of the gearmotor running free"},
    {".gear.backward_efficiency", TIMES, 0.7, 1.3, travels},
    {".load.friction", TO, 0, 10, travels},
    {".load.inertia", TO, 0, 4, "the barrel's mass and length"},
    {".overrun", TO, 0.15, 0.6, "the controller's setting"},
    {"supply.main.resistance", TO, 0, 0.020, "the battery's voltage at rest and under load"},
    {"supply.shared_load", TO, 0, 10, "the current of what else hangs on the cable"},
    {"supply.feed.stranding", TO, 0, 0.05, "the cable's voltage drop at a known current"},
    {"supply.feed.joint_resistance", TO, 0, 0.003, "the voltage across joints at a known current"},
    {"grease.viscosity_40", TIMES, 0.7, 1.5, "the grease's name, for its data sheet"},
    {"controller.drive_resistance", TO, 0.010, 0.040,
     "the voltage from supply to motor at a known current"},
    {"controller.drive_drop", TO, 0.2, 1.2, "the voltage from supply to motor at a known current"},
    {"controller.stop", TO, SLEW_BRAKE, SLEW_COAST, "how far it runs on after motor off"},
    {"controller.latency", TO, 0.005, 0.050, "the controller's data"},
    {"controller.sample", TO, 0.001, 0.020, "the controller's data"},
    {"controller.clock", TO, 0.001, 0.100, "the controller's data"},
};

enum { ALL_COUNT = sizeof ALL / sizeof ALL[0] };

/* entry `number` of all, the axes apart; -1: an axis that it does not have */
static int key_of(int number)
{
    const assumption *a = &ALL[number / SLEW_AXES];
    char path[SLEW_PATH_MAX];
    int axis = number % SLEW_AXES;
    if (a->path[0] != '.')
        return axis == 0 ? slew_key_find(a->path) : -1;
    snprintf(path, sizeof path, "%s%s", slew_axis_word(axis), a->path);
    return slew_key_find(path);
}

static bool is_varied(const slew_spread *spread, int key)
{
    for (int i = 0; i < spread->count; i++)
        if (spread->item[i].key == key)
            return true;
    return false;
}

/* a no-load current that follows from the data sheet is no assumption */
static bool follows(const slew_setup *setup, int key)
{
    int axis = slew_key_axis(key);
    if (slew_key_row_at(key)->effect != SLEW_EFFECT_MOTOR)
        return false;
    const slew_motor_sheet *m = &setup->axis[axis].motor;
    return fabs(m->no_load_current - SLEW_MOTOR_IDLE_SHARE * m->stall_current) >
           1e-9 * m->stall_current;
}

static void fill_in(const assumption *a, double own, slew_hang *out)
{
    double low = a->change == TIMES ? own * a->low : a->low;
    double high = a->change == TIMES ? own * a->high : a->high;
    out->value[0] = fmin(low, high);
    out->value[1] = own;
    out->value[2] = fmax(low, high);
    out->measure = a->measure;
}

bool slew_assumed_next(const slew_scenario *scenario, const bool *given, int *from, slew_hang *out)
{
    slew_setup setup;
    slew_scenario_resolve(scenario, SLEW_OCCASION_STOW, &setup);
    while (*from < ALL_COUNT * SLEW_AXES) {
        int number = (*from)++, key = key_of(number);
        if (key < 0 || given[key] || is_varied(&scenario->truck, key) ||
            is_varied(&scenario->day, key) || follows(&setup, key))
            continue;
        *out = (slew_hang){.key = key};
        fill_in(&ALL[number / SLEW_AXES], slew_field_get(scenario, &setup, key), out);
        return true;
    }
    return false;
}
