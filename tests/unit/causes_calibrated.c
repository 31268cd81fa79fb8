/*
 * causes_calibrated.c - a corroded connection is found on a truck whose file was fitted to it,
 * where one that multiplies the fitted figure was not; and what is in no catalogue is told to be
 * none of it. The larger study is tests/bench/causes_found.c.
 */
#include "../causes_trial.h"
#include "../support.h"

enum { WEIGHED_BY = 200, CASES = 40, FEW = 4 };

static slew_catalogue now, weighed_by; /* too large for a stack */

/* on the first truck, which has the best connections */
static trial_tally ask(bool multiplies, int64_t cases, const char *only)
{
    slew_scenario truth, calibrated;
    slew_causes causes, truths;
    trial_tally tally = {0};
    assert_true(trial_truck(0, &truth, &calibrated));
    assert_int_equal(trial_catalogue(false, &now), SLEW_OK);
    assert_int_equal(trial_catalogue(multiplies, &weighed_by), SLEW_OK);
    assert_int_equal(trial_simulate(&calibrated, &weighed_by, WEIGHED_BY, 1, &causes), SLEW_OK);
    assert_int_equal(trial_simulate(&truth, &now, cases, 99, &truths), SLEW_OK);
    trial_run(&causes, &truths, &now, SLEW_BY_METER,
              only != NULL ? slew_catalogue_find(&now, only) : -1, &tally);
    slew_causes_free(&causes);
    slew_causes_free(&truths);
    return tally;
}

static void a_corroded_connection_is_found_on_a_fitted_file(void **state)
{
    (void)state;
    trial_tally before = ask(true, CASES, "corroded connection in the feed");
    trial_tally own = ask(false, CASES, "corroded connection in the feed");
    print_message("before %d, now %d first, %d in the first three, of %d\n", before.first,
                  own.first, own.three, own.cases);
    assert_int_equal(own.cases, CASES);
    assert_true(own.three >= 38);
    assert_true(own.first >= 30);
    assert_true(before.first <= 20);
}

static void any_fault_is_found_on_a_fitted_file(void **state)
{
    (void)state;
    trial_tally own = ask(false, FEW, NULL);
    print_message("%d first, %d in the first three, %d none, %d left out, of %d\n", own.first,
                  own.three, own.none, own.none_left_out, own.cases);
    assert_true(own.cases > 100);
    assert_true(own.three >= 0.9 * own.cases);
    assert_true(own.none <= 0.05 * own.cases);
    assert_true(own.none_left_out >= 10); /* the others have one that reads alike */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_corroded_connection_is_found_on_a_fitted_file),
        cmocka_unit_test(any_fault_is_found_on_a_fitted_file),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
