/*
 * causes_found.c - each cause of the built-in catalogue is found again by its own signature.
 *
 * Of every cause trucks and days are drawn apart from those that it is weighed by, read with the
 * uncertainties of the table, and ranked. At least 90 % of them have the cause in the first place,
 * or one there that is said to look the same.
 */
#include "../support.h"

enum { WEIGHED_BY = 400, TRIED = 100, TRIED_WITH_CHECKS = 40 };
static const double to_be_found = 0.9;

static slew_catalogue catalogue;
static double likeness[SLEW_CAUSES_MAX * SLEW_CAUSES_MAX];

static slew_causes simulate(const slew_scenario *s, int64_t samples, uint64_t seed)
{
    slew_sampling how = slew_sampling_default();
    slew_causes out;
    how.samples = samples;
    how.seed = seed;
    how.points = SLEW_PSEUDO_RANDOM;
    assert_int_equal(slew_causes_run(s, &catalogue, NULL, &how, &out, NULL), SLEW_OK);
    return out;
}

/* the cause in the first place, of what is seen as `most` says or more simply */
static int first_of(const slew_causes *causes, const slew_causes *truths, int cause, int64_t sample,
                    slew_seen_by most)
{
    slew_seen seen;
    slew_ranking ranking;
    slew_causes_observe(truths, cause, sample, 11, &seen);
    for (int i = 0; i < SLEW_OBSERVABLES; i++)
        if (slew_observable_at(i)->by > most)
            seen.value[i] = NAN;
    assert_int_equal(slew_causes_rank(causes, &catalogue, &seen, &ranking, NULL), SLEW_OK);
    int first = ranking.order[0];
    slew_ranking_free(&ranking);
    return first;
}

static void is_found(const slew_causes *causes, const slew_causes *truths, int cause,
                     slew_seen_by most)
{
    int found = 0, tried = 0, mistaken[SLEW_CAUSES_MAX] = {0};
    for (int64_t i = 0; i < truths->samples; i++) {
        if (isnan(slew_causes_figures(truths, cause, i)[SLEW_SEEN_STOW_SAYS]))
            continue;
        int first = first_of(causes, truths, cause, i, most);
        tried++;
        found += first == cause || likeness[cause * causes->count + first] >= SLEW_LOOKS_THE_SAME;
        mistaken[first]++;
    }
    if (tried == truths->samples && found >= to_be_found * tried)
        return;
    for (int c = 0; c < causes->count; c++)
        if (mistaken[c] > 0)
            print_message("  %d times %s\n", mistaken[c], catalogue.cause[c].name);
    fail_msg("%s: %d of %d", catalogue.cause[cause].name, found, tried);
}

/* every cause that counts, or the one named; returns how many */
static int all_are_found(const char *path, slew_seen_by most, const char *only)
{
    slew_scenario s;
    int count = 0;
    assert_int_equal(slew_scenario_read_file(path, NULL, &s), SLEW_OK);
    assert_int_equal(slew_catalogue_builtin(&catalogue), SLEW_OK);
    slew_causes causes = simulate(&s, WEIGHED_BY, 1);
    slew_causes truths = simulate(&s, most == SLEW_BY_CHECK ? TRIED_WITH_CHECKS : TRIED, 99);
    assert_int_equal(slew_causes_likeness(&causes, most, SLEW_LOOKS_THE_SAME, likeness), SLEW_OK);
    for (int c = 0; c < causes.count; c++)
        if (slew_causes_counts(&causes, c) &&
            (only == NULL || strcmp(catalogue.cause[c].name, only) == 0)) {
            is_found(&causes, &truths, c, most);
            count++;
        }
    slew_causes_free(&causes);
    slew_causes_free(&truths);
    return count;
}

/* all but the auxiliary battery, which that truck has not */
static void each_is_found_by_eye_and_meter(void **state)
{
    (void)state;
    int found = all_are_found("examples/trouble-call.yaml", SLEW_BY_METER, NULL);
    assert_int_equal(found, catalogue.count - 1);
}

static void each_is_found_with_every_check(void **state)
{
    (void)state;
    all_are_found("examples/trouble-call.yaml", SLEW_BY_CHECK, NULL);
}

static void flat_auxiliary_battery_is_found(void **state)
{
    (void)state;
    assert_int_equal(all_are_found("examples/foam-trailer-auxiliary.yaml", SLEW_BY_METER,
                                   "auxiliary battery flat"),
                     1);
}

/* with every check no two of them look the same */
static void checks_tell_all_of_them_apart(void **state)
{
    slew_scenario s;
    (void)state;
    assert_int_equal(slew_scenario_read_file("examples/trouble-call.yaml", NULL, &s), SLEW_OK);
    assert_int_equal(slew_catalogue_builtin(&catalogue), SLEW_OK);
    slew_causes causes = simulate(&s, 200, 1);
    assert_int_equal(slew_causes_likeness(&causes, SLEW_BY_CHECK, SLEW_LOOKS_THE_SAME, likeness),
                     SLEW_OK);
    for (int a = 0; a < causes.count; a++)
        for (int b = 0; b < a; b++)
            if (likeness[a * causes.count + b] >= SLEW_LOOKS_THE_SAME)
                fail_msg("%s looks like %s", catalogue.cause[a].name, catalogue.cause[b].name);
    slew_causes_free(&causes);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_is_found_by_eye_and_meter),
        cmocka_unit_test(each_is_found_with_every_check),
        cmocka_unit_test(flat_auxiliary_battery_is_found),
        cmocka_unit_test(checks_tell_all_of_them_apart),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
