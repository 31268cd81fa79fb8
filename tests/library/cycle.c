/*
 * cycle.c - a stow and a deploy of a machine that is put together key by key, printed to the bit.
 *
 * Linked once with the core and libm alone, as a test bench, a browser or another simulator would
 * have it, and once with the whole library: core.sh compares the two. With the argument `magnet`
 * the home sensor of the rotation has one.
 */
#include <stdio.h>
#include <string.h>

#include "slewtime/run.h"

#define DEGREES (3.14159265358979323846 / 180)
#define RPM     (3.14159265358979323846 / 30)

typedef struct value {
    const char *path;
    double value; /* in SI; of a choice that of its enum */
} value;

/* invented; every other key is left at its default */
#define AXIS(name, ratio)                                                                          \
    {name ".motor.rated_voltage", 12}, {name ".motor.no_load_speed", 3200 * RPM},                  \
        {name ".motor.no_load_current", 1.2}, {name ".motor.stall_current", 20},                   \
        {name ".motor.inertia", 4.5e-5}, {name ".gear.ratio", ratio},                              \
        {name ".gear.efficiency", 0.36}, {name ".load.inertia", 2}, {name ".load.friction", 7},    \
    {                                                                                              \
        name ".home.angle", 0                                                                      \
    }

static const value MACHINE[] = {
    {"supply.main.voltage", 13.4},
    {"supply.main.resistance", 0.01},
    {"supply.shared_load", 6},
    {"supply.feed.gauge", 8},
    {"supply.feed.length", 9},
    {"supply.feed.joints", 8},
    {"supply.feed.joint_resistance", 0.0015},
    {"controller.stall.current", 13},
    AXIS("rotation", 1750),
    {"rotation.start", -30 * DEGREES},
    {"rotation.stops.low", -170 * DEGREES},
    {"rotation.stops.high", 170 * DEGREES},
    {"rotation.search", 1},
    AXIS("elevation", 2200),
    {"elevation.start", 42 * DEGREES},
    {"elevation.stops.low", -20 * DEGREES},
    {"elevation.stops.high", 90 * DEGREES},
    {"elevation.search", -1},
    {"elevation.load.mass", 11},
    {"elevation.load.centre_of_mass", 0.34},
    {"stow.home_order", SLEW_ELEVATION_FIRST},
    {"stow.order", SLEW_ROTATION_FIRST},
    {"stow.point.rotation", 0},
    {"stow.point.elevation", -16 * DEGREES},
    {"deploy.seconds.rotation", 0},
    {"deploy.seconds.elevation", 7.5},
    {"deploy.order", SLEW_ELEVATION_FIRST},
    {"deploy.target.rotation.low", -6 * DEGREES},
    {"deploy.target.rotation.high", 6 * DEGREES},
    {"deploy.target.elevation.low", 30 * DEGREES},
    {"deploy.target.elevation.high", 50 * DEGREES},
};

static const value MAGNET[] = {
    {"rotation.home.magnet.remanence", 1.2},       {"rotation.home.magnet.diameter", 0.008},
    {"rotation.home.magnet.length", 0.005},        {"rotation.home.magnet.radius", 0.12},
    {"rotation.home.magnet.gap", 0.009},           {"rotation.home.magnet.operate_flux", 0.010},
    {"rotation.home.magnet.release_flux", 0.0070},
};

static bool set(slew_scenario *s, slew_layer_id layer, const value *values, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (slew_scenario_set_number(s, layer, slew_key_find(values[i].path), values[i].value) !=
            SLEW_OK)
            return fprintf(stderr, "%s can't be set\n", values[i].path), false;
    return true;
}

#define SET(scenario, layer, values) set(scenario, layer, values, sizeof values / sizeof *(values))

static bool put_together(slew_scenario *s, bool magnet)
{
    static const value taught[] = {{"supply.main.voltage", 12.6}};
    static const value cold[] = {{"environment.temperature", 268.15}};
    slew_scenario_init(s);
    return SET(s, SLEW_LAYER_FILE, MACHINE) && SET(s, SLEW_LAYER_TEACH, taught) &&
           SET(s, SLEW_LAYER_DEPLOY_DAY, cold) && (!magnet || SET(s, SLEW_LAYER_FILE, MAGNET));
}

static void print_event(void *context, const slew_event *e)
{
    (void)context;
    printf("%s %s %d at %a: %a %a, %a V, %a A, %a J\n", slew_event_word(e->kind),
           slew_axis_word(e->axis), e->direction, e->time, e->angle[0], e->angle[1], e->voltage,
           e->current, e->energy);
}

static void print_sample(void *context, const slew_sample *s)
{
    (void)context;
    printf("%a: %a %a, %a %a, %a V, %a %a A\n", s->time, s->angle[0], s->angle[1], s->speed[0],
           s->speed[1], s->voltage, s->current[0], s->current[1]);
}

int main(int argc, char **argv)
{
    static slew_scenario scenario;
    const slew_observer observer = {.event = print_event, .sample = print_sample, .interval = 0.05};
    slew_result result;
    slew_error error;
    if (!put_together(&scenario, argc > 1 && strcmp(argv[1], "magnet") == 0))
        return 2;
    slew_status status = slew_run(&scenario, SLEW_STOW_AND_DEPLOY, &observer, &result, &error);
    if (status != SLEW_OK)
        return printf("%s %s: %s\n", status == SLEW_ERROR_MAGNET ? "SLEW_ERROR_MAGNET" : "error",
                      error.key, error.message),
               1;
    printf("stored %a %a, lowest %a V, peak %a A, %a A s, hash %016llx\n", result.stored[0],
           result.stored[1], result.lowest_voltage, result.peak_current, result.charge,
           (unsigned long long)slew_scenario_hash(&scenario));
    printf("%s, %s\n", slew_verdict_word(result.stow.says), slew_verdict_word(result.deploy.says));
    return 0;
}
