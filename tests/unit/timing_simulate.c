/* timing_simulate.c - one row of timed travel: against the reference solver, against formulas, and
 * what can't be. */
#include "fit_both.h"

enum { R = SLEW_ROTATION, E = SLEW_ELEVATION };

/* What two implementations of lib/MODEL.md agree on; see motion_reference.c. */
static const double TIME = 1e-6, METER = 1e-5;

static slew_setup today_of(const slew_scenario *s)
{
    slew_setup setup;
    slew_scenario_resolve(s, SLEW_OCCASION_STOW, &setup);
    return setup;
}

static slew_timed simulated(const slew_setup *setup, const slew_timing *row)
{
    slew_timed timed;
    slew_error error;
    if (slew_timing_simulate(setup, row, &timed, &error) != SLEW_OK)
        fail_msg("%s: %s", error.key, error.message);
    return timed;
}

/* ---- against the reference ---- */

static void agrees(const slew_setup *setup, const slew_timing *row)
{
    slew_timed ours = simulated(setup, row), theirs = reference_row(*setup, row);
    near("seconds", ours.value[SLEW_MEASURE_SECONDS], theirs.value[SLEW_MEASURE_SECONDS], TIME);
    near("volts", ours.value[SLEW_MEASURE_VOLTAGE], theirs.value[SLEW_MEASURE_VOLTAGE], METER);
    near("amps", ours.value[SLEW_MEASURE_CURRENT], theirs.value[SLEW_MEASURE_CURRENT], METER);
}

static void travels_are_those_of_the_reference(void **state)
{
    const slew_scenario s = daily_scenario();
    slew_setup setup = today_of(&s);
    (void)state;
    for (int axis = R; axis <= E; axis++)
        for (int direction = -1; direction <= 1; direction += 2) {
            slew_timing row = stop_to_stop(axis, direction);
            agrees(&setup, &row);
            row.supply = 11.7;
            row.temperature = celsius(-5);
            agrees(&setup, &row);
            row.winding_rise = 45;
            agrees(&setup, &row);
            row.pressure = 7e5;
            agrees(&setup, &row);
            row.to = at_place(SLEW_PLACE_HOME);
            agrees(&setup, &row);
            row.to = at_degrees(5.0 * direction);
            agrees(&setup, &row);
            row.from = at_place(SLEW_PLACE_HOME);
            row.to = at_degrees(15.0 * direction);
            agrees(&setup, &row);
        }
}

static void a_tilted_base_and_a_reversed_motor(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.setup.environment.tilt = degrees(5);
    s.setup.environment.tilt_direction = degrees(70);
    s.setup.axis[E].reversed = true;
    s.setup.axis[R].reversed = true;
    slew_setup setup = today_of(&s);
    for (int axis = R; axis <= E; axis++) {
        slew_timing row = stop_to_stop(axis, 1);
        agrees(&setup, &row);
    }
}

/* ---- against formulas ---- */

static void a_pressed_motor_draws_what_its_resistance_lets_through(void **state)
{
    const slew_scenario s = daily_scenario();
    slew_setup setup = today_of(&s);
    slew_plant_model model;
    (void)state;
    assert_int_equal(slew_plant_model_build(&setup, &model, NULL), SLEW_OK);
    slew_timing row = travel(E, -1, at_place(SLEW_PLACE_LOW_STOP), at_place(SLEW_PLACE_NONE));
    slew_timed timed = simulated(&setup, &row);
    double current = (model.line_voltage - model.axis[E].drop) /
                     (model.axis[E].resistance + model.line_resistance);
    close_to("amps", timed.value[SLEW_MEASURE_CURRENT], current, 1e-12);
    close_to("volts", timed.value[SLEW_MEASURE_VOLTAGE],
             model.line_voltage - model.line_resistance * current, 1e-12);
    assert_true(isnan(timed.value[SLEW_MEASURE_SECONDS]));
    assert_true(timed.travel == 0);
}

static void with_the_drives_off_the_voltage_is_that_of_the_line(void **state)
{
    const slew_scenario s = daily_scenario();
    slew_setup setup = today_of(&s);
    slew_plant_model model;
    (void)state;
    slew_timing row = travel(SLEW_NO_AXIS, 0, at_place(SLEW_PLACE_NONE), at_place(SLEW_PLACE_NONE));
    row.supply = 12.1;
    setup.supply.main.voltage = 12.1;
    assert_int_equal(slew_plant_model_build(&setup, &model, NULL), SLEW_OK);
    setup.supply.main.voltage = 13.4;
    slew_timed timed = simulated(&setup, &row);
    assert_true(timed.value[SLEW_MEASURE_VOLTAGE] == model.line_voltage);
    assert_true(isnan(timed.value[SLEW_MEASURE_CURRENT]));
}

static void a_place_on_a_stop_is_the_stop(void **state)
{
    const slew_scenario s = daily_scenario();
    slew_setup setup = today_of(&s);
    (void)state;
    slew_timing word = stop_to_stop(E, 1), number = travel(E, 1, at_degrees(-20), at_degrees(90));
    double a = simulated(&setup, &word).value[SLEW_MEASURE_SECONDS];
    double b = simulated(&setup, &number).value[SLEW_MEASURE_SECONDS];
    assert_true(a == b);
    near("travel", simulated(&setup, &word).travel, degrees(110), 1e-12);
}

/* ---- what can't be ---- */

static void refused(const slew_setup *setup, slew_timing row, const char *key, const char *part)
{
    slew_timed timed;
    slew_error error;
    row.line = 17;
    if (slew_timing_simulate(setup, &row, &timed, &error) != SLEW_ERROR_INPUT)
        fail_msg("not refused: %s (%.6g s)", part, timed.value[SLEW_MEASURE_SECONDS]);
    assert_string_equal(error.key, key);
    assert_int_equal(error.line, 17);
    if (strstr(error.message, part) == NULL)
        fail_msg("\"%s\" is not in: %s", part, error.message);
    assert_int_equal(slew_timing_simulate(setup, &row, &timed, NULL), SLEW_ERROR_INPUT);
}

static void rows_that_cannot_be(void **state)
{
    slew_scenario s = daily_scenario();
    slew_setup setup = today_of(&s);
    slew_place low = at_place(SLEW_PLACE_LOW_STOP), home = at_place(SLEW_PLACE_HOME);
    (void)state;
    refused(&setup, travel(E, 1, at_degrees(-25), home), "from", "-25 deg lies beyond the stops");
    refused(&setup, travel(E, 1, low, at_degrees(90.5)), "to", "90.5 deg lies beyond the stops");
    refused(&setup, travel(E, -1, at_degrees(10), at_degrees(30)), "direction",
            "from 10 to 30 deg is against the direction");
    refused(&setup, travel(E, 1, at_degrees(10), at_degrees(10)), "to", "the same place");
    refused(&setup, travel(E, 1, low, low), "to", "the same place");
    refused(&setup, travel(E, 1, at_degrees(-2), home), "to", "closed already");
    refused(&setup, travel(E, 1, at_degrees(10), home), "direction", "against the direction");
    setup.axis[E].home.present = false;
    refused(&setup, travel(E, 1, low, home), "to", "never closes");
    setup = today_of(&s);
    slew_timing weak = stop_to_stop(E, 1);
    weak.supply = 2.5;
    refused(&setup, weak, "", "stalls at -20 deg");
    setup.axis[R].start = degrees(200);
    refused(&setup, stop_to_stop(E, 1), "rotation.start", "beyond a stop");
    s.setup.axis[E].gear.backward_efficiency = 0.9;
    s.setup.axis[E].load.mass = 400;
    setup = today_of(&s);
    refused(&setup, stop_to_stop(R, 1), "", "would not hold");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(travels_are_those_of_the_reference),
        cmocka_unit_test(a_tilted_base_and_a_reversed_motor),
        cmocka_unit_test(a_pressed_motor_draws_what_its_resistance_lets_through),
        cmocka_unit_test(with_the_drives_off_the_voltage_is_that_of_the_line),
        cmocka_unit_test(a_place_on_a_stop_is_the_stop),
        cmocka_unit_test(rows_that_cannot_be),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
