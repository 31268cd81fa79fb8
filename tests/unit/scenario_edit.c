/* scenario_edit.c - values put into the text of a scenario, everything else left as it stands. */
#include "../support.h"

#include <stdlib.h>

#include "slewtime/edit.h"

static void becomes(const char *before, slew_edit edit, const char *after)
{
    slew_error error = {0};
    char *text = slew_scenario_edit(before, &edit, 1, &error);
    if (text == NULL)
        fail_msg("%s", error.message);
    assert_string_equal(text, after);
    free(text);
}

static void a_value_is_replaced_where_it_stands(void **state)
{
    const slew_edit volts = {"", "supply.main.voltage", "12.9 V", false};
    (void)state;
    becomes("# my truck\nsupply:\n  main: {voltage: 13.4 V, resistance: 10 mohm}   # alternator\n",
            volts,
            "# my truck\nsupply:\n  main: {voltage: 12.9 V, resistance: 10 mohm}   # alternator\n");
    becomes("supply:\n  main:\n    voltage:   13.4 V # measured\n    resistance: 0 ohm\n", volts,
            "supply:\n  main:\n    voltage:   12.9 V # measured\n    resistance: 0 ohm\n");
    becomes("supply.main.voltage: \"13.4 V\"\n", volts, "supply.main.voltage: 12.9 V\n");
    becomes("title: x\nsupply.main: {voltage: '13 V'}", volts,
            "title: x\nsupply.main: {voltage: 12.9 V}");
    becomes("supply:\n  main:\n    voltage: >\n      13.4\n      V\n    resistance: 0 ohm\n", volts,
            "supply:\n  main:\n    voltage: 12.9 V\n    resistance: 0 ohm\n");
}

static void bytes_and_characters_are_not_the_same(void **state)
{
    const slew_edit degrees_ = {"", "environment.tilt", "3 deg", false};
    (void)state;
    becomes("# größer, 20 °C, 火\nenvironment: {temperature: 20 °C, tilt: 5°} # schräg\n", degrees_,
            "# größer, 20 °C, 火\nenvironment: {temperature: 20 °C, tilt: 3 deg} # schräg\n");
    becomes("\xEF\xBB\xBF# é\r\nenvironment:\r\n  tilt: 5 deg\r\n", degrees_,
            "\xEF\xBB\xBF# é\r\nenvironment:\r\n  tilt: 3 deg\r\n");
}

static void a_key_that_is_not_there_is_added(void **state)
{
    const slew_edit share = {"", "elevation.motor.viscous_share", "27 %", false};
    (void)state;
    becomes("elevation:\n  motor:\n    inertia: 1 kg.m2 # rotor\n  start: 2 deg\n", share,
            "elevation:\n  motor:\n    inertia: 1 kg.m2 # rotor\n    viscous_share: 27 %\n"
            "  start: 2 deg\n");
    becomes("elevation:\n  motor: {inertia: 1 kg.m2,\n    breakaway: 1.2}\n", share,
            "elevation:\n  motor: {inertia: 1 kg.m2,\n    breakaway: 1.2, viscous_share: 27 %}\n");
    becomes("elevation:\n  start: 2 deg\nstow:\n  order: together", share,
            "elevation:\n  start: 2 deg\n  motor.viscous_share: 27 %\nstow:\n  order: together");
    becomes("title: no axis\n", share, "title: no axis\nelevation.motor.viscous_share: 27 %\n");
    becomes("{}", share, "{elevation.motor.viscous_share: 27 %}");
    becomes("elevation: 5\n", share, "elevation: 5\nelevation.motor.viscous_share: 27 %\n");
    becomes("\"\": 5\n", share, "\"\": 5\nelevation.motor.viscous_share: 27 %\n");
    becomes("elevatio: {motor: {}}\n", share,
            "elevatio: {motor: {}}\nelevation.motor.viscous_share: 27 %\n");
    becomes("elevations: {motor: {}}\n", share,
            "elevations: {motor: {}}\nelevation.motor.viscous_share: 27 %\n");
    becomes("{title: no axis}", share, "{title: no axis, elevation.motor.viscous_share: 27 %}");
    becomes("elevation:\n  motor:\n", share, "elevation:\n  motor: {viscous_share: 27 %}\n");
    becomes("elevation: {motor: {}}\n", share, "elevation: {motor: {viscous_share: 27 %}}\n");
}

static void layers_and_spread_are_groups(void **state)
{
    const slew_edit cold = {"today", "environment.temperature", "-5 degC", false};
    const slew_edit spread = {"spread.truck", "elevation.gear.efficiency",
                              "{normal: {mean: 35 %, sd: 1 %}}", true};
    (void)state;
    becomes("title: x\n", cold, "title: x\ntoday: {environment.temperature: -5 degC}\n");
    becomes("today:\n  environment: {temperature: 3 degC}\n", cold,
            "today:\n  environment: {temperature: -5 degC}\n");
    becomes("today: ~\ntitle: x\n", cold, "today: {environment.temperature: -5 degC}\ntitle: x\n");
    becomes("spread:\n  day:\n    a: 1\n", spread,
            "spread:\n  day:\n    a: 1\n"
            "  truck: {elevation.gear.efficiency: {normal: {mean: 35 %, sd: 1 %}}}\n");
    becomes("spread:\n  truck:\n    elevation.gear.efficiency:\n      uniform:\n        low: 30 %\n"
            "        high: 40 %   # a guess\n    b: 2\n",
            spread,
            "spread:\n  truck:\n    elevation.gear.efficiency:\n      {normal: {mean: 35 %, sd: 1 "
            "%}}   # a guess\n    b: 2\n");
    becomes("spread.truck: {b: 2}\n", spread,
            "spread.truck: {b: 2, elevation.gear.efficiency: {normal: {mean: 35 %, sd: 1 %}}}\n");
}

static void lists_have_numbers_and_one_more(void **state)
{
    const slew_edit more = {"spread.correlation", "+", "{between: [a, b], coefficient: 0.5}", true};
    const slew_edit second = {"spread.correlation", "1.coefficient", "-0.25", false};
    (void)state;
    becomes("title: x\n", more,
            "title: x\nspread.correlation: [{between: [a, b], coefficient: 0.5}]\n");
    becomes("spread:\n  correlation:\n  day: {c: 1}\n", more,
            "spread:\n  correlation: [{between: [a, b], coefficient: 0.5}]\n  day: {c: 1}\n");
    becomes("spread: {correlation: [{between: [c, d], coefficient: 0.1}]}\n", more,
            "spread: {correlation: [{between: [c, d], coefficient: 0.1}, {between: [a, b], "
            "coefficient: 0.5}]}\n");
    becomes("spread:\n  correlation:\n    - between: [c, d]\n      coefficient: 0.1 # low\n"
            "  day: {c: 1}\n",
            more,
            "spread:\n  correlation:\n    - between: [c, d]\n      coefficient: 0.1 # low\n"
            "    - {between: [a, b], coefficient: 0.5}\n  day: {c: 1}\n");
    becomes("spread:\n  correlation:\n  - {between: [c, d], coefficient: 0.1}\n  day: {c: 1}\n",
            more,
            "spread:\n  correlation:\n  - {between: [c, d], coefficient: 0.1}\n"
            "  - {between: [a, b], coefficient: 0.5}\n  day: {c: 1}\n");
    becomes("spread.correlation:\n  - {coefficient: 0.1}\n  - coefficient: 0.2 # high\n", second,
            "spread.correlation:\n  - {coefficient: 0.1}\n  - coefficient: -0.25 # high\n");
}

static void words_are_quoted_where_they_need_it(void **state)
{
    (void)state;
    becomes("{stow: {order: x}}", (slew_edit){"", "stow.order", "rotation, elevation", false},
            "{stow: {order: \"rotation, elevation\"}}");
    becomes("title: x", (slew_edit){"", "title", "a \"b\": c\\d # e", false},
            "title: \"a \\\"b\\\": c\\\\d # e\"");
    becomes("title: x", (slew_edit){"", "title", "-", false}, "title: \"-\"");
    becomes("title: x", (slew_edit){"", "title", "+5 V", false}, "title: +5 V");
    becomes("title: x", (slew_edit){"", "title", ".5 V", false}, "title: .5 V");
    becomes("title: x", (slew_edit){"", "title", ".", false}, "title: \".\"");
    becomes("title: x", (slew_edit){"", "title", "x ", false}, "title: \"x \"");
    becomes("title: x", (slew_edit){"", "title", "X:", false}, "title: \"X:\"");
    becomes("title: x", (slew_edit){"", "title", "null", false}, "title: \"null\"");
    becomes("title: x", (slew_edit){"", "title", "", false}, "title: \"\"");
}

static void what_is_no_map_is_refused(void **state)
{
    const slew_edit edit = {"", "title", "x", false};
    slew_error error = {0};
    (void)state;
    assert_null(slew_scenario_edit("[1, 2]", &edit, 1, &error));
    assert_int_equal(error.status, SLEW_ERROR_INPUT);
    assert_null(slew_scenario_edit("a: {b", &edit, 1, &error));
    assert_null(slew_scenario_edit("", &edit, 1, &error));
    const slew_edit two[] = {{"", "title", "{", true}, edit};
    assert_null(slew_scenario_edit("title: x", two, 2, &error));
    assert_string_equal(error.message, "the text is no scenario any more");
    assert_null(slew_scenario_edit("", &edit, 1, NULL));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_value_is_replaced_where_it_stands),
        cmocka_unit_test(bytes_and_characters_are_not_the_same),
        cmocka_unit_test(a_key_that_is_not_there_is_added),
        cmocka_unit_test(layers_and_spread_are_groups),
        cmocka_unit_test(lists_have_numbers_and_one_more),
        cmocka_unit_test(words_are_quoted_where_they_need_it),
        cmocka_unit_test(what_is_no_map_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
