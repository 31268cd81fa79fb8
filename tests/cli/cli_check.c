/* cli_check.c - `slewtime check`: what follows from a file, in text and JSON; values that no truck
 * has; and the same as the reason of a failed run. */
#include "document.h"

static char root[512];
static char daily[600];

static int enter(void **state)
{
    if (getcwd(root, sizeof root) == NULL)
        return -1;
    snprintf(daily, sizeof daily, "%s/examples/daily.yaml", root);
    return enter_directory(state);
}

static void text_tells_what_follows_for_each_axis(void **state)
{
    (void)state;
    outcome o = TOOL("check", daily);
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    has(o.out,
        "daily.yaml: ok\n"
        "The stow point can be taught.\nFrom stop to stop: rotation 31.2 s, elevation 13.3 s.\n"
        "A stall is noticed on both axes (threshold 13 A).\n"
        "1 key left to its default moves an end by up to 0.0");
    has(o.out, "\n  elevation today\n    down    8.7 °/s where it is slowest, 1.6 A");
    has(o.out, "13.3 s from stop to stop\n");
    has(o.out, "draws up to 2.8 A running, 18.6 A at motor on and stalled; stall threshold 13 A is "
               "between them\n");
    has(o.out, "locks itself (backward efficiency -78 %)\n");
    has(o.out, "home at 0°, 20° from the lower stop, 90° from the upper stop\n");
    has(o.out, "stow point -16° from home, 4° from the nearer stop\n");
    free_outcome(&o);
}

static void a_stall_that_is_not_noticed_is_said_first(void **state)
{
    (void)state;
    outcome o = TOOL("check", daily, "--today", "controller.stall.current=25 A", "--quiet");
    has(o.out, "\nThe stall threshold of 25 A does NOT lie between running and stalled current: "
               "both axes.\n");
    free_outcome(&o);
}

static void text_tells_what_follows_from_a_data_sheet(void **state)
{
    (void)state;
    char sheet[600];
    snprintf(sheet, sizeof sheet, "%s/examples/sheet-pickup.yaml", root);
    outcome o = TOOL("check", sheet);
    has(o.out, "  rotation today\n    motor.no_load_speed is 3150 rpm, from its data sheet\n");
    has(o.out, "    gear.efficiency is ");
    has(o.out, "    motor.inertia is 4.527e-05 kg.m2, by default (a mechanical time constant of 20 "
               "ms)\n");
    has_not(o.out, "motor.no_load_current is");
    free_outcome(&o);
    o = TOOL("check", sheet, "--json");
    has(o.out, "\"key\": \"rotation.motor.stall_current\"");
    free_outcome(&o);
}

/* truck.yaml leaves the shares to their defaults, and has no spread */
static void text_says_what_the_answers_hang_on(void **state)
{
    (void)state;
    outcome o = TOOL("check", "truck.yaml", "--spread",
                     "environment.temperature=uniform -10 degC..35 degC");
    assert_int_equal(o.code, 0);
    has(o.out, "\nThe answers hang on these defaults.");
    has(o.out, "  elevation.motor.viscous_share      30 %");
    has(o.out, "  Measure for ");
    free_outcome(&o);
    o = TOOL("check", "truck.yaml", "--set", "elevation.motor.viscous_share=30 %", "--spread",
             "environment.temperature=uniform -10 degC..35 degC");
    has_not(o.out, "  elevation.motor.viscous_share");
    free_outcome(&o);
}

static void json_tells_the_same(void **state)
{
    (void)state;
    outcome o = TOOL("check", "truck.yaml", "--json");
    assert_int_equal(o.code, 0);
    json_t *all = json_loads(o.out, 0, NULL);
    assert_non_null(all);
    const json_t *elevation = json_object_get(all, "elevation");
    assert_true(
        json_number_value(json_object_get(json_object_get(elevation, "up"), "stop_to_stop_s")) > 1);
    assert_true(json_is_true(json_object_get(elevation, "self_locking")));
    assert_true(json_array_size(json_object_get(all, "hangs_on")) > 0);
    assert_int_equal(json_array_size(json_object_get(all, "doubts")), 0);
    const json_t *first = json_array_get(json_object_get(all, "hangs_on"), 0);
    assert_int_equal(json_array_size(json_object_get(first, "tried")), 3);
    assert_true(json_is_string(json_object_get(first, "measure")));
    json_decref(all);
    free_outcome(&o);
}

static void a_slip_is_a_warning_with_its_place(void **state)
{
    (void)state;
    outcome o = TOOL("check", daily, "--set", "supply.feed.length=20 mm");
    assert_int_equal(o.code, 0);
    has(o.err, "slewtime:--set: warning: supply.feed.length: 0.02 m, where trucks have 0.3 m to 60 "
               "m; check the unit, and that it is one way\n");
    free_outcome(&o);
    o = TOOL("check", daily, "--set", "supply.feed.length=20 mm", "--quiet");
    assert_string_equal(o.err, "");
    free_outcome(&o);
    o = TOOL("check", daily, "--set", "supply.feed.length=20 mm", "--json", "--quiet");
    has(o.out, "\"key\": \"supply.feed.length\"");
    free_outcome(&o);
}

/* not "timeout", and not "a home sensor that works" */
static void a_slip_that_is_why_nothing_is_taught_is_the_error(void **state)
{
    (void)state;
    static const char *const sets[][2] = {
        {"rotation.motor.inertia=0.4 kg.m2", "rotation.motor.inertia: 0.4 kg.m2 of a rotor"},
        {"rotation.home.angle=175 deg", "lies beyond rotation.stops.high (170 deg)"},
        {"rotation.motor.no_load_speed=1.8 rpm", "belongs into rotation.gearmotor.no_load_speed"},
        {"elevation.load.centre_of_mass=340 m", "elevation.load.centre_of_mass: 340 m, where"}};
    for (size_t i = 0; i < sizeof sets / sizeof sets[0]; i++) {
        outcome o = TOOL("run", daily, "--set", sets[i][0]);
        assert_int_equal(o.code, 2);
        has(o.err, "slewtime:--set: error: ");
        has(o.err, sets[i][1]);
        has_not(o.err, "home sensor that works");
        has_not(o.err, "expected");
        free_outcome(&o);
    }
}

static void a_run_says_which_slip_it_fails_by(void **state)
{
    (void)state;
    outcome o = TOOL("run", daily, "--set", "elevation.load.mass=260 kg");
    has(o.out, "! It ends so because of elevation load mass: 260 kg, where");
    free_outcome(&o);
    o = TOOL("run", daily, "--set", "supply.feed.length=20 mm", "--today",
             "rotation.home.present=no");
    has_not(o.out, "It ends so because");
    free_outcome(&o);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text_tells_what_follows_for_each_axis),
        cmocka_unit_test(a_stall_that_is_not_noticed_is_said_first),
        cmocka_unit_test(text_tells_what_follows_from_a_data_sheet),
        cmocka_unit_test(text_says_what_the_answers_hang_on),
        cmocka_unit_test(json_tells_the_same),
        cmocka_unit_test(a_slip_is_a_warning_with_its_place),
        cmocka_unit_test(a_slip_that_is_why_nothing_is_taught_is_the_error),
        cmocka_unit_test(a_run_says_which_slip_it_fails_by),
    };
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
