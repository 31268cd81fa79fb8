/*
 * causes_weighing.c - shares, fit, likeness and information of made-up figures against what they
 * must be. lib/MODEL.md, M13.
 */
#include "causes_made.h"

#include <gsl/gsl_integration.h>
#include <gsl/gsl_randist.h>

/* entropy of a coin [bit] */
static double coin(double p)
{
    return -p * log2(p) - (1 - p) * log2(1 - p);
}

/* ---- shares ---- */

static const int SECONDS = SLEW_SEEN_STOW_SECONDS; /* sd 0.3 s, width 60 s */
static const int CONTACT = SLEW_SEEN_SENSOR_AT_HOME;

/* a word is right in 99 of 100: the shares are 0.99 and 0.01 times the commonness */
static void words_are_weighed_by_their_blunders(void **state)
{
    (void)state;
    slew_causes c = two_causes(4);
    set_all(&c, A, CONTACT, 1);
    set_all(&c, B, CONTACT, 0);
    slew_seen s = seen(CONTACT, 1);
    slew_ranking r = ranked(&c, &s, 1);
    near("even", r.share[A], 0.99, 1e-12);
    assert_int_equal(r.order[0], A);
    near("doubt", r.bits, coin(0.01), 1e-12);
    slew_ranking_free(&r);
    r = ranked(&c, &s, 99);
    near("b is common", r.share[A], 0.5, 1e-12);
    slew_ranking_free(&r);
    slew_causes_free(&c);
}

/* of three words a blunder gives either of the two others */
static void blunders_are_shared_by_the_other_words(void **state)
{
    (void)state;
    slew_causes c = two_causes(1);
    set_all(&c, A, SLEW_SEEN_WAY, 1);
    set_all(&c, B, SLEW_SEEN_WAY, 2);
    slew_seen s = seen(SLEW_SEEN_WAY, 1);
    slew_ranking r = ranked(&c, &s, 1);
    near("share", r.share[A], 0.99 / (0.99 + 0.005), 1e-12);
    slew_ranking_free(&r);
    slew_causes_free(&c);
}

/* normal density with a floor of blunders, by its formula */
static double density(double x, double mean, double sd)
{
    return 0.99 * gsl_ran_gaussian_pdf(x - mean, sd) + 0.01 / 60;
}

static void numbers_are_weighed_by_their_density(void **state)
{
    (void)state;
    slew_causes c = two_causes(2);
    set(&c, A, 0, SECONDS, 10);
    set(&c, A, 1, SECONDS, 11);
    set(&c, B, 0, SECONDS, 10.5);
    set(&c, B, 1, SECONDS, 40); /* 40 is out of reach: only a blunder could read 10.2 */
    slew_seen s = seen(SECONDS, 10.2);
    slew_ranking r = ranked(&c, &s, 1);
    double a = (density(10.2, 10, 0.3) + density(10.2, 11, 0.3)) / 2;
    double b = (density(10.2, 10.5, 0.3) + 0.01 / 60) / 2;
    near("share", r.share[A], a / (a + b), 1e-12);
    double all = a + b;
    near("weight", r.weight[A * 2 + 1], density(10.2, 11, 0.3) / 2 / all, 1e-12);
    slew_ranking_free(&r);
    s.sd[SECONDS] = 2;
    r = ranked(&c, &s, 1);
    a = (density(10.2, 10, 2) + density(10.2, 11, 2)) / 2;
    b = (density(10.2, 10.5, 2) + density(10.2, 40, 2)) / 2;
    near("another uncertainty", r.share[A], a / (a + b), 1e-12);
    slew_ranking_free(&r);
    slew_causes_free(&c);
}

/* a sample without a reading can only have been misread; one that can't be does not count */
static void missing_and_impossible_samples(void **state)
{
    (void)state;
    slew_causes c = two_causes(2);
    set_all(&c, A, SECONDS, 10);
    set(&c, B, 0, SECONDS, 10);
    slew_seen s = seen(SECONDS, 10);
    slew_ranking r = ranked(&c, &s, 1);
    double full = density(10, 10, 0.3), none = 0.01 / 60;
    near("half of b has none", r.share[B], (full + none) / 2 / (full + (full + none) / 2), 1e-12);
    slew_ranking_free(&r);
    set(&c, B, 1, SLEW_SEEN_STOW_SAYS, NAN);
    c.state[B].possible = 1;
    r = ranked(&c, &s, 1);
    near("it can't be there", r.share[B], 0.5, 1e-12);
    near("effective", slew_ranking_effective(&c, &r, A), 2, 1e-12);
    near("effective", slew_ranking_effective(&c, &r, B), 1, 1e-12);
    slew_ranking_free(&r);
    slew_causes_free(&c);
}

/* nothing fits what can't be, and nothing speaks against it; one sample is its own measure */
static void causes_that_can_be_nowhere_or_once(void **state)
{
    (void)state;
    slew_causes c = two_causes(2);
    set_all(&c, A, SECONDS, 10);
    set_all(&c, A, SLEW_SEEN_STOW_SAYS, NAN);
    c.state[A].possible = 0;
    set_all(&c, B, SECONDS, 10);
    set(&c, B, 0, SLEW_SEEN_STOW_SAYS, NAN);
    c.state[B].possible = 1;
    slew_seen s = seen(SECONDS, 10);
    assert_true(slew_causes_fit(&c, &s, A, 1, 50) == 0);
    assert_int_equal(slew_causes_against(&c, &s, A), -1);
    assert_in_range((int)(1000 * slew_causes_fit(&c, &s, B, 1, 200)), 900, 1000);
    slew_ranking r = ranked(&c, &s, 1);
    near("no weight", slew_ranking_effective(&c, &r, A), 0, 0.0);
    near("all of it", r.share[B], 1, 1e-12);
    slew_ranking_free(&r);
    s = seen(SECONDS, 20); /* a tenth of a blunder's share */
    assert_in_range((int)(1000 * slew_causes_fit(&c, &s, B, 1, 200)), 0, 50);
    assert_int_equal(slew_causes_against(&c, &s, B), SECONDS);
    slew_causes_free(&c);
}

static void idle_causes_have_no_share(void **state)
{
    (void)state;
    slew_causes c = two_causes(1);
    set_all(&c, A, CONTACT, 1);
    set_all(&c, B, CONTACT, 1);
    c.state[B].idle = true;
    slew_seen s = seen(CONTACT, 1);
    slew_ranking r = ranked(&c, &s, 1);
    assert_int_equal(r.count, 1);
    near("alone", r.share[A], 1, 0);
    near("idle", r.share[B], 0, 0);
    slew_ranking_free(&r);
    slew_causes_free(&c);
}

static void what_can_not_be_weighed_is_refused(void **state)
{
    (void)state;
    slew_causes c = two_causes(1);
    slew_ranking r;
    slew_error error = {0};
    slew_seen s;
    slew_seen_init(&s);
    assert_int_equal(slew_causes_rank(&c, two_names(1), &s, &r, &error), SLEW_ERROR_INPUT);
    assert_non_null(strstr(error.message, "nothing was seen"));
    s = seen(SECONDS, 3);
    s.line[SECONDS] = 7;
    assert_int_equal(slew_causes_rank(&c, two_names(1), &s, &r, &error), SLEW_ERROR_INPUT);
    assert_string_equal(error.key, "stow.seconds");
    assert_int_equal(error.line, 7);
    c.state[A].possible = c.state[B].possible = 0;
    assert_int_equal(slew_causes_rank(&c, two_names(1), &s, &r, &error), SLEW_ERROR_INPUT);
    assert_non_null(strstr(error.message, "none of the causes"));
    slew_causes_free(&c);
}

/* ---- information ---- */

/* a coin told through a channel that errs once in a hundred: 1 - H(0.01) bits */
static void contact_tells_a_bit_less_its_blunders(void **state)
{
    (void)state;
    slew_causes c = two_causes(3);
    set_all(&c, A, CONTACT, 1);
    set_all(&c, B, CONTACT, 0);
    set_all(&c, A, SLEW_SEEN_WAY, 2); /* seen, and no help */
    set_all(&c, B, SLEW_SEEN_WAY, 2);
    slew_seen s = seen(SLEW_SEEN_WAY, 2);
    slew_ranking r = ranked(&c, &s, 1);
    near("bits", slew_causes_information(&c, &r, CONTACT), 1 - coin(0.01), 1e-12);
    near("no help", slew_causes_information(&c, &r, SLEW_SEEN_WAY), 0, 1e-12);
    near("nothing to read", slew_causes_information(&c, &r, SECONDS), 0, 1e-12);
    slew_ranking_free(&r);
    r = ranked(&c, &s, 9); /* 1 to 9 */
    double reads_one = 0.1 * 0.99 + 0.9 * 0.01;
    near("uneven", slew_causes_information(&c, &r, CONTACT), coin(reads_one) - coin(0.01), 1e-12);
    slew_ranking_free(&r);
    slew_causes_free(&c);
}

/* what is there to be read in one cause alone tells too: no blunder makes a reading of nothing */
static void having_a_reading_tells(void **state)
{
    (void)state;
    slew_causes c = two_causes(3);
    set_all(&c, A, SECONDS, 10);
    set_all(&c, A, CONTACT, 0);
    set_all(&c, B, CONTACT, 0);
    slew_seen s = seen(CONTACT, 0);
    slew_ranking r = ranked(&c, &s, 1);
    near("bits", slew_causes_information(&c, &r, SECONDS), 1, 1e-12);
    slew_ranking_free(&r);
    slew_causes_free(&c);
}

typedef struct pair {
    double distance, low, high; /* [s] */
} pair;

static double of_a(const pair *p, double x)
{
    return 0.99 * gsl_ran_gaussian_pdf(x, 0.3) + 0.01 / (p->high - p->low);
}

static double integrand(double x, void *context)
{
    const pair *p = context;
    double a = of_a(p, x), b = of_a(p, x - p->distance), m = (a + b) / 2;
    return a / 2 * log2(a / m) + b / 2 * log2(b / m);
}

/* Two normals of sd s, a distance d apart: the mutual information is an integral, done here by
 * GSL's adaptive quadrature. Bins h wide can only lose; with the score's difference d/s2 and a
 * posterior variance of at most 1/4 the loss is below (h/s)2 (d/s)2 / 96 nats to second order, for
 * h = s/2 and d = 2 s 0.010 nats = 0.015 bits. Cutting at 4 s moves 6e-5 of the weight. */
static void numbers_tell_what_their_integral_says(void **state)
{
    (void)state;
    double bits, error;
    slew_causes c = two_causes(5);
    set_all(&c, A, SECONDS, 10);
    set_all(&c, B, SECONDS, 10.6);
    set_all(&c, A, CONTACT, 0);
    set_all(&c, B, CONTACT, 0);
    slew_seen s = seen(CONTACT, 0);
    slew_ranking r = ranked(&c, &s, 1);
    pair p = {0.6, -1.2, 1.8};
    gsl_function f = {integrand, &p};
    gsl_integration_workspace *work = gsl_integration_workspace_alloc(200);
    gsl_integration_qag(&f, p.low, p.high, 1e-9, 1e-9, 200, GSL_INTEG_GAUSS31, work, &bits, &error);
    gsl_integration_workspace_free(work);
    double told = slew_causes_information(&c, &r, SECONDS);
    assert_true(bits > 0.4 && bits < 0.6);
    if (!(told <= bits + 1e-3 && told >= bits - 0.015))
        fail_msg("%.4f bits, not %.4f", told, bits);
    slew_ranking_free(&r);
    slew_causes_free(&c);
}

/* ---- fit ---- */

enum { CASES = 300, TRIALS = 100 };

/* of what a cause itself shows a fifth is odder than p = 0.2: binomial, 4 sd = 0.092 */
static void p_is_even_under_the_cause_itself(void **state)
{
    (void)state;
    slew_causes c = two_causes(200);
    int below = 0;
    set_normal(&c, A, SECONDS, 10, 1);
    set_normal(&c, A, SLEW_SEEN_STOW_ANGLE, 0.5, 0.05);
    for (int k = 0; k < CASES; k++) {
        slew_seen s, own;
        slew_causes_observe(&c, A, k % 200, 100u + (uint64_t)k, &own);
        s = seen(SECONDS, own.value[SECONDS]);
        s.value[SLEW_SEEN_STOW_ANGLE] = own.value[SLEW_SEEN_STOW_ANGLE];
        below += slew_causes_fit(&c, &s, A, 5, TRIALS) < 0.2;
    }
    near("share", (double)below / CASES, 0.2, 0.092);
    slew_causes_free(&c);
}

/* two samples out of each other's reach: a made-up observation has none but its own, which is left
 * out, so that whatever was seen is no odder */
static void own_sample_is_left_out_of_the_fit(void **state)
{
    (void)state;
    slew_causes c = two_causes(2);
    set(&c, A, 0, SECONDS, 10);
    set(&c, A, 1, SECONDS, 50);
    slew_seen s = seen(SECONDS, 10.9);
    near("p", slew_causes_fit(&c, &s, A, 5, TRIALS), 1, 0);
    slew_causes_free(&c);
}

static void impossible_observation_fits_nothing(void **state)
{
    (void)state;
    slew_causes c = two_causes(200);
    slew_diagnosis d;
    set_normal(&c, A, SECONDS, 10, 1);
    set_normal(&c, B, SECONDS, 20, 1);
    slew_seen s = seen(SECONDS, 11);
    assert_int_equal(slew_causes_diagnose(&c, two_names(1), &s, 1, &d, NULL), SLEW_OK);
    assert_true(d.fits && d.fit[0] > 0.1);
    assert_int_equal(d.ranking.order[0], A);
    slew_diagnosis_free(&d);
    s = seen(SECONDS, 15);
    assert_int_equal(slew_causes_diagnose(&c, two_or_none(0.05), &s, 1, &d, NULL), SLEW_OK);
    assert_false(d.fits);
    assert_true(d.fit[0] < SLEW_FITS);
    slew_diagnosis_free(&d);
    assert_int_equal(slew_causes_against(&c, &s, A), SECONDS);
    s = seen(SECONDS, 10);
    assert_int_equal(slew_causes_against(&c, &s, A), -1);
    slew_causes_free(&c);
}

static void next_look_is_the_one_that_tells_most(void **state)
{
    (void)state;
    slew_causes c = two_causes(20);
    slew_diagnosis d;
    set_all(&c, A, SLEW_SEEN_WAY, 1);
    set_all(&c, B, SLEW_SEEN_WAY, 1);
    set_normal(&c, A, SECONDS, 10, 1);
    set_normal(&c, B, SECONDS, 11, 1);
    set_all(&c, A, CONTACT, 0);
    set_all(&c, B, CONTACT, 1);
    slew_seen s = seen(SLEW_SEEN_WAY, 1);
    assert_int_equal(slew_causes_diagnose(&c, two_names(1), &s, 1, &d, NULL), SLEW_OK);
    assert_int_equal(d.candidates, 2);
    assert_int_equal(d.next_count, 2); /* what was seen, and what is alike, is left out */
    assert_int_equal(d.next[0], CONTACT);
    assert_int_equal(d.next[1], SECONDS);
    assert_true(d.bits[0] > d.bits[1]);
    slew_diagnosis_free(&d);
    slew_causes_free(&c);
}

/* ---- likeness and signatures ---- */

static void likeness_runs_from_nothing_to_a_half(void **state)
{
    (void)state;
    double likeness[4];
    slew_causes c = two_causes(100);
    set_normal(&c, A, SECONDS, 10, 1);
    set_normal(&c, B, SECONDS, 10, 1);
    assert_int_equal(slew_causes_likeness(&c, SLEW_BY_EYE, 0.4, likeness), SLEW_OK);
    near("the same", likeness[A * 2 + B], 0.5, 1e-12);
    near("both ways", likeness[B * 2 + A], likeness[A * 2 + B], 0);
    set_all(&c, A, CONTACT, 0);
    set_all(&c, B, CONTACT, 1);
    assert_int_equal(slew_causes_likeness(&c, SLEW_BY_EYE, 0.4, likeness), SLEW_OK);
    near("not by eye", likeness[A * 2 + B], 0.5, 1e-12);
    assert_int_equal(slew_causes_likeness(&c, SLEW_BY_CHECK, 0.4, likeness), SLEW_OK);
    near("by the contact", likeness[A * 2 + B], 2 * 0.99 * 0.01, 1e-12);
    slew_causes_free(&c);
}

static void signature_has_quantiles_and_words(void **state)
{
    (void)state;
    slew_causes c = two_causes(101);
    slew_signature s;
    for (int64_t i = 0; i < 101; i++)
        set(&c, A, i, SECONDS, (double)(100 - i));
    assert_int_equal(slew_causes_signature(&c, NULL, A, SECONDS, &s), SLEW_OK);
    near("low", s.low, 5, 0);
    near("mid", s.mid, 50, 0);
    near("high", s.high, 95, 0);
    near("readable", s.readable, 1, 1e-12);
    for (int64_t i = 0; i < 101; i++)
        set(&c, A, i, CONTACT, i < 60 ? 1 : i < 80 ? 0 : (double)NAN);
    assert_int_equal(slew_causes_signature(&c, NULL, A, CONTACT, &s), SLEW_OK);
    assert_int_equal(s.word, 1);
    near("share", s.share, 0.75, 1e-12);
    near("readable", s.readable, 80 / 101.0, 1e-12);
    assert_int_equal(slew_causes_signature(&c, NULL, B, CONTACT, &s), SLEW_OK);
    assert_int_equal(s.word, -1);
    near("nothing", s.readable, 0, 0);
    slew_causes_free(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(words_are_weighed_by_their_blunders),
        cmocka_unit_test(blunders_are_shared_by_the_other_words),
        cmocka_unit_test(numbers_are_weighed_by_their_density),
        cmocka_unit_test(missing_and_impossible_samples),
        cmocka_unit_test(causes_that_can_be_nowhere_or_once),
        cmocka_unit_test(idle_causes_have_no_share),
        cmocka_unit_test(what_can_not_be_weighed_is_refused),
        cmocka_unit_test(contact_tells_a_bit_less_its_blunders),
        cmocka_unit_test(having_a_reading_tells),
        cmocka_unit_test(numbers_tell_what_their_integral_says),
        cmocka_unit_test(p_is_even_under_the_cause_itself),
        cmocka_unit_test(own_sample_is_left_out_of_the_fit),
        cmocka_unit_test(impossible_observation_fits_nothing),
        cmocka_unit_test(next_look_is_the_one_that_tells_most),
        cmocka_unit_test(likeness_runs_from_nothing_to_a_half),
        cmocka_unit_test(signature_has_quantiles_and_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
