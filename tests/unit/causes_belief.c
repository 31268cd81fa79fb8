/*
 * causes_belief.c - that it is none of the causes, how sure a probability is, Bayes factors, and
 * checks that are worth their minutes. lib/MODEL.md, M13.7.
 */
#include "causes_made.h"

#include <gsl/gsl_randist.h>

static const int SECONDS = SLEW_SEEN_STOW_SECONDS; /* sd 0.3 s, width 60 s, 3 minutes */
static const int CONTACT = SLEW_SEEN_SENSOR_AT_HOME;

static slew_ranking believed(const slew_causes *c, const slew_catalogue *catalogue,
                             const slew_seen *s)
{
    slew_ranking r;
    slew_error error;
    if (slew_causes_rank(c, catalogue, s, &r, &error) != SLEW_OK)
        fail_msg("%s: %s", error.key, error.message);
    return r;
}

/* ---- none of them ---- */

/* two things seen, each half like the two causes together, half like anything */
static void none_of_them_is_a_hypothesis_of_its_own(void **state)
{
    (void)state;
    slew_causes c = two_causes(2);
    set_all(&c, A, CONTACT, 1);
    set_all(&c, B, CONTACT, 0);
    set_all(&c, A, SECONDS, 10);
    set_all(&c, B, SECONDS, 10.5);
    slew_seen s = seen(CONTACT, 1);
    s.value[SECONDS] = 10.2;
    slew_ranking r = believed(&c, two_or_none(0.2), &s);
    double at_a = 0.99 * gsl_ran_gaussian_pdf(0.2, 0.3) + 0.01 / 60;
    double at_b = 0.99 * gsl_ran_gaussian_pdf(0.3, 0.3) + 0.01 / 60;
    double a = 0.99 * at_a, b = 0.01 * at_b;
    double word = 0.5 * (0.99 + 0.01) / 2 + 0.5 / 2, number = 0.5 * (at_a + at_b) / 2 + 0.5 / 60;
    double none = word * number, all = 0.4 * a + 0.4 * b + 0.2 * none;
    near("none", r.none, 0.2 * none / all, 1e-12);
    near("a", r.share[A], 0.4 * a / all, 1e-12);
    near("b", r.share[B], 0.4 * b / all, 1e-12);
    near("factor of a", slew_ranking_factor(&c, &r, A), a / none, 1e-9);
    near("factor of b", slew_ranking_factor(&c, &r, B), b / a, 1e-12);
    near("factor of none", slew_ranking_factor(&c, &r, -1), none / a, 1e-12);
    slew_ranking_free(&r);
    slew_causes_free(&c);
}

/* nothing can be told from where there is nothing to be seen: it stays as it was before */
static void what_tells_nothing_leaves_it_where_it_was(void **state)
{
    (void)state;
    slew_causes c = two_causes(2);
    set_all(&c, A, CONTACT, 1);
    set_all(&c, B, CONTACT, 1);
    slew_seen s = seen(CONTACT, 1);
    slew_ranking r = believed(&c, two_or_none(0), &s);
    near("never", r.none, 0, 0);
    near("factor", slew_ranking_factor(&c, &r, A), 1, 1e-12);
    slew_ranking_free(&r);
    r = believed(&c, two_or_none(0.05), &s);
    assert_true(r.none > 0.03 && r.none < 0.05); /* 0.75 against 0.99 */
    near("sum", r.none + r.share[A] + r.share[B], 1, 1e-12);
    slew_ranking_free(&r);
    slew_causes_free(&c);
}

/* more readings that no cause has, each by itself of one of them: less and less a blunder */
static void an_odd_mixture_is_none_of_them(void **state)
{
    static const int seen_of_a[] = {SLEW_SEEN_WAY, SLEW_SEEN_MOVED, SLEW_SEEN_SENSOR_AT_HOME};
    static const int seen_of_b[] = {SLEW_SEEN_SENSOR_AWAY, SLEW_SEEN_HAND_MAGNET,
                                    SLEW_SEEN_MOTOR_TURNS};
    slew_causes c = two_causes(2);
    slew_seen s;
    double before = 0.05;
    (void)state;
    slew_seen_init(&s);
    for (int k = 0; k < 3; k++) {
        set_all(&c, A, seen_of_a[k], 1);
        set_all(&c, B, seen_of_a[k], 0);
        set_all(&c, A, seen_of_b[k], 0);
        set_all(&c, B, seen_of_b[k], 1);
        s.value[seen_of_a[k]] = s.value[seen_of_b[k]] = 1;
        slew_ranking r = believed(&c, two_or_none(0.05), &s);
        assert_true(r.none > before);
        before = r.none;
        slew_ranking_free(&r);
    }
    assert_true(before > 0.99);
    slew_causes_free(&c);
}

/* ---- the sampling error ---- */

/* of two groups the jackknife is half of what the two shares differ by */
static void two_groups_tell_half_their_difference(void **state)
{
    (void)state;
    double share[2];
    slew_causes c = two_causes(4);
    set_all(&c, B, SECONDS, 10.5);
    for (int i = 0; i < 4; i++)
        set(&c, A, i, SECONDS, i % 2 == 0 ? 10 : 11);
    slew_seen s = seen(SECONDS, 10.2);
    for (int g = 0; g < 2; g++) {
        double a = 0.99 * gsl_ran_gaussian_pdf(g == 0 ? 0.2 : 0.8, 0.3) + 0.01 / 60;
        double b = 0.99 * gsl_ran_gaussian_pdf(0.3, 0.3) + 0.01 / 60;
        share[g] = a / (a + b);
    }
    slew_ranking r = believed(&c, two_names(1), &s);
    near("sd", r.share_sd[A], fabs(share[0] - share[1]) / 2, 1e-12);
    near("none", r.none_sd, 0, 0);
    slew_ranking_free(&r);
    slew_causes_free(&c);
}

enum { SETS = 200, IN_A_SET = 160, IN_GROUPS = 8 };

/* over sets of samples the share scatters by what each set says of itself: the ratio of the two
 * from 200 sets of 8 groups has a standard error of about 1/sqrt(2 * 200) + 1/sqrt(2 * 7 * 200), 4
 * of which are 0.28 */
static void the_error_is_that_of_other_samples(void **state)
{
    (void)state;
    double sum = 0, squares = 0, told = 0;
    for (int k = 0; k < SETS; k++) {
        slew_causes c = two_causes(IN_A_SET);
        c.groups = IN_GROUPS;
        for (int64_t i = 0; i < IN_A_SET; i++) {
            uint64_t number = (uint64_t)(k * IN_A_SET + i);
            set(&c, A, i, SECONDS, 10 + gsl_cdf_ugaussian_Pinv(slew_random_unit(3, number, 0)));
            set(&c, B, i, SECONDS, 12 + gsl_cdf_ugaussian_Pinv(slew_random_unit(3, number, 1)));
        }
        slew_seen s = seen(SECONDS, 10.6);
        slew_ranking r = believed(&c, two_or_none(0.05), &s);
        sum += r.share[A] / SETS;
        squares += r.share[A] * r.share[A] / SETS;
        told += r.share_sd[A] * r.share_sd[A] / SETS;
        slew_ranking_free(&r);
        slew_causes_free(&c);
    }
    near("told against true", sqrt(told / (squares - sum * sum)), 1, 0.28);
}

/* ---- minutes ---- */

/* reading the voltage at the battery (2 minutes) half tells what a magnet held by hand (12) tells
 * wholly */
static void minutes_order_the_checks(void **state)
{
    (void)state;
    slew_causes c = two_causes(20);
    slew_diagnosis d;
    set_all(&c, A, SLEW_SEEN_WAY, 1);
    set_all(&c, B, SLEW_SEEN_WAY, 1);
    set_normal(&c, A, SLEW_SEEN_BATTERY_IDLE, 12.6, 0.1);
    set_normal(&c, B, SLEW_SEEN_BATTERY_IDLE, 12.8, 0.1);
    set_all(&c, A, SLEW_SEEN_HAND_MAGNET, 0);
    set_all(&c, B, SLEW_SEEN_HAND_MAGNET, 1);
    slew_seen s = seen(SLEW_SEEN_WAY, 1);
    assert_int_equal(slew_causes_diagnose(&c, two_or_none(0.05), &s, 1, &d, NULL), SLEW_OK);
    assert_int_equal(d.next_count, 2);
    assert_int_equal(d.next[0], SLEW_SEEN_BATTERY_IDLE);
    assert_true(d.bits[0] < d.bits[1]); /* but not a minute */
    assert_true(d.fits);
    slew_diagnosis_free(&d);
    slew_causes_free(&c);
}

static void each_has_a_name_and_its_minutes(void **state)
{
    (void)state;
    for (int i = 0; i < SLEW_OBSERVABLES; i++) {
        const slew_observable *o = slew_observable_at(i);
        assert_in_range(strlen(o->name), 10, 60);
        assert_true(o->minutes >= 1 && o->minutes <= 30);
        assert_true(o->name[0] >= 'A' && o->name[0] <= 'Z');
        for (int other = 0; other < i; other++)
            assert_string_not_equal(o->name, slew_observable_at(other)->name);
    }
}

/* "\"check.battery.idle\": { \"text\": \"Battery voltage at rest\", \"minutes\": 2 }" */
static bool has_line(const char *page, const slew_observable *o)
{
    char line[200], with[240];
    snprintf(line, sizeof line, "\"%s\": { \"text\": \"%s\"", o->key.path, o->name);
    snprintf(with, sizeof with, "%s, \"minutes\": %g }", line, o->minutes);
    return strstr(page, o->by == SLEW_BY_EYE ? line : with) != NULL;
}

/* the page for the class asks for the same minutes, in the same words */
static void the_page_has_the_same(void **state)
{
    static char page[16384];
    FILE *file = fopen("plots/page/checks.json", "r");
    (void)state;
    assert_non_null(file);
    page[fread(page, 1, sizeof page - 1, file)] = '\0';
    fclose(file);
    for (int i = 0; i < SLEW_OBSERVABLES; i++)
        if (!has_line(page, slew_observable_at(i)))
            fail_msg("%s is another one on the page", slew_observable_at(i)->key.path);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(none_of_them_is_a_hypothesis_of_its_own),
        cmocka_unit_test(what_tells_nothing_leaves_it_where_it_was),
        cmocka_unit_test(an_odd_mixture_is_none_of_them),
        cmocka_unit_test(two_groups_tell_half_their_difference),
        cmocka_unit_test(the_error_is_that_of_other_samples),
        cmocka_unit_test(minutes_order_the_checks),
        cmocka_unit_test(each_has_a_name_and_its_minutes),
        cmocka_unit_test(the_page_has_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
