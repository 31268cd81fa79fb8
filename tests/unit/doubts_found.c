/* doubts_found.c - values that no truck has are named as what they are, and as the reason of a
 * failure only where they are it. Runs from the project's root. */
#include "../support.h"

static const char daily[] = "examples/daily.yaml";

typedef struct slip {
    const char *key, *value;
    const char *says;   /* in the message */
    bool is_the_reason; /* that stow or deploy fails */
} slip;

static const slip slips[] = {
    {"controller.stall.current", "17.5 A", "a stop is never noticed", false},
    {"controller.stall.current", "2 A", "running is taken for a stall", true},
    {"rotation.home.angle", "175 deg", "lies beyond rotation.stops.high (170 deg)", true},
    {"elevation.home.angle", "-25 deg", "lies beyond elevation.stops.low (-20 deg)", true},
    {"rotation.motor.no_load_speed", "1.8 rpm", "belongs into rotation.gearmotor.no_load_speed",
     true},
    {"elevation.motor.no_load_speed", "32000 rpm", "or gear.ratio (2200), is off", true},
    {"rotation.motor.inertia", "0.4 kg.m2", "it is not the load's", true},
    {"rotation.motor.no_load_current", "12 A", "not the rated current", false},
    {"supply.feed.length", "20 mm", "0.02 m, where trucks have 0.3 m to 60 m", false},
    {"elevation.load.mass", "260 kg", "260 kg, where trucks have 0 kg to 120 kg", true},
    {"elevation.load.centre_of_mass", "340 m", "check the unit", true},
    {"supply.feed.joint_resistance", "1.5 ohm", "check the unit", true},
    {"controller.drive_resistance", "20 ohm", "check the unit", true},
    {"deploy.seconds.elevation", "7 s", "none of deploy.choices.elevation, the nearest is 7.5 s",
     false},
    {"controller.move_limit", "6 s", "before the rotation comes from stop to stop", true},
    {"controller.latency", "15 s", "check the unit", false},
    {"controller.brownout.voltage", "18 V", "does not go with supply.system, 12 V", true},
    {"rotation.motor.rated_voltage", "24 V", "24 V does not go with supply.system, 12 V", false},
    {"elevation.gear.efficiency", "3.6 %", "from motor to output", true},
    {"deploy.target.elevation.low", "95 deg", "lies beyond its stops", false},
    {"rotation.home.operate", "0.05 deg", "where trucks have 0.2 deg to 30 deg", false},
    {"environment.temperature", "-55 degC", "where trucks have", true},
};

static slew_scenario with(const char *key, const char *value)
{
    slew_scenario s;
    const slew_error_sink none = {0};
    assert_int_equal(slew_scenario_read_file(daily, NULL, &s), SLEW_OK);
    assert_int_equal(slew_scenario_set(&s, SLEW_LAYER_FILE, key, value, none), SLEW_OK);
    return s;
}

static void a_slip_is_named_as_what_it_is(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof slips / sizeof slips[0]; i++) {
        slew_doubt list[SLEW_DOUBTS_MAX];
        slew_scenario s = with(slips[i].key, slips[i].value);
        int count = slew_scenario_doubts(&s, list);
        if (count != 1)
            fail_msg("%s=%s: %d doubts", slips[i].key, slips[i].value, count);
        assert_string_equal(slew_key_at(list[0].key)->path, slips[i].key);
        if (strstr(list[0].message, slips[i].says) == NULL)
            fail_msg("%s: %s", slips[i].key, list[0].message);
        int cause = slew_doubts_cause(&s, SLEW_STOW_AND_DEPLOY, list, count);
        if (cause != (slips[i].is_the_reason ? 0 : -1))
            fail_msg("%s=%s: reason %d", slips[i].key, slips[i].value, cause);
    }
}

/* it is told with the layer that sets it, so that its place in the file can be found */
static void a_slip_of_a_layer_is_told_with_it(void **state)
{
    (void)state;
    slew_scenario s;
    slew_doubt list[SLEW_DOUBTS_MAX];
    const slew_error_sink none = {0};
    assert_int_equal(slew_scenario_read_file(daily, NULL, &s), SLEW_OK);
    assert_int_equal(
        slew_scenario_set(&s, SLEW_LAYER_TODAY, "supply.feed.joint_resistance", "15 ohm", none),
        SLEW_OK);
    assert_int_equal(slew_scenario_doubts(&s, list), 1);
    assert_int_equal(list[0].layer, SLEW_LAYER_TODAY);
}

static void what_fails_for_another_reason_is_not_blamed_on_a_slip(void **state)
{
    (void)state;
    slew_scenario s = with("supply.feed.length", "20 mm");
    slew_doubt list[SLEW_DOUBTS_MAX];
    const slew_error_sink none = {0};
    assert_int_equal(slew_scenario_set(&s, SLEW_LAYER_TODAY, "rotation.home.present", "no", none),
                     SLEW_OK);
    int count = slew_scenario_doubts(&s, list);
    assert_int_equal(count, 1);
    assert_int_equal(slew_doubts_cause(&s, SLEW_STOW_AND_DEPLOY, list, count), -1);
}

static void examples_are_above_doubt(void **state)
{
    (void)state;
    static const char *const files[] = {"daily",
                                        "fireboat-24v",
                                        "foam-trailer",
                                        "foam-trailer-auxiliary",
                                        "mast-on-the-way",
                                        "sheet-pickup",
                                        "sheet-24v",
                                        "sheet-mast",
                                        "reaction-arm",
                                        "story",
                                        "trouble-call",
                                        "weak-magnet",
                                        "clearance-enough",
                                        "dead-sensor",
                                        "warm-stow-cold-deploy"};
    for (size_t i = 0; i < sizeof files / sizeof files[0]; i++) {
        char path[128];
        slew_scenario s;
        slew_doubt list[SLEW_DOUBTS_MAX];
        snprintf(path, sizeof path, "examples/%s.yaml", files[i]);
        assert_int_equal(slew_scenario_read_file(path, NULL, &s), SLEW_OK);
        if (slew_scenario_doubts(&s, list) != 0)
            fail_msg("%s: %s %s", path, slew_key_at(list[0].key)->path, list[0].message);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_slip_is_named_as_what_it_is),
        cmocka_unit_test(a_slip_of_a_layer_is_told_with_it),
        cmocka_unit_test(what_fails_for_another_reason_is_not_blamed_on_a_slip),
        cmocka_unit_test(examples_are_above_doubt),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
