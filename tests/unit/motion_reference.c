/* motion_reference.c - the library against a second implementation, which shares no code with it
 * and integrates by SUNDIALS CVODE (tests/reference). Runs from the project's root. */
#include "motion_compare.h"

#include <glob.h>

/* ---- Examples ---- */

static void tell_error(void *context, const slew_error *error)
{
    (void)context;
    print_message("%s:%d: %s: %s\n", error->source, error->line, error->key, error->message);
}

static void every_example_runs_the_same(void **state)
{
    static story ours;
    glob_t found;
    double time = 0.0, angle = 0.0;
    (void)state;
    assert_int_equal(glob("examples/*.yaml", 0, NULL, &found), 0);
    assert_true(found.gl_pathc > 0);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        if (strstr(found.gl_pathv[i], "/seen-") != NULL ||
            strstr(found.gl_pathv[i], "/wiring-") != NULL)
            continue; /* what was seen at a truck; a scenario without a sequence */
        const slew_reading reading = {.errors = {tell_error, NULL}};
        slew_scenario s;
        difference d;
        if (slew_scenario_read_file(found.gl_pathv[i], &reading, &s) != SLEW_OK)
            fail_msg("%s can't be read", found.gl_pathv[i]);
        compare_runs(&s, CLAIMED, NULL, &ours, &d);
        if (d.found)
            fail_msg("%s: %s", found.gl_pathv[i], d.text);
        time = fmax(time, d.time), angle = fmax(angle, d.angle);
    }
    print_message("%zu examples: worst %.1e s, %.1e rad\n", found.gl_pathc, time, angle);
    globfree(&found);
}

/* ---- Variations ---- */

/* splitmix64, public domain (Vigna) */
static uint64_t dice;

static double draw(void) /* 0 to 1 */
{
    uint64_t z = (dice += 0x9e3779b97f4a7c15u);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return (double)((z ^ (z >> 31)) >> 11) * 0x1p-53;
}

static bool chance(double share)
{
    return draw() < share;
}

static double between(double low, double high)
{
    return low + (high - low) * draw();
}

typedef struct variation {
    const char *key; /* of an axis if it begins with a dot */
    double chance, low, high;
} variation;

/* a value that the key does not take changes nothing */
static void vary(slew_scenario *s, slew_layer_id layer, const char *axis, const variation *v,
                 size_t count)
{
    for (size_t i = 0; i < count; i++) {
        char path[96];
        snprintf(path, sizeof path, "%s%s", axis, v[i].key);
        const int key = slew_key_find(path);
        if (key < 0)
            fail_msg("no key %s", path);
        if (chance(v[i].chance))
            slew_scenario_set_number(s, layer, key, between(v[i].low, v[i].high));
    }
}

#define DEGREE 0.017453292519943295

static const variation day[] = {{"supply.main.voltage", 0.6, 8.5, 15.0},
                                {"supply.main.resistance", 0.3, 0.0, 0.05},
                                {"supply.feed.length", 0.3, 0.0, 30.0},
                                {"supply.auxiliary.fitted", 0.2, 1.0, 1.0},
                                {"supply.auxiliary.voltage", 0.2, 10.0, 13.5},
                                {"supply.auxiliary.resistance", 0.2, 0.005, 0.08},
                                {"environment.temperature", 0.3, 248.0, 298.0},
                                {"environment.tilt", 0.3, 0.0, 25 * DEGREE},
                                {"environment.tilt_direction", 0.3, -180 * DEGREE, 180 * DEGREE},
                                {"nozzle.flowing", 0.3, 1.0, 1.0}};

static const variation controller[] = {{"controller.stop", 0.2, 1.0, 1.0},
                                       {"controller.sample", 0.2, 0.001, 0.05},
                                       {"controller.sample", 0.1, 0.0, 0.0},
                                       {"controller.latency", 0.2, 0.0, 0.1},
                                       {"controller.clock", 0.2, 0.001, 0.1},
                                       {"controller.clock", 0.1, 0.0, 0.0},
                                       {"controller.pause", 0.2, 0.0, 1.0},
                                       {"controller.move_limit", 0.1, 2.0, 20.0},
                                       {"controller.stall.current", 0.3, 2.0, 19.0},
                                       {"controller.stall.dwell", 0.3, 0.0, 0.5},
                                       {"controller.stall.blank", 0.3, 0.0, 0.5},
                                       {"controller.brownout.voltage", 0.3, 8.0, 14.0},
                                       {"controller.brownout.dwell", 0.2, 0.0, 30.0},
                                       {"stow.cancel_at", 0.1, 0.0, 20.0}};

static const variation axis_keys[] = {{".reversed", 0.1, 1.0, 1.0},
                                      {".motor.viscous_share", 0.2, 0.0, 1.0},
                                      {".motor.viscous_share", 0.1, 0.0, 0.0},
                                      {".motor.breakaway", 0.2, 1.0, 2.0},
                                      {".gear.efficiency", 0.3, 0.25, 0.8},
                                      {".gear.backward_efficiency", 0.1, -1.0, 0.8},
                                      {".gear.loss_coefficient", 0.2, -0.01, 0.01},
                                      {".motor.winding_rise", 0.2, 0.0, 90.0},
                                      {".motor.magnet_coefficient", 0.2, -0.003, 0.0},
                                      {".motor.magnet_share", 0.2, 0.0, 1.0},
                                      {".load.friction", 0.3, 0.0, 60.0},
                                      {".load.reaction_arm", 0.3, -0.1, 0.1},
                                      {".load.inertia", 0.2, 0.0, 10.0},
                                      {".home.present", 0.1, 0.0, 0.0},
                                      {".home.stuck", 0.05, 1.0, 1.0},
                                      {".home.angle", 0.2, -18 * DEGREE, 60 * DEGREE},
                                      {".home.operate", 0.2, 0.05 * DEGREE, 4 * DEGREE},
                                      {".overrun", 0.2, 0.0, 1.0}};

static const variation rotation[] = {{".start", 0.5, -169 * DEGREE, 169 * DEGREE}};
static const variation elevation[] = {{".start", 0.5, -19.9 * DEGREE, 89 * DEGREE},
                                      {".load.mass", 0.3, 0.0, 60.0}};
static const variation other_day[] = {{"supply.main.voltage", 0.3, 9.0, 15.0},
                                      {"environment.temperature", 0.2, 248.0, 298.0},
                                      {"nozzle.flowing", 0.1, 1.0, 1.0}};

#define COUNT(list) (sizeof(list) / sizeof *(list))

static void vary_orders(slew_scenario *s)
{
    s->stow.order = (slew_order)(1 + (int)between(0.0, 3.0));
    s->deploy.order = (slew_order)(1 + (int)between(0.0, 3.0));
    s->stow.home_order = (slew_order)(1 + (int)between(0.0, 2.0));
    if (chance(0.2))
        s->stow.lift_first = between(0.0, 3.0);
    for (int j = 0; j < SLEW_AXES; j++) {
        if (chance(0.5))
            s->deploy.seconds[j] = between(-9.0, 9.0);
        s->setup.axis[j].approach = (slew_approach)between(0.0, 3.0);
        s->setup.axis[j].search = chance(0.5) ? 1 : -1;
    }
}

static void vary_places(slew_scenario *s)
{
    if (chance(0.5)) {
        s->stow.point[0] = degrees(between(-160.0, 160.0));
        s->stow.point[1] = degrees(between(-19.8, 80.0));
    }
    if (chance(0.2)) {
        s->stow.has_times = true;
        s->stow.times[0] = between(-5.0, 5.0), s->stow.times[1] = between(-5.0, 5.0);
    }
    s->keepout.count = chance(0.5) ? 2 : 0;
    s->keepout.box[0].axis[0] = (slew_range){degrees(-25.0), degrees(25.0)};
    s->keepout.box[0].axis[1] = (slew_range){degrees(-30.0), degrees(-15.0)};
    s->keepout.box[1].axis[0] = (slew_range){degrees(between(-90, 0)), degrees(between(0, 90))};
    s->keepout.box[1].axis[1] = (slew_range){-INFINITY, degrees(between(0.0, 60.0))};
}

/* some sensors get their window from a magnet, from one that is never seen to one that is wide */
static const variation magnet_keys[] = {
    {".home.magnet.remanence", 1.0, 0.3, 1.4},      {".home.magnet.diameter", 1.0, 0.003, 0.02},
    {".home.magnet.length", 1.0, 0.002, 0.03},      {".home.magnet.radius", 1.0, 0.05, 0.3},
    {".home.magnet.gap", 1.0, 0.002, 0.012},        {".home.magnet.operate_flux", 1.0, 5e-3, 2e-2},
    {".home.magnet.release_flux", 1.0, 1e-3, 5e-3},
};

static void vary_magnets(slew_scenario *s, slew_layer_id layer)
{
    if (chance(0.2))
        vary(s, layer, "rotation", magnet_keys, COUNT(magnet_keys));
    if (chance(0.2))
        vary(s, layer, "elevation", magnet_keys, COUNT(magnet_keys));
    if (chance(0.3) && s->setup.axis[SLEW_ROTATION].home.magnet.given)
        set_key(s, SLEW_LAYER_DEPLOY_DAY, "rotation.home.magnet.gap", between(0.002, 0.02));
}

static slew_scenario variation_number(int n)
{
    slew_scenario s = daily_scenario();
    dice = (uint64_t)n * 1000003u;
    const slew_layer_id layer = chance(0.5) ? SLEW_LAYER_FILE : SLEW_LAYER_TODAY;
    vary(&s, layer, "", day, COUNT(day));
    vary(&s, layer, "", controller, COUNT(controller));
    vary(&s, layer, "rotation", axis_keys, COUNT(axis_keys));
    vary(&s, layer, "elevation", axis_keys, COUNT(axis_keys));
    vary(&s, layer, "rotation", rotation, COUNT(rotation));
    vary(&s, layer, "elevation", elevation, COUNT(elevation));
    vary(&s, SLEW_LAYER_DEPLOY_DAY, "", other_day, COUNT(other_day));
    vary_orders(&s);
    vary_places(&s);
    vary_magnets(&s, layer);
    return s;
}

enum { VARIATIONS = 200 };

static void random_variations_run_the_same(void **state)
{
    static story ours;
    const slew_error_sink quiet = {NULL, NULL};
    int same = 0, refused = 0, left_out = 0;
    double time = 0.0, angle = 0.0;
    (void)state;
    for (int n = 0; same < VARIATIONS && n < 3 * VARIATIONS; n++) {
        const slew_scenario s = variation_number(n);
        difference d;
        if (slew_scenario_check(&s, quiet, quiet) != SLEW_OK)
            continue;
        const bool both = compare_runs(&s, CREEPING, NULL, &ours, &d);
        if (d.found && is_discontinuous(&s, &ours)) {
            left_out++;
            continue;
        }
        if (d.found)
            fail_msg("variation %d: %s", n, d.text);
        same += both;
        refused += !both;
        time = fmax(time, d.time), angle = fmax(angle, d.angle);
    }
    print_message(
        "%d variations the same, %d refused by both, %d left out: worst %.1e s, %.1e rad\n", same,
        refused, left_out, time, angle);
    assert_int_equal(same, VARIATIONS);
    assert_in_range(left_out, 0, VARIATIONS / 50);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_example_runs_the_same),
        cmocka_unit_test(random_variations_run_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
