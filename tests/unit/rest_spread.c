/*
 * rest_spread.c - where the axes rest over the spread: what each part comes to, and the same places
 * as runs of the samples by hand.
 */
#include "../support.h"

#include "slewtime/rest.h"

static const int E = SLEW_ELEVATION;
enum { SAMPLES = 64 };

/* invented: the daily machine, on days of either voltage */
static slew_scenario on_days_of(double first, double second)
{
    slew_scenario s = daily_scenario();
    s.truck.count = 0;
    s.day.count = 1;
    s.day.item[0] = (slew_variation){.key = slew_key_find("supply.main.voltage"),
                                     .distribution = SLEW_TABLE,
                                     .count = 2,
                                     .value = {first, second},
                                     .weight = {1, 1}};
    s.deploy.same_day = true;
    return s;
}

static slew_ensemble rest_of(const slew_scenario *s, slew_parts parts, int threads)
{
    slew_sampling how = slew_sampling_default();
    slew_ensemble rest;
    slew_error error;
    how.samples = SAMPLES;
    how.threads = threads;
    assert_int_equal(slew_rest_run(s, parts, &how, &rest, &error), SLEW_OK);
    assert_int_equal(rest.done, SAMPLES);
    return rest;
}

/* by hand: the scenario on a day of that voltage */
static slew_result run_at(const slew_scenario *s, slew_parts parts, double voltage)
{
    slew_scenario day = *s;
    slew_result result;
    slew_error error;
    set_key(&day, SLEW_LAYER_TODAY, "supply.main.voltage", voltage);
    assert_int_equal(slew_run(&day, parts, NULL, &result, &error), SLEW_OK);
    return result;
}

static void count_is(const slew_ensemble *rest, slew_rest_part part, slew_rest_end end,
                     int64_t count)
{
    int64_t all = 0;
    for (int k = 0; k < SLEW_REST_ENDS; k++)
        all += slew_rest_count(rest, part, (slew_rest_end)k);
    assert_int_equal(all, SAMPLES - rest->refused);
    assert_int_equal(slew_rest_count(rest, part, end), count);
}

/* how many samples rest there after the stow: those of one of the two voltages */
static int64_t count_at(const slew_ensemble *rest, double angle)
{
    double angles[SAMPLES];
    int64_t all = slew_rest_angles(rest, SLEW_REST_STOW, E, angles), count = 0;
    for (int64_t i = 0; i < all; i++)
        count += angles[i] == angle;
    assert_true(count > SAMPLES / 4 && count < SAMPLES * 3 / 4); /* either is as likely */
    return count;
}

/* ---- places ---- */

static void places_are_those_of_single_runs(void **state)
{
    (void)state;
    slew_scenario s = on_days_of(12.0, 14.0);
    slew_ensemble rest = rest_of(&s, SLEW_STOW_AND_DEPLOY, 2);
    slew_result weak = run_at(&s, SLEW_STOW_AND_DEPLOY, 12.0);
    slew_result strong = run_at(&s, SLEW_STOW_AND_DEPLOY, 14.0);
    double stow[SAMPLES], deploy[SAMPLES];
    assert_int_equal(slew_rest_angles(&rest, SLEW_REST_STOW, E, stow), SAMPLES);
    assert_int_equal(slew_rest_angles(&rest, SLEW_REST_DEPLOY, E, deploy), SAMPLES);
    /* more volts carry it further down, and up again further */
    assert_true(strong.stow.angle[E] < weak.stow.angle[E]);
    for (int i = 0; i < SAMPLES; i++) {
        assert_true(i == 0 || (stow[i] >= stow[i - 1] && deploy[i] >= deploy[i - 1]));
        assert_true(stow[i] == strong.stow.angle[E] || stow[i] == weak.stow.angle[E]);
        assert_true(deploy[i] == strong.deploy.angle[E] || deploy[i] == weak.deploy.angle[E]);
    }
    assert_true(stow[0] == strong.stow.angle[E] && stow[SAMPLES - 1] == weak.stow.angle[E]);
    slew_ensemble_free(&rest);
}

static void the_same_for_any_number_of_threads(void **state)
{
    (void)state;
    slew_scenario s = on_days_of(12.0, 14.0);
    slew_ensemble one = rest_of(&s, SLEW_STOW_AND_DEPLOY, 1);
    slew_ensemble three = rest_of(&s, SLEW_STOW_AND_DEPLOY, 3);
    assert_memory_equal(one.figure, three.figure,
                        (size_t)(SAMPLES * one.count) * sizeof *one.figure);
    slew_ensemble_free(&one);
    slew_ensemble_free(&three);
}

/* ---- what the parts come to ---- */

static void on_target_and_missed(void **state)
{
    (void)state;
    slew_scenario s = on_days_of(12.0, 14.0);
    slew_result weak = run_at(&s, SLEW_STOW_AND_DEPLOY, 12.0);
    slew_result strong = run_at(&s, SLEW_STOW_AND_DEPLOY, 14.0);
    s.stow.point[E] = weak.stow.angle[E];
    s.stow.tolerance = fabs(weak.stow.angle[E] - strong.stow.angle[E]) / 2;
    s.stow.has_times = true; /* as taught, so that the point is only what is wanted */
    memcpy(s.stow.times, weak.stored, sizeof s.stow.times);
    slew_ensemble rest = rest_of(&s, SLEW_STOW_ONLY, 2);
    int64_t hits = count_at(&rest, weak.stow.angle[E]);
    count_is(&rest, SLEW_REST_STOW, SLEW_REST_ON_TARGET, hits);
    count_is(&rest, SLEW_REST_STOW, SLEW_REST_MISSED, SAMPLES - hits);
    count_is(&rest, SLEW_REST_DEPLOY, SLEW_REST_NOT_REACHED, SAMPLES);
    slew_ensemble_free(&rest);
    s.stow.has_point = false; /* there is nothing to miss */
    rest = rest_of(&s, SLEW_STOW_ONLY, 2);
    count_is(&rest, SLEW_REST_STOW, SLEW_REST_ON_TARGET, SAMPLES);
    slew_ensemble_free(&rest);
}

/* 7 V is below the brownout threshold: a fault, and no deploy */
static void faults_keep_the_deploy_from_beginning(void **state)
{
    (void)state;
    double angles[SAMPLES];
    slew_scenario s = on_days_of(7.0, 13.4);
    slew_ensemble rest = rest_of(&s, SLEW_STOW_AND_DEPLOY, 2);
    slew_result weak = run_at(&s, SLEW_STOW_AND_DEPLOY, 7.0);
    int64_t faults = count_at(&rest, weak.stow.angle[E]);
    assert_int_equal(weak.stow.says, SLEW_FAULTED);
    count_is(&rest, SLEW_REST_STOW, SLEW_REST_FAULT, faults);
    count_is(&rest, SLEW_REST_DEPLOY, SLEW_REST_NOT_REACHED, faults);
    assert_int_equal(slew_rest_angles(&rest, SLEW_REST_STOW, E, angles), SAMPLES);
    assert_int_equal(slew_rest_angles(&rest, SLEW_REST_DEPLOY, E, angles), SAMPLES - faults);
    slew_ensemble_free(&rest);
}

/* taught close to the lower stop, replayed with more volts: pressed on it, and nobody is told */
static void pressed_on_a_stop(void **state)
{
    (void)state;
    slew_scenario s = on_days_of(12.6, 14.2);
    s.stow.point[E] = degrees(-18.5);
    s.stow.tolerance = degrees(3.0);
    set_key(&s, SLEW_LAYER_TEACH, "supply.main.voltage", 12.6);
    slew_result pressed = run_at(&s, SLEW_STOW_ONLY, 14.2);
    assert_true(pressed.stow.says == SLEW_STOWED && pressed.stow.on_target);
    slew_ensemble rest = rest_of(&s, SLEW_STOW_ONLY, 2);
    int64_t on_stop = count_at(&rest, pressed.stow.angle[E]);
    count_is(&rest, SLEW_REST_STOW, SLEW_REST_ON_A_STOP, on_stop);
    count_is(&rest, SLEW_REST_STOW, SLEW_REST_ON_TARGET, SAMPLES - on_stop);
    slew_ensemble_free(&rest);
}

/* a barrel too heavy for its gear sinks when the drive is off */
static void an_axis_that_does_not_hold(void **state)
{
    (void)state;
    slew_scenario s = on_days_of(13.0, 13.4);
    s.setup.axis[E].gear.efficiency = 0.9;
    s.setup.axis[E].load.mass = 60;
    s.setup.axis[E].load.friction = 0;
    slew_ensemble rest = rest_of(&s, SLEW_DEPLOY_ONLY, 2);
    count_is(&rest, SLEW_REST_DEPLOY, SLEW_REST_DOES_NOT_HOLD, SAMPLES);
    slew_ensemble_free(&rest);
}

/* ---- stops ---- */

static void a_stop_is_met_to_a_billionth(void **state)
{
    (void)state;
    slew_setup setup = daily_setup();
    const slew_range *stops = &setup.axis[E].stops;
    assert_int_equal(slew_stop_under(&setup, E, stops->low), -1);
    assert_int_equal(slew_stop_under(&setup, E, stops->low + 0.9e-9), -1);
    assert_int_equal(slew_stop_under(&setup, E, stops->low + 1.1e-9), 0);
    assert_int_equal(slew_stop_under(&setup, E, stops->high - 0.9e-9), 1);
    assert_int_equal(slew_stop_under(&setup, E, stops->high - 1.1e-9), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(places_are_those_of_single_runs),
        cmocka_unit_test(the_same_for_any_number_of_threads),
        cmocka_unit_test(on_target_and_missed),
        cmocka_unit_test(faults_keep_the_deploy_from_beginning),
        cmocka_unit_test(pressed_on_a_stop),
        cmocka_unit_test(an_axis_that_does_not_hold),
        cmocka_unit_test(a_stop_is_met_to_a_billionth),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
