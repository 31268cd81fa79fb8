/* demands_judge.c - whether demands are met: exact bounds, three answers, and what one run misses.
 */
#include "../support.h"

#include <gsl/gsl_cdf.h>

/* ---- bounds ---- */

/* without a hit the bound is a closed form: 1 - (1 - confidence)^(1/n) */
static void no_hit_has_a_closed_bound(void **state)
{
    (void)state;
    for (int64_t n = 1; n < 3000000; n = 3 * n + 1) {
        slew_share s = slew_exact_share(0, n, 0.95);
        assert_true(s.value == 0 && s.low == 0);
        near("no hit", s.high, 1 - pow(0.025, 1.0 / (double)n), 1e-12);
        near("all hits", slew_exact_share(n, n, 0.95).low, 1 - s.high, 1e-12);
    }
}

/* the definition: at the bounds such a sample has the chance 2.5 % on either side */
static void bounds_are_where_the_sample_becomes_unlikely(void **state)
{
    (void)state;
    static const int64_t cases[][2] = {{1, 10}, {3, 10000}, {10, 10000}, {500, 1000}, {77, 50000}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        unsigned k = (unsigned)cases[i][0], n = (unsigned)cases[i][1];
        slew_share s = slew_exact_share(k, n, 0.95);
        near("upper", gsl_cdf_binomial_P(k, s.high, n), 0.025, 1e-8);
        near("lower", gsl_cdf_binomial_Q(k - 1, s.low, n), 0.025, 1e-8);
        assert_true(s.low < s.value && s.value < s.high);
    }
}

/* The interval of 10 of 100 at 95 %: 4.9 % to 17.6 %, from memory (it stands in many textbooks). */
static void ten_of_a_hundred(void **state)
{
    (void)state;
    slew_share s = slew_exact_share(10, 100, 0.95);
    near("low", s.low, 0.0490, 5e-5);
    near("high", s.high, 0.1762, 5e-5);
}

/* ---- three answers ---- */

static slew_scenario daily(void)
{
    slew_scenario s;
    assert_int_equal(slew_scenario_read_file("examples/daily.yaml", NULL, &s), SLEW_OK);
    return s;
}

static slew_demand_state judged(slew_demand demand, int64_t misses, int64_t samples)
{
    slew_scenario s = daily();
    slew_judgment judgment;
    int64_t all[SLEW_DEMAND_COUNT] = {0};
    all[demand] = misses;
    slew_demands_judge(&s, SLEW_STOW_AND_DEPLOY, all, samples, 0, &judgment);
    assert_int_equal(judgment.samples, samples);
    return judgment.of[demand];
}

/* ln 0.05 / ln 0.999 = 2994.2 */
static void none_in_2995_meets_one_in_a_thousand(void **state)
{
    (void)state;
    slew_demand_state enough = judged(SLEW_DEMAND_KEEPOUT, 0, 2995);
    assert_int_equal(enough.meets, SLEW_MEETS);
    assert_int_equal(enough.enough, 2995);
    slew_demand_state few = judged(SLEW_DEMAND_KEEPOUT, 0, 2994);
    assert_int_equal(few.meets, SLEW_NOT_TOLD);
    assert_int_equal(few.enough, 2995);
    assert_true(few.limit == 0.001);
}

static void many_misses_do_not_meet(void **state)
{
    (void)state;
    assert_int_equal(judged(SLEW_DEMAND_KEEPOUT, 20, 10000).meets, SLEW_MEETS_NOT);
    assert_int_equal(judged(SLEW_DEMAND_KEEPOUT, 12, 10000).meets, SLEW_NOT_TOLD);
    assert_int_equal(judged(SLEW_DEMAND_KEEPOUT, 4, 10000).meets, SLEW_MEETS);
    assert_int_equal(judged(SLEW_DEMAND_DEPLOY, 400, 10000).meets, SLEW_MEETS);
    assert_int_equal(judged(SLEW_DEMAND_DEPLOY, 600, 10000).meets, SLEW_MEETS_NOT);
    assert_int_equal(judged(SLEW_DEMAND_DEPLOY, 510, 10000).meets, SLEW_NOT_TOLD);
}

/* so many samples with the same share do tell, and a tenth less do not */
static void enough_samples_are_enough(void **state)
{
    (void)state;
    slew_demand_state s = judged(SLEW_DEMAND_DEPLOY, 460, 10000);
    assert_int_equal(s.meets, SLEW_MEETS);
    s = judged(SLEW_DEMAND_DEPLOY, 48, 1000);
    assert_int_equal(s.meets, SLEW_NOT_TOLD);
    assert_true(s.enough > 10000);
    int64_t less = s.enough - s.enough / 10;
    assert_int_equal(judged(SLEW_DEMAND_DEPLOY, 48 * s.enough / 1000, s.enough).meets, SLEW_MEETS);
    assert_int_equal(judged(SLEW_DEMAND_DEPLOY, 48 * less / 1000, less).meets, SLEW_NOT_TOLD);
}

/* what must never happen can't be shown by any number of samples */
static void never_is_not_told(void **state)
{
    (void)state;
    slew_scenario s = daily();
    slew_judgment j;
    s.demands.keepout_entered = 0;
    slew_demands_judge(&s, SLEW_STOW_AND_DEPLOY, (const int64_t[SLEW_DEMAND_COUNT]){0}, 1000, 0,
                       &j);
    assert_int_equal(j.of[SLEW_DEMAND_KEEPOUT].meets, SLEW_NOT_TOLD);
    assert_int_equal(j.of[SLEW_DEMAND_KEEPOUT].enough, -1);
    assert_int_equal(j.meets, SLEW_NOT_TOLD);
}

/* a higher confidence asks for more */
static void confidence_counts(void **state)
{
    (void)state;
    slew_scenario s = daily();
    slew_judgment j;
    const int64_t none[SLEW_DEMAND_COUNT] = {0};
    slew_demands_judge(&s, SLEW_STOW_AND_DEPLOY, none, 4000, 0, &j);
    assert_int_equal(j.meets, SLEW_MEETS);
    s.demands.confidence = 0.99;
    slew_demands_judge(&s, SLEW_STOW_AND_DEPLOY, none, 4000, 0, &j);
    assert_int_equal(j.meets, SLEW_NOT_TOLD);
    assert_int_equal(j.of[SLEW_DEMAND_STOP].enough, 4603); /* ln 0.01 / ln 0.999 = 4602.9 */
}

/* ---- one run ---- */

static unsigned missed(const char *path)
{
    slew_scenario s;
    slew_prepared p;
    slew_result r;
    assert_int_equal(slew_scenario_read_file(path, NULL, &s), SLEW_OK);
    assert_int_equal(slew_prepare(&s, SLEW_STOW_AND_DEPLOY, &p, NULL), SLEW_OK);
    slew_run_prepared(&s, &p, SLEW_STOW_AND_DEPLOY, NULL, &r);
    return slew_demands_missed(&s, &p, SLEW_STOW_AND_DEPLOY, &r);
}

enum {
    STOP = 1 << SLEW_DEMAND_STOP,
    FAULT = 1 << SLEW_DEMAND_FAULT,
    STOW = 1 << SLEW_DEMAND_STOW,
    KEEPOUT = 1 << SLEW_DEMAND_KEEPOUT
};

static void a_run_misses_what_it_misses(void **state)
{
    (void)state;
    assert_int_equal(missed("examples/clearance-enough.yaml"), 0);
    assert_true(missed("examples/clearance-pressed.yaml") & STOP);
    assert_false(missed("examples/clearance-pressed.yaml") & FAULT);
    assert_int_equal(missed("examples/clearance-faults.yaml") & (STOP | FAULT | STOW), STOP | STOW);
    assert_int_equal(missed("examples/dead-sensor.yaml") & (STOP | FAULT | STOW), FAULT | STOW);
}

/* nothing varies: one case is all, and sure */
static void one_case_is_sure(void **state)
{
    (void)state;
    slew_scenario s;
    slew_judgment j;
    slew_sampling how = slew_sampling_default();
    how.samples = 8;
    assert_int_equal(slew_scenario_read_file("examples/clearance-enough.yaml", NULL, &s), SLEW_OK);
    assert_int_equal(slew_demands_run(&s, SLEW_STOW_AND_DEPLOY, &how, &j, NULL), SLEW_OK);
    assert_true(j.certain);
    assert_int_equal(j.meets, SLEW_MEETS);
    assert_true(j.of[SLEW_DEMAND_STOW].missed.high == 0);
    assert_false(j.of[SLEW_DEMAND_DEPLOY].asked); /* it has none */
}

/* counted by hand with the same samples */
static void an_ensemble_counts_its_misses(void **state)
{
    (void)state;
    slew_scenario s = daily();
    slew_judgment j;
    slew_sampling how = slew_sampling_default();
    how.samples = 512;
    assert_int_equal(slew_demands_run(&s, SLEW_STOW_AND_DEPLOY, &how, &j, NULL), SLEW_OK);
    assert_int_equal(j.samples, 512);
    /* about one stow in five ends off its point (examples/daily.yaml) */
    assert_true(j.of[SLEW_DEMAND_STOW].misses > 60 && j.of[SLEW_DEMAND_STOW].misses < 150);
    assert_int_equal(j.meets, SLEW_MEETS_NOT);
}

/* a truck that can't be taught is one that fails */
static void what_cannot_be_taught_misses(void **state)
{
    (void)state;
    slew_scenario s = daily();
    unsigned mask = slew_demands_missed_untaught(&s, SLEW_STOW_AND_DEPLOY);
    assert_true((mask & FAULT) && (mask & STOW) && !(mask & STOP) && !(mask & KEEPOUT));
}

static void fresh_samples_are_others(void **state)
{
    (void)state;
    slew_sampling how = slew_sampling_default(), fresh = slew_sampling_fresh(&how);
    assert_int_not_equal(how.seed, fresh.seed);
    assert_int_equal(how.samples, fresh.samples);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_hit_has_a_closed_bound),
        cmocka_unit_test(bounds_are_where_the_sample_becomes_unlikely),
        cmocka_unit_test(ten_of_a_hundred),
        cmocka_unit_test(none_in_2995_meets_one_in_a_thousand),
        cmocka_unit_test(many_misses_do_not_meet),
        cmocka_unit_test(enough_samples_are_enough),
        cmocka_unit_test(never_is_not_told),
        cmocka_unit_test(confidence_counts),
        cmocka_unit_test(a_run_misses_what_it_misses),
        cmocka_unit_test(one_case_is_sure),
        cmocka_unit_test(an_ensemble_counts_its_misses),
        cmocka_unit_test(what_cannot_be_taught_misses),
        cmocka_unit_test(fresh_samples_are_others),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
