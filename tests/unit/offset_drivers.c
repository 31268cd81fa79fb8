/*
 * offset_drivers.c - the indices of what drives a resting angle, where they are known beforehand.
 */
#include "offset_ask.h"

enum { BASE = 2048 };

/* Independent points would find an index of n base points to 1/sqrt(n) or so (the standard error of
 * a correlation of none); Sobol points do better. Three times that. */
static const double tolerance = 3 / 45.25; /* sqrt(2048) = 45.25 */

/* no grid of the sensors and no clock: the angle is a smooth function of what varies */
static slew_scenario smooth_scenario(void)
{
    slew_scenario s = daily_scenario();
    s.setup.controller.sample = 0;
    s.setup.controller.clock = 0;
    return s;
}

static void drivers_of(const slew_scenario *s, slew_drivers *out)
{
    const slew_sampling how = samples(BASE);
    slew_error error = {0};
    if (slew_drivers_run(s, &how, out, &error) != SLEW_OK)
        fail_msg("no drivers: %s: %s", error.key, error.message);
    assert_int_equal(out->base * out->repeats, BASE);
    assert_int_equal(out->runs, BASE * (out->count + 2));
    assert_int_equal(out->refused, 0);
}

static void is_index(const char *what, const slew_share *index, double expected)
{
    near(what, index->value, expected, tolerance);
    assert_true(index->low <= index->value && index->value <= index->high);
    assert_true(index->high - index->low < 2 * tolerance);
}

static void the_only_key_explains_everything(void **state)
{
    slew_scenario s = smooth_scenario();
    slew_drivers d;
    (void)state;
    vary(&s.truck, "elevation.gear.efficiency", uniform(0.32, 0.4));
    drivers_of(&s, &d);
    assert_int_equal(d.count, 1);
    is_index("first", &d.driver[0].first[E], 1);
    is_index("total", &d.driver[0].total[E], 1);
    assert_true(d.deviation[E] > 0);
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

/* over so small a spread the angle is linear in both: variances add up */
static void indices_of_a_sum_are_its_variances(void **state)
{
    const double v = 13.4, d = 0.05, u = 0.05;
    slew_scenario s = smooth_scenario();
    slew_drivers got;
    (void)state;
    double by_stow = u * (angle_at(v + d, v) - angle_at(v - d, v)) / (2 * d);
    double by_deploy = u * (angle_at(v, v + d) - angle_at(v, v - d)) / (2 * d);
    double variance = by_stow * by_stow + by_deploy * by_deploy;
    vary(&s.day, VOLTAGE, normal(v, u));
    drivers_of(&s, &got);
    assert_int_equal(got.count, 2);
    is_index("first, day", &got.driver[0].first[E], by_stow * by_stow / variance);
    is_index("total, day", &got.driver[0].total[E], by_stow * by_stow / variance);
    is_index("first, deploy day", &got.driver[1].first[E], by_deploy * by_deploy / variance);
    is_index("total, deploy day", &got.driver[1].total[E], by_deploy * by_deploy / variance);
    close_to("deviation", got.deviation[E], sqrt(variance), 3 / sqrt(2.0 * 2 * BASE));
    near("mean", got.mean[E], angle_at(v, v), 0.05 * sqrt(variance));
}

/* An auxiliary battery is fitted in every other case and alone makes its voltage count: y = F g(v)
 * with F 0 or 1. V(E(y | v)) = V(g) / 4, E(V(y | F)) = V(g) / 2: with others twice of alone. */
static void what_counts_with_others_alone_is_told_apart(void **state)
{
    slew_scenario s = smooth_scenario();
    slew_drivers d;
    (void)state;
    s.deploy.same_day = true;
    vary(&s.day, "supply.auxiliary.fitted",
         (slew_variation){
             .distribution = SLEW_TABLE, .count = 2, .value = {0, 1}, .weight = {1, 1}});
    vary(&s.day, "supply.auxiliary.voltage", uniform(13.6, 18));
    drivers_of(&s, &d);
    double alone = d.driver[1].first[E].value, with_others = d.driver[1].total[E].value;
    assert_true(with_others > 2 * tolerance);
    print_message("alone %.4f, with others %.4f\n", alone, with_others);
    near("with others", with_others, 2 * alone, 2 * tolerance);
    near("sum", d.driver[0].first[E].value + with_others, 1, 2 * tolerance);
}

static void is_of(const slew_driver *driver, const char *path, int of)
{
    assert_string_equal(slew_key_at(driver->drawn.key)->path, path);
    assert_int_equal(driver->drawn.of, of);
}

/* the greatest total first, and each number once */
static void is_ranked(const slew_drivers *d, int axis)
{
    int sum = 0;
    for (int i = 0; i < d->count; i++) {
        sum += 1 << d->order[axis][i];
        if (i > 0)
            assert_true(d->driver[d->order[axis][i - 1]].total[axis].value >=
                        d->driver[d->order[axis][i]].total[axis].value);
    }
    assert_int_equal(sum, (1 << d->count) - 1);
}

/* the rotation is not driven in the deploy: the voltage of the deploy day is nothing to it */
static void truck_day_and_deploy_day_are_told_apart(void **state)
{
    slew_scenario s = smooth_scenario();
    slew_drivers d;
    (void)state;
    vary(&s.truck, "elevation.gear.efficiency", uniform(0.32, 0.4));
    vary(&s.day, VOLTAGE, uniform(12, 14));
    drivers_of(&s, &d);
    assert_int_equal(d.count, 3);
    is_of(&d.driver[0], "elevation.gear.efficiency", SLEW_OF_TRUCK);
    is_of(&d.driver[1], VOLTAGE, SLEW_OF_DAY);
    is_of(&d.driver[2], VOLTAGE, SLEW_OF_DEPLOY_DAY);
    is_index("rotation, day", &d.driver[1].total[R], 1);
    near("rotation, deploy day", d.driver[2].total[R].value, 0, 0);
    assert_true(d.driver[2].total[E].value > d.driver[1].total[E].value);
    assert_int_equal(d.order[R][0], 1);
    is_ranked(&d, R);
    is_ranked(&d, E);
    s.deploy.same_day = true;
    drivers_of(&s, &d);
    assert_int_equal(d.count, 2);
}

static void axis_that_does_not_vary_has_no_deviation(void **state)
{
    slew_scenario s = smooth_scenario();
    slew_drivers d;
    slew_result r;
    (void)state;
    vary(&s.truck, "elevation.load.friction", uniform(5, 7));
    drivers_of(&s, &d);
    assert_int_equal(slew_run(&s, SLEW_STOW_AND_DEPLOY, NULL, &r, NULL), SLEW_OK);
    near("rotation", d.deviation[R], 0, 0);
    near("rests at", d.mean[R], r.deploy.angle[R], 1e-12);
    near("index", d.driver[0].total[R].value, 0, 0);
}

/* The start is nothing to the elevation but goes with the voltage: its part, in the order of the
 * file, is the square of the coefficient. */
static void correlated_keys_are_told_by_their_independent_parts(void **state)
{
    slew_scenario s = smooth_scenario();
    slew_drivers d;
    (void)state;
    s.deploy.same_day = true;
    vary(&s.day, "rotation.start", normal(degrees(-30), degrees(5)));
    vary(&s.day, VOLTAGE, normal(13.4, 0.05));
    s.correlation.count = 1;
    s.correlation.item[0] = (slew_correlation){{s.day.item[0].key, s.day.item[1].key}, 0.8};
    drivers_of(&s, &d);
    is_index("start", &d.driver[0].first[E], 0.64);
    is_index("voltage", &d.driver[1].total[E], 0.36);
}

static void threads_do_not_matter(void **state)
{
    slew_scenario s = smooth_scenario();
    slew_sampling how = samples(64);
    static slew_drivers one, three;
    (void)state;
    vary(&s.day, VOLTAGE, uniform(12, 14));
    how.threads = 1;
    assert_int_equal(slew_drivers_run(&s, &how, &one, NULL), SLEW_OK);
    how.threads = 3;
    assert_int_equal(slew_drivers_run(&s, &how, &three, NULL), SLEW_OK);
    assert_memory_equal(&one, &three, sizeof one);
}

static void refuses(const slew_scenario *s, const slew_sampling *how, const char *key)
{
    slew_drivers d;
    slew_error error = {0};
    assert_int_equal(slew_drivers_run(s, how, &d, &error), SLEW_ERROR_INPUT);
    assert_string_equal(error.key, key);
}

static void what_has_no_indices_is_refused(void **state)
{
    slew_scenario s = smooth_scenario();
    slew_sampling how = samples(64);
    (void)state;
    refuses(&s, &how, "spread");
    for (int i = 0; i < 11; i++) /* the day counts twice: 22 */
        vary(&s.day, VOLTAGE, uniform(12, 14));
    refuses(&s, &how, "spread");
    s.day.count = 1;
    how.shifts = 1;
    refuses(&s, &how, "");
    how.shifts = 65;
    refuses(&s, &how, "");
    how = samples(0);
    refuses(&s, &how, "");
    how = samples(100000000); /* times 22 runs, too many for the points' numbers */
    refuses(&s, &how, "");
    how = samples(64);
    s.deploy.given = false;
    refuses(&s, &how, "deploy");
}

/* from their scatter the intervals are told */
static void repeats_are_independent(void **state)
{
    slew_scenario s = smooth_scenario();
    slew_drivers d;
    (void)state;
    vary(&s.day, VOLTAGE, uniform(12.4, 14.2));
    drivers_of(&s, &d);
    for (int i = 0; i < d.count; i++) {
        assert_true(d.driver[i].first[E].high - d.driver[i].first[E].low > 1e-4);
        assert_true(d.driver[i].total[E].high - d.driver[i].total[E].low > 1e-4);
    }
}

static void the_seconds_are_the_scenarios(void **state)
{
    slew_scenario s = daily_scenario();
    slew_drivers longer, shorter;
    (void)state;
    vary(&s.day, VOLTAGE, uniform(13.3, 13.5));
    drivers_of(&s, &longer);
    s.deploy.seconds[E] = 3;
    drivers_of(&s, &shorter);
    assert_true(shorter.mean[E] < longer.mean[E] - degrees(20));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_only_key_explains_everything),
        cmocka_unit_test(indices_of_a_sum_are_its_variances),
        cmocka_unit_test(what_counts_with_others_alone_is_told_apart),
        cmocka_unit_test(truck_day_and_deploy_day_are_told_apart),
        cmocka_unit_test(axis_that_does_not_vary_has_no_deviation),
        cmocka_unit_test(correlated_keys_are_told_by_their_independent_parts),
        cmocka_unit_test(threads_do_not_matter),
        cmocka_unit_test(what_has_no_indices_is_refused),
        cmocka_unit_test(repeats_are_independent),
        cmocka_unit_test(the_seconds_are_the_scenarios),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
