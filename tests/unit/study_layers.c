/*
 * study_layers.c - what is drawn for whom: the truck before teaching, the day after it, the
 * deploy's own day.
 */
#include "../support.h"

#include "slewtime/study.h"

static const int E = SLEW_ELEVATION;
static const char *const VOLTAGE = "supply.main.voltage", *const SPEED =
                                                              "elevation.motor.no_load_speed";

/* ---- A spread and a question ---- */

static void vary(slew_spread *spread, const char *path, slew_variation v)
{
    v.key = slew_key_find(path);
    spread->item[spread->count++] = v;
}

static slew_variation uniform(double low, double high)
{
    return (slew_variation){.distribution = SLEW_UNIFORM, .low = low, .high = high};
}

static slew_variation always(double value)
{
    return (slew_variation){
        .distribution = SLEW_TABLE, .count = 1, .value = {value}, .weight = {1}};
}

enum { STOW_ANGLE, STORED, STOW_VOLTAGE, DEPLOY_VOLTAGE, STOW_HEAT, DEPLOY_HEAT, FIGURES };

static void keep_parts(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                       double *figures)
{
    const slew_parts *parts = context;
    slew_result r;
    slew_run_prepared(drawn, prepared, *parts, NULL, &r);
    figures[STOW_ANGLE] = r.stow.angle[E];
    figures[STORED] = prepared->stored[E];
    figures[STOW_VOLTAGE] = prepared->stow_setup.supply.main.voltage;
    figures[DEPLOY_VOLTAGE] = prepared->deploy_setup.supply.main.voltage;
    figures[STOW_HEAT] = prepared->stow_setup.environment.temperature;
    figures[DEPLOY_HEAT] = prepared->deploy_setup.environment.temperature;
}

static slew_sampling independent(int64_t samples)
{
    slew_sampling how = slew_sampling_default();
    how.points = SLEW_PSEUDO_RANDOM;
    how.samples = samples;
    how.threads = 2;
    return how;
}

static slew_ensemble ensemble_of(const slew_scenario *s, slew_parts parts, int64_t samples)
{
    slew_sampling how = independent(samples);
    slew_ensemble e;
    slew_error error;
    if (slew_ensemble_run(s, parts, &how, keep_parts, &parts, FIGURES, &e, &error) != SLEW_OK)
        fail_msg("no ensemble: %s: %s", error.key, error.message);
    assert_int_equal(e.done, samples);
    return e;
}

static double figure(const slew_ensemble *e, int64_t sample, int which)
{
    return e->figure[sample * e->count + which];
}

/* the one figure of samples that are all alike */
static double only(const slew_scenario *s, int which)
{
    slew_ensemble e = ensemble_of(s, SLEW_STOW_AND_DEPLOY, 3);
    double value = figure(&e, 0, which);
    for (int64_t i = 1; i < 3; i++)
        near("sample", figure(&e, i, which), value, 0);
    slew_ensemble_free(&e);
    return value;
}

/* ---- Truck and day ---- */

/* The stored time is 2.15 s and the free motor makes 8.73 deg/s of it at 12 V: a tenth is 1.88 deg.
 * Voltage and load change it by less than a sixth. */
static void faster_motor_after_teaching_moves_the_stow_angle(void **state)
{
    slew_scenario s = daily_scenario();
    double before = only(&s, STOW_ANGLE);
    (void)state;
    vary(&s.day, SPEED, always(rpm(3200) * 1.1));
    near("goes too far by", before - only(&s, STOW_ANGLE), degrees(1.9), degrees(0.3));
}

/* teaching makes up for it: to half a tick of 10 ms at 10 deg/s for each of the two */
static void faster_motor_while_teaching_does_not(void **state)
{
    slew_scenario s = daily_scenario();
    double before = only(&s, STOW_ANGLE);
    (void)state;
    vary(&s.truck, SPEED, always(rpm(3200) * 1.1));
    near("goes too far by", before - only(&s, STOW_ANGLE), 0, degrees(0.1));
    s.setup.controller.clock = 0;
    near("without a clock", only(&s, STOW_ANGLE), s.stow.point[E], 1e-9);
}

static void day_keeps_the_stored_times(void **state)
{
    slew_scenario s = daily_scenario();
    double stored[SLEW_AXES];
    (void)state;
    assert_int_equal(slew_teach(&s, stored, NULL), SLEW_OK);
    vary(&s.day, VOLTAGE, uniform(11.5, 14.5));
    slew_ensemble e = ensemble_of(&s, SLEW_STOW_AND_DEPLOY, 100);
    for (int64_t i = 0; i < 100; i++)
        near("stored time", figure(&e, i, STORED), stored[E], 0);
    slew_ensemble_free(&e);
}

static void truck_is_taught_for_each_sample(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    vary(&s.truck, SPEED, uniform(rpm(3000), rpm(3400)));
    slew_ensemble e = ensemble_of(&s, SLEW_STOW_AND_DEPLOY, 50);
    for (int64_t i = 0; i < 50; i++) {
        slew_scenario own = daily_scenario();
        double stored[SLEW_AXES], u = slew_random_unit(1, (uint64_t)i, 0);
        set_key(&own, SLEW_LAYER_FILE, SPEED, slew_variation_quantile(&s.truck.item[0], u));
        assert_int_equal(slew_teach(&own, stored, NULL), SLEW_OK);
        near("stored time", figure(&e, i, STORED), stored[E], 0);
    }
    slew_ensemble_free(&e);
}

/* a key that the teaching sets for itself is the layer's there, the draw's elsewhere */
static void layers_hide_what_is_drawn_for_the_truck(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    set_key(&s, SLEW_LAYER_TODAY, VOLTAGE, 12.5);
    vary(&s.truck, VOLTAGE, uniform(11.8, 14.2));
    near("today", only(&s, STOW_VOLTAGE), 12.5, 0);
}

/* ---- The day of the deploy ---- */

static slew_scenario two_days(void)
{
    slew_scenario s = daily_scenario();
    vary(&s.day, VOLTAGE, uniform(11.8, 14.2));
    vary(&s.day, "environment.temperature", uniform(celsius(-10), celsius(40)));
    return s;
}

static double drawn(const slew_scenario *s, int day, int64_t sample, uint32_t dimension)
{
    return slew_variation_quantile(&s->day.item[day],
                                   slew_random_unit(1, (uint64_t)sample, dimension));
}

static void deploy_draws_its_own_day(void **state)
{
    const slew_scenario s = two_days();
    slew_ensemble e = ensemble_of(&s, SLEW_STOW_AND_DEPLOY, 100);
    (void)state;
    assert_int_equal(e.dimensions, 4);
    for (int64_t i = 0; i < 100; i++) {
        near("stow", figure(&e, i, STOW_VOLTAGE), drawn(&s, 0, i, 0), 0);
        near("stow", figure(&e, i, STOW_HEAT), drawn(&s, 1, i, 1), 0);
        near("deploy", figure(&e, i, DEPLOY_VOLTAGE), drawn(&s, 0, i, 2), 0);
        near("deploy", figure(&e, i, DEPLOY_HEAT), drawn(&s, 1, i, 3), 0);
    }
    slew_ensemble_free(&e);
}

static void same_day_is_drawn_once(void **state)
{
    slew_scenario s = two_days();
    (void)state;
    s.deploy.same_day = true;
    slew_ensemble e = ensemble_of(&s, SLEW_STOW_AND_DEPLOY, 100);
    assert_int_equal(e.dimensions, 2);
    for (int64_t i = 0; i < 100; i++) {
        near("stow", figure(&e, i, STOW_VOLTAGE), drawn(&s, 0, i, 0), 0);
        near("deploy", figure(&e, i, DEPLOY_VOLTAGE), drawn(&s, 0, i, 0), 0);
        near("deploy", figure(&e, i, DEPLOY_HEAT), drawn(&s, 1, i, 1), 0);
    }
    slew_ensemble_free(&e);
}

/* whether or not the deploy draws a day of its own; its other keys are still drawn */
static void deploy_day_of_the_file_wins(void **state)
{
    slew_scenario s = two_days();
    (void)state;
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, VOLTAGE, 12.25);
    for (int same = 0; same < 2; same++) {
        s.deploy.same_day = same == 1;
        slew_ensemble e = ensemble_of(&s, SLEW_STOW_AND_DEPLOY, 100);
        for (int64_t i = 0; i < 100; i++) {
            near("stow", figure(&e, i, STOW_VOLTAGE), drawn(&s, 0, i, 0), 0);
            near("deploy", figure(&e, i, DEPLOY_VOLTAGE), 12.25, 0);
            near("deploy", figure(&e, i, DEPLOY_HEAT), drawn(&s, 1, i, same ? 1 : 2), 0);
        }
        slew_ensemble_free(&e);
    }
}

static void keep_conductor(void *context, const slew_scenario *s, const slew_prepared *prepared,
                           double *figures)
{
    const slew_feed *stow = &prepared->stow_setup.supply.feed;
    const slew_feed *deploy = &prepared->deploy_setup.supply.feed;
    (void)context;
    (void)s;
    figures[0] = stow->conductor == SLEW_CONDUCTOR_AREA;
    figures[1] = deploy->conductor == SLEW_CONDUCTOR_GAUGE && deploy->gauge == 4.0;
}

/* the size of a conductor is one thing, whichever of its three keys gives it */
static void conductor_of_the_file_s_deploy_day_wins(void **state)
{
    slew_scenario s = daily_scenario();
    slew_sampling how = independent(20);
    slew_ensemble e;
    (void)state;
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, "supply.feed.gauge", 4);
    vary(&s.day, "supply.feed.area", uniform(5e-6, 10e-6));
    assert_int_equal(
        slew_ensemble_run(&s, SLEW_STOW_AND_DEPLOY, &how, keep_conductor, NULL, 2, &e, NULL),
        SLEW_OK);
    for (int64_t i = 0; i < 2 * e.done; i++)
        near("conductor", e.figure[i], 1, 0);
    slew_ensemble_free(&e);
}

static void deploy_alone_draws_one_day(void **state)
{
    slew_scenario s = two_days();
    slew_sampling how = independent(50);
    slew_parts parts = SLEW_DEPLOY_ONLY;
    (void)state;
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, VOLTAGE, 12.25);
    slew_ensemble e = ensemble_of(&s, parts, how.samples);
    assert_int_equal(e.dimensions, 1);
    for (int64_t i = 0; i < 50; i++) {
        near("deploy", figure(&e, i, DEPLOY_VOLTAGE), 12.25, 0);
        near("deploy", figure(&e, i, DEPLOY_HEAT), drawn(&s, 1, i, 0), 0);
    }
    slew_ensemble_free(&e);
}

/* today says it: known of the stow, and of the deploy where that is on the same day */
static void what_today_says_is_not_drawn(void **state)
{
    slew_scenario s = two_days();
    slew_sampling how = independent(50);
    (void)state;
    set_key(&s, SLEW_LAYER_TODAY, VOLTAGE, 12.25);
    slew_ensemble e = ensemble_of(&s, SLEW_STOW_AND_DEPLOY, how.samples);
    assert_int_equal(e.dimensions, 3);
    for (int64_t i = 0; i < 50; i++) {
        near("stow", figure(&e, i, STOW_VOLTAGE), 12.25, 0);
        near("deploy", figure(&e, i, DEPLOY_VOLTAGE), drawn(&s, 0, i, 1), 0);
        near("deploy", figure(&e, i, DEPLOY_HEAT), drawn(&s, 1, i, 2), 0);
    }
    slew_ensemble_free(&e);
    s.deploy.same_day = true;
    e = ensemble_of(&s, SLEW_STOW_AND_DEPLOY, how.samples);
    assert_int_equal(e.dimensions, 1);
    for (int64_t i = 0; i < 50; i++)
        near("deploy", figure(&e, i, DEPLOY_VOLTAGE), 12.25, 0);
    slew_ensemble_free(&e);
}

/* ---- keys that go together with a known one ---- */

static slew_variation normal(double mean, double sd)
{
    return (slew_variation){
        .distribution = SLEW_NORMAL, .mean = mean, .sd = sd, .low = -INFINITY, .high = INFINITY};
}

static slew_scenario warm_with_charged(double coefficient)
{
    slew_scenario s = daily_scenario();
    s.truck.count = s.day.count = 0;
    vary(&s.day, VOLTAGE, normal(12.8, 0.4));
    vary(&s.day, "environment.temperature", normal(288.0, 5.0));
    s.correlation = (slew_correlations){
        .count = 1, .item[0] = {{s.day.item[0].key, s.day.item[1].key}, coefficient}};
    return s;
}

static void moments(const slew_ensemble *e, int figure_of, double *mean, double *sd)
{
    double sum = 0, squares = 0;
    for (int64_t i = 0; i < e->done; i++)
        sum += figure(e, i, figure_of);
    *mean = sum / (double)e->done;
    for (int64_t i = 0; i < e->done; i++)
        squares += pow(figure(e, i, figure_of) - *mean, 2);
    *sd = sqrt(squares / (double)(e->done - 1));
}

/* the conditional normal in closed form: mean + r sd/sd' (x - mean'), sd sqrt(1 - r^2). 8000
 * samples: four standard errors, of a mean sd/sqrt(n), of an sd sd/sqrt(2n). */
static void known_key_conditions_those_that_go_with_it(void **state)
{
    const double r = 0.6, x = 12.2, left = 5.0 * sqrt(1 - r * r);
    slew_scenario s = warm_with_charged(r);
    double mean, sd;
    (void)state;
    set_key(&s, SLEW_LAYER_TODAY, VOLTAGE, x);
    slew_ensemble e = ensemble_of(&s, SLEW_STOW_AND_DEPLOY, 8000);
    moments(&e, STOW_HEAT, &mean, &sd);
    near("mean", mean, 288.0 + r * 5.0 / 0.4 * (x - 12.8), 4 * left / sqrt(8000));
    near("sd", sd, left, 4 * left / sqrt(16000));
    moments(&e, DEPLOY_HEAT, &mean, &sd); /* another day, of which nothing is known */
    near("mean", mean, 288.0, 4 * 5.0 / sqrt(8000));
    near("sd", sd, 5.0, 4 * 5.0 / sqrt(16000));
    slew_ensemble_free(&e);
}

/* of two days that are one, and of the deploy's own */
static void known_deploy_day_conditions_the_deploy(void **state)
{
    const double r = -0.5, x = 13.2, left = 5.0 * sqrt(1 - r * r);
    slew_scenario s = warm_with_charged(r);
    double mean, sd;
    (void)state;
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, VOLTAGE, x);
    slew_ensemble e = ensemble_of(&s, SLEW_STOW_AND_DEPLOY, 8000);
    moments(&e, DEPLOY_HEAT, &mean, &sd);
    near("mean", mean, 288.0 + r * 5.0 / 0.4 * (x - 12.8), 4 * left / sqrt(8000));
    near("sd", sd, left, 4 * left / sqrt(16000));
    slew_ensemble_free(&e);
}

/* At the end of what is drawn its score is that of 0.1 %, -3.0902; in the middle of a table of two
 * values it is that of 1/4, -0.67449 (tables of the normal distribution). */
static void odd_value_of_a_bounded_spread_counts_as_its_last_thousandth(void **state)
{
    const double r = 0.5, left = 5.0 * sqrt(1 - r * r);
    double mean, sd;
    (void)state;
    for (int table = 0; table < 2; table++) {
        slew_scenario s = warm_with_charged(r);
        slew_variation *v = &s.day.item[0];
        int key = v->key;
        *v = uniform(11.0, 14.0);
        if (table)
            *v = (slew_variation){
                .distribution = SLEW_TABLE, .count = 2, .value = {11.0, 14.0}, .weight = {1, 1}};
        v->key = key;
        set_key(&s, SLEW_LAYER_TODAY, VOLTAGE, 11.0);
        slew_ensemble e = ensemble_of(&s, SLEW_STOW_AND_DEPLOY, 8000);
        moments(&e, STOW_HEAT, &mean, &sd);
        near("mean", mean, 288.0 + r * 5.0 * (table ? -0.67449 : -3.0902), 4 * left / sqrt(8000));
        near("sd", sd, left, 4 * left / sqrt(16000));
        slew_ensemble_free(&e);
    }
}

static void is_dimension(const slew_scenario *s, slew_parts parts, int index, const char *path,
                         int of)
{
    slew_dimension d = slew_ensemble_dimension(s, parts, index);
    assert_string_equal(slew_key_at(d.key)->path, path);
    assert_int_equal(d.of, of);
}

static void dimensions_are_truck_day_and_deploy_day(void **state)
{
    slew_scenario s = two_days();
    const slew_parts both = SLEW_STOW_AND_DEPLOY;
    (void)state;
    vary(&s.truck, SPEED, uniform(rpm(3000), rpm(3400)));
    assert_int_equal(slew_ensemble_dimensions(&s, both), 5);
    is_dimension(&s, both, 0, SPEED, SLEW_OF_TRUCK);
    is_dimension(&s, both, 1, VOLTAGE, SLEW_OF_DAY);
    is_dimension(&s, both, 2, "environment.temperature", SLEW_OF_DAY);
    is_dimension(&s, both, 3, VOLTAGE, SLEW_OF_DEPLOY_DAY);
    is_dimension(&s, both, 4, "environment.temperature", SLEW_OF_DEPLOY_DAY);
    assert_int_equal(slew_ensemble_dimensions(&s, SLEW_STOW_ONLY), 3);
    assert_int_equal(slew_ensemble_dimensions(&s, SLEW_DEPLOY_ONLY), 3);
    is_dimension(&s, SLEW_DEPLOY_ONLY, 1, VOLTAGE, SLEW_OF_DEPLOY_DAY);
    s.deploy.same_day = true;
    assert_int_equal(slew_ensemble_dimensions(&s, both), 3);
    s.deploy.given = false;
    assert_int_equal(slew_ensemble_dimensions(&s, both), 3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(faster_motor_after_teaching_moves_the_stow_angle),
        cmocka_unit_test(faster_motor_while_teaching_does_not),
        cmocka_unit_test(day_keeps_the_stored_times),
        cmocka_unit_test(truck_is_taught_for_each_sample),
        cmocka_unit_test(layers_hide_what_is_drawn_for_the_truck),
        cmocka_unit_test(deploy_draws_its_own_day),
        cmocka_unit_test(same_day_is_drawn_once),
        cmocka_unit_test(deploy_day_of_the_file_wins),
        cmocka_unit_test(conductor_of_the_file_s_deploy_day_wins),
        cmocka_unit_test(deploy_alone_draws_one_day),
        cmocka_unit_test(what_today_says_is_not_drawn),
        cmocka_unit_test(known_key_conditions_those_that_go_with_it),
        cmocka_unit_test(known_deploy_day_conditions_the_deploy),
        cmocka_unit_test(odd_value_of_a_bounded_spread_counts_as_its_last_thousandth),
        cmocka_unit_test(dimensions_are_truck_day_and_deploy_day),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
