/*
 * study_refusals.c - samples that can't run are left out and named; ensembles that can't be asked
 * are refused.
 */
#include "../support.h"

#include "slewtime/study.h"

static const char *const VOLTAGE = "supply.main.voltage";
static const char *const SPEED = "elevation.motor.no_load_speed";

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

enum { FIGURES = 2 };

static void keep_stow(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                      double *figures)
{
    slew_result r;
    (void)context;
    slew_run_prepared(drawn, prepared, SLEW_STOW_ONLY, NULL, &r);
    figures[0] = r.stow.angle[SLEW_ROTATION];
    figures[1] = r.stow.angle[SLEW_ELEVATION];
}

static slew_sampling independent(int64_t samples, int threads)
{
    slew_sampling how = slew_sampling_default();
    how.points = SLEW_PSEUDO_RANDOM;
    how.samples = samples;
    how.threads = threads;
    return how;
}

static slew_ensemble stows_of(const slew_scenario *s, int64_t samples, int threads)
{
    slew_sampling how = independent(samples, threads);
    slew_ensemble e;
    assert_int_equal(slew_ensemble_run(s, SLEW_STOW_ONLY, &how, keep_stow, NULL, FIGURES, &e, NULL),
                     SLEW_OK);
    assert_int_equal(e.done, samples);
    return e;
}

/* what the day's variation `day` is in a sample */
static double drawn(const slew_scenario *s, int day, int64_t sample)
{
    return slew_variation_quantile(&s->day.item[day],
                                   slew_random_unit(1, (uint64_t)sample, (uint32_t)day));
}

/* ---- Samples ---- */

static bool all_nan(const slew_ensemble *e, int64_t sample)
{
    return isnan(e->figure[sample * FIGURES]) && isnan(e->figure[sample * FIGURES + 1]);
}

static bool none_nan(const slew_ensemble *e, int64_t sample)
{
    return isfinite(e->figure[sample * FIGURES] + e->figure[sample * FIGURES + 1]);
}

/* 0.3 V is less than the drives drop; 175 deg is beyond the stop */
static slew_scenario often_refused(void)
{
    slew_scenario s = daily_scenario();
    vary(&s.day, VOLTAGE,
         (slew_variation){
             .distribution = SLEW_TABLE, .count = 2, .value = {0.3, 13}, .weight = {1, 4}});
    vary(&s.day, "rotation.start", uniform(degrees(100), degrees(175)));
    return s;
}

static const char *reason(const slew_scenario *s, int64_t sample)
{
    return drawn(s, 0, sample) < 1                ? VOLTAGE
           : drawn(s, 1, sample) > degrees(170.0) ? "rotation.start"
                                                  : NULL;
}

/* the first one by its number, whichever thread meets which first */
static void refused_samples_are_counted_and_named(void **state)
{
    const slew_scenario s = often_refused();
    (void)state;
    for (int threads = 1; threads <= 8; threads++) {
        slew_ensemble e = stows_of(&s, 300, threads);
        const char *first = NULL;
        int64_t refused = 0;
        for (int64_t i = 0; i < 300; i++) {
            const char *why = reason(&s, i);
            assert_true(why ? all_nan(&e, i) : none_nan(&e, i));
            refused += why != NULL;
            first = first ? first : why;
        }
        assert_in_range(refused, 30, 150);
        assert_int_equal(e.refused, refused);
        assert_int_equal(e.first_refusal.status, SLEW_ERROR_INPUT);
        assert_string_equal(e.first_refusal.key, first);
        slew_ensemble_free(&e);
    }
}

/* at 100 rpm the axis does not reach home within the move limit; the other trucks are taught */
static void truck_that_can_not_be_taught_is_refused(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    vary(&s.truck, SPEED,
         (slew_variation){.distribution = SLEW_TABLE,
                          .count = 2,
                          .value = {rpm(100), rpm(3200)},
                          .weight = {1, 1}});
    slew_ensemble e = stows_of(&s, 40, 2);
    for (int64_t i = 0; i < 40; i++)
        assert_int_equal(all_nan(&e, i), slew_random_unit(1, (uint64_t)i, 0) < 0.5);
    assert_in_range(e.refused, 1, 39);
    assert_int_equal(e.first_refusal.status, SLEW_ERROR_TEACH);
    slew_ensemble_free(&e);
}

/* a value that the key does not take */
static void value_out_of_the_key_s_range_is_refused(void **state)
{
    slew_scenario s = daily_scenario();
    int64_t refused = 0;
    (void)state;
    vary(&s.day, "supply.shared_load", uniform(-5, 5));
    slew_ensemble e = stows_of(&s, 100, 2);
    for (int64_t i = 0; i < 100; i++) {
        bool bad = drawn(&s, 0, i) < 0;
        assert_true(bad ? all_nan(&e, i) : none_nan(&e, i));
        refused += bad;
    }
    assert_int_equal(e.refused, refused);
    assert_int_equal(e.first_refusal.status, SLEW_ERROR_INPUT);
    assert_true(e.first_refusal.message[0] != '\0');
    assert_string_equal(e.first_refusal.key, "supply.shared_load");
    slew_ensemble_free(&e);
}

/* ---- Ensembles ---- */

static void fails(const slew_scenario *s, slew_sampling how, slew_status status)
{
    slew_ensemble e;
    slew_error error;
    assert_int_equal(
        slew_ensemble_run(s, SLEW_STOW_AND_DEPLOY, &how, keep_stow, NULL, FIGURES, &e, &error),
        status);
    assert_int_equal(error.status, status);
    assert_true(error.message[0] != '\0');
    assert_null(e.figure);
    slew_ensemble_free(&e);
    assert_int_equal(
        slew_ensemble_run(s, SLEW_STOW_AND_DEPLOY, &how, keep_stow, NULL, FIGURES, &e, NULL),
        status);
}

static void ensembles_that_can_not_be_asked(void **state)
{
    slew_scenario s = daily_scenario();
    slew_sampling how = independent(10, 2);
    (void)state;
    vary(&s.day, VOLTAGE, uniform(12, 14));
    how.samples = 0;
    fails(&s, how, SLEW_ERROR_INPUT);
    how.samples = -1;
    fails(&s, how, SLEW_ERROR_INPUT);
    how = slew_sampling_default();
    how.shifts = 0;
    fails(&s, how, SLEW_ERROR_INPUT);
    set_key(&s, SLEW_LAYER_TEACH, "elevation.home.present", 0);
    fails(&s, slew_sampling_default(), SLEW_ERROR_TEACH);
    slew_ensemble_free(NULL);
}

/* 1e9 samples of 1e6 figures are more than any machine holds: said before anything runs */
static void more_samples_than_memory_holds(void **state)
{
    slew_scenario s = daily_scenario();
    slew_sampling how = independent(1000000000, 2);
    slew_ensemble e;
    slew_error error;
    (void)state;
    vary(&s.day, VOLTAGE, uniform(12, 14));
    assert_int_equal(
        slew_ensemble_run(&s, SLEW_STOW_ONLY, &how, keep_stow, NULL, 1000000, &e, &error),
        SLEW_ERROR_MEMORY);
    assert_non_null(strstr(error.message, "memory is short for 1000000000 samples"));
    assert_null(e.figure);
}

/* what the check of a scenario refuses, an ensemble does too */
static void coefficients_that_contradict_each_other(void **state)
{
    slew_scenario s = daily_scenario();
    const char *const path[] = {VOLTAGE, "environment.temperature", "rotation.start"};
    int key[3];
    (void)state;
    vary(&s.day, VOLTAGE, uniform(12, 14));
    vary(&s.day, path[1], uniform(270, 300));
    vary(&s.day, path[2], uniform(-1, 1));
    for (int i = 0; i < 3; i++)
        key[i] = slew_key_find(path[i]);
    s.correlation = (slew_correlations){
        3, {{{key[0], key[1]}, 0.9}, {{key[1], key[2]}, 0.9}, {{key[0], key[2]}, -0.9}}};
    fails(&s, independent(10, 2), SLEW_ERROR_INPUT);
    s.correlation.item[2].coefficient = 0.9;
    slew_ensemble e = stows_of(&s, 10, 2);
    assert_int_equal(e.refused, 0);
    slew_ensemble_free(&e);
}

/* 2 * 20 are as many as Sobol points have; independent points have any number */
static void more_dimensions_than_sobol_points_have(void **state)
{
    slew_scenario s = daily_scenario();
    slew_sampling how = slew_sampling_default();
    slew_ensemble e;
    (void)state;
    how.samples = 8;
    for (int i = 0; i < 20; i++)
        vary(&s.day, VOLTAGE, uniform(12, 14));
    assert_int_equal(
        slew_ensemble_run(&s, SLEW_STOW_AND_DEPLOY, &how, keep_stow, NULL, FIGURES, &e, NULL),
        SLEW_OK);
    assert_int_equal(e.dimensions, 40);
    slew_ensemble_free(&e);
    vary(&s.truck, SPEED, uniform(rpm(3100), rpm(3300)));
    fails(&s, how, SLEW_ERROR_INPUT);
    how.points = SLEW_PSEUDO_RANDOM;
    assert_int_equal(
        slew_ensemble_run(&s, SLEW_STOW_AND_DEPLOY, &how, keep_stow, NULL, FIGURES, &e, NULL),
        SLEW_OK);
    slew_ensemble_free(&e);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(refused_samples_are_counted_and_named),
        cmocka_unit_test(truck_that_can_not_be_taught_is_refused),
        cmocka_unit_test(value_out_of_the_key_s_range_is_refused),
        cmocka_unit_test(ensembles_that_can_not_be_asked),
        cmocka_unit_test(more_samples_than_memory_holds),
        cmocka_unit_test(coefficients_that_contradict_each_other),
        cmocka_unit_test(more_dimensions_than_sobol_points_have),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
