/*
 * offset_drivers.c - what drives where the axes rest: indices of runs against what they have to be.
 */
#include "../support.h"

#include "slewtime/offset.h"

static const int E = SLEW_ELEVATION, R = SLEW_ROTATION;
static const char *const VOLTAGE = "supply.main.voltage";

/* ---- Spreads ---- */

static void vary(slew_spread *spread, const char *path, slew_variation v)
{
    v.key = slew_key_find(path);
    spread->item[spread->count++] = v;
}

static slew_variation uniform(double low, double high)
{
    return (slew_variation){.distribution = SLEW_UNIFORM, .low = low, .high = high};
}

static slew_variation normal(double mean, double sd)
{
    return (slew_variation){
        .distribution = SLEW_NORMAL, .mean = mean, .sd = sd, .low = -INFINITY, .high = INFINITY};
}

/* no grid of the sensors and no clock: the angle is a smooth function of what varies */
static slew_scenario smooth_scenario(void)
{
    slew_scenario s = daily_scenario();
    s.setup.controller.sample = 0;
    s.setup.controller.clock = 0;
    return s;
}

static slew_sampling base_points(long samples)
{
    slew_sampling how = slew_sampling_default();
    how.samples = samples;
    return how;
}

static slew_drivers drivers_of(const slew_scenario *s, long samples)
{
    const slew_sampling how = base_points(samples);
    slew_drivers d;
    assert_int_equal(slew_drivers_run(s, &how, &d, NULL), SLEW_OK);
    return d;
}

/* ---- Indices ---- */

/* By definition all of the variance. Both estimates are means over pairs of points, whose own
 * deviation for independent points that are uniform is 1.2 (total) and 1.3 times the variance:
 * 0.015 with 8192 pairs. Evenly spread points do better; four times that. */
static void a_single_key_has_all_of_it(void **state)
{
    slew_scenario s = smooth_scenario();
    (void)state;
    vary(&s.day, VOLTAGE, uniform(12.4, 14.2));
    s.deploy.same_day = true;
    slew_drivers d = drivers_of(&s, 8192);
    assert_int_equal(d.count, 1);
    near("first order", d.driver[0].first[E].value, 1, 0.06);
    near("total", d.driver[0].total[E].value, 1, 0.06);
}

static double angle_at(double stow_voltage, double deploy_voltage)
{
    slew_scenario s = smooth_scenario();
    slew_result r;
    set_key(&s, SLEW_LAYER_TODAY, VOLTAGE, stow_voltage);
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, VOLTAGE, deploy_voltage);
    assert_int_equal(slew_run(&s, SLEW_STOW_AND_DEPLOY, NULL, &r, NULL), SLEW_OK);
    return r.deploy.angle[E];
}

/* Two independent voltages of small spread: the variance is the sum of (slope * deviation)^2, and
 * nothing acts together. What is not linear is below 1e-4 of it. The means over 8192 pairs of
 * independent normal points would deviate by 0.019 (first order) and 0.016 (total); 2.5 times that.
 */
static void two_small_spreads_share_it_as_first_order_says(void **state)
{
    const double v = 13.4, step = 0.05, u = 0.05;
    slew_scenario s = smooth_scenario();
    double by_stow = (angle_at(v + step, v) - angle_at(v - step, v)) / (2 * step);
    double by_deploy = (angle_at(v, v + step) - angle_at(v, v - step)) / (2 * step);
    double square = by_stow * by_stow + by_deploy * by_deploy;
    (void)state;
    vary(&s.day, VOLTAGE, normal(v, u));
    slew_drivers d = drivers_of(&s, 8192);
    assert_int_equal(d.count, 2);
    const double expected[] = {by_stow * by_stow / square, by_deploy * by_deploy / square};
    for (int i = 0; i < 2; i++) {
        print_message("expected %.4f, first %.4f (%.4f to %.4f), total %.4f (%.4f to %.4f)\n",
                      expected[i], d.driver[i].first[E].value, d.driver[i].first[E].low,
                      d.driver[i].first[E].high, d.driver[i].total[E].value,
                      d.driver[i].total[E].low, d.driver[i].total[E].high);
        near("first order", d.driver[i].first[E].value, expected[i], 0.05);
        near("total", d.driver[i].total[E].value, expected[i], 0.05);
        assert_true(d.driver[i].total[E].low <
                    d.driver[i].total[E].value - 1e-6); /* repeats differ */
        assert_true(d.driver[i].total[E].high - d.driver[i].total[E].low < 0.1);
    }
    assert_true(expected[1] > 0.6); /* the two are told apart */
    close_to("deviation", d.deviation[E], u * sqrt(square), 0.02);
    near("mean", d.mean[E], angle_at(v, v), 0.05 * d.deviation[E]);
}

/* elevation is homed before the rotation moves: where that began can't matter to it but for the
 * round-off of later times, some 1e-15 of 10 s, against a spread of some 0.1 rad */
static void what_has_no_part_has_none(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    vary(&s.day, VOLTAGE, uniform(12.4, 14.2));
    vary(&s.day, "rotation.start", uniform(degrees(-160), degrees(160)));
    slew_drivers d = drivers_of(&s, 64);
    near("first order", d.driver[1].first[E].value, 0, 1e-9);
    near("total", d.driver[1].total[E].value, 0, 1e-9);
    assert_true(d.driver[0].total[E].value + d.driver[2].total[E].value > 0.5);
}

/* two keys that are as good as one: all that they do counts for the first of them */
static void what_two_share_counts_for_the_first(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.deploy.same_day = true;
    vary(&s.day, "environment.temperature", uniform(celsius(0), celsius(30)));
    vary(&s.day, VOLTAGE, uniform(12.4, 14.2));
    slew_drivers apart = drivers_of(&s, 512);
    s.correlation.count = 1;
    s.correlation.item[0] = (slew_correlation){{s.day.item[0].key, s.day.item[1].key}, 0.999};
    slew_drivers together = drivers_of(&s, 512);
    assert_true(apart.driver[1].total[E].value > 0.5);
    assert_true(together.driver[0].total[E].value > 0.9);
    assert_true(together.driver[1].total[E].value < 0.05);
}

/* ---- Names ---- */

static void dimensions_are_named(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    vary(&s.truck, "elevation.gear.efficiency", uniform(0.34, 0.38));
    vary(&s.day, VOLTAGE, uniform(12.4, 14.2));
    slew_drivers d = drivers_of(&s, 16);
    assert_int_equal(d.count, 3);
    assert_int_equal(d.driver[0].drawn.key, slew_key_find("elevation.gear.efficiency"));
    assert_int_equal(d.driver[0].drawn.of, SLEW_OF_TRUCK);
    assert_int_equal(d.driver[1].drawn.key, slew_key_find(VOLTAGE));
    assert_int_equal(d.driver[1].drawn.of, SLEW_OF_DAY);
    assert_int_equal(d.driver[2].drawn.key, slew_key_find(VOLTAGE));
    assert_int_equal(d.driver[2].drawn.of, SLEW_OF_DEPLOY_DAY);
    s.deploy.same_day = true;
    d = drivers_of(&s, 16);
    assert_int_equal(d.count, 2);
    assert_int_equal(d.driver[1].drawn.of, SLEW_OF_DAY);
}

/* nothing of the elevation's gear reaches the rotation */
static void an_axis_that_does_not_vary(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    vary(&s.truck, "elevation.gear.efficiency", uniform(0.3, 0.4));
    slew_drivers d = drivers_of(&s, 64);
    near("deviation", d.deviation[R], 0, 0);
    near("total", d.driver[0].total[R].value, 0, 0);
    assert_true(d.deviation[E] > 0);
}

/* ---- What is asked ---- */

static void the_seconds_are_the_scenarios(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    vary(&s.day, VOLTAGE, uniform(13.3, 13.5));
    double longer = drivers_of(&s, 16).mean[E];
    s.deploy.seconds[E] = 3;
    assert_true(drivers_of(&s, 16).mean[E] < longer - degrees(20));
}

static void the_work_is_told(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    vary(&s.day, VOLTAGE, uniform(12.4, 14.2));
    slew_drivers d = drivers_of(&s, 60); /* in 8 repeats: 8 base points each */
    assert_int_equal(d.base, 8);
    assert_int_equal(d.repeats, 8);
    assert_int_equal(d.runs, 8 * 8 * (2 + 2));
    assert_int_equal(d.refused, 0);
}

static void threads_do_not_matter_and_seeds_do(void **state)
{
    slew_scenario s = daily_scenario();
    slew_sampling how = base_points(64);
    slew_drivers one = {0}, three = {0}, other = {0};
    (void)state;
    vary(&s.day, VOLTAGE, uniform(12.4, 14.2));
    how.threads = 1;
    assert_int_equal(slew_drivers_run(&s, &how, &one, NULL), SLEW_OK);
    how.threads = 3;
    assert_int_equal(slew_drivers_run(&s, &how, &three, NULL), SLEW_OK);
    assert_memory_equal(one.driver, three.driver, 2 * sizeof *one.driver);
    how.seed = 2;
    assert_int_equal(slew_drivers_run(&s, &how, &other, NULL), SLEW_OK);
    assert_true(one.driver[1].total[E].value != other.driver[1].total[E].value);
}

/* ---- What is refused ---- */

static void refused(const slew_scenario *s, const slew_sampling *how, const char *key)
{
    slew_drivers d;
    slew_error error;
    assert_int_equal(slew_drivers_run(s, how, &d, &error), SLEW_ERROR_INPUT);
    assert_string_equal(error.key, key);
    assert_true(error.message[0] != '\0');
}

static void what_it_refuses(void **state)
{
    slew_scenario s = daily_scenario();
    slew_sampling how = base_points(64);
    (void)state;
    refused(&s, &how, "spread"); /* nothing varies */
    vary(&s.day, VOLTAGE, uniform(12.4, 14.2));
    how.shifts = 1;
    refused(&s, &how, "");
    how = base_points(0);
    refused(&s, &how, "");
    how = base_points(64);
    for (int i = 0; i < 10; i++)
        vary(&s.day, VOLTAGE, uniform(12.4, 14.2));
    refused(&s, &how, "spread"); /* 22 numbers */
    s.deploy.given = false;
    refused(&s, &how, "deploy");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_single_key_has_all_of_it),
        cmocka_unit_test(two_small_spreads_share_it_as_first_order_says),
        cmocka_unit_test(what_has_no_part_has_none),
        cmocka_unit_test(what_two_share_counts_for_the_first),
        cmocka_unit_test(dimensions_are_named),
        cmocka_unit_test(an_axis_that_does_not_vary),
        cmocka_unit_test(the_seconds_are_the_scenarios),
        cmocka_unit_test(the_work_is_told),
        cmocka_unit_test(threads_do_not_matter_and_seeds_do),
        cmocka_unit_test(what_it_refuses),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
