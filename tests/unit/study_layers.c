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
        cmocka_unit_test(dimensions_are_truck_day_and_deploy_day),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
