/*
 * fit_least_squares.c - the least sum of squares where it is known in closed form: weighted means,
 * and parameters that independent readings want beyond their bounds. What can't be found is said.
 */
#include "../support.h"

#include "slewtime/fit.h"

enum { READINGS = 3 };

/* each of three parameters is read once: the least squares are the readings */
static const double reading[READINGS] = {2, -5, 7};
static const double ones[READINGS] = {1, 1, 1};

static bool three_readings(void *context, const double *parameter, double *residual)
{
    (void)context;
    for (int i = 0; i < READINGS; i++)
        residual[i] = parameter[i] - reading[i];
    return true;
}

static slew_least_squares three(const double *low, const double *high)
{
    return (slew_least_squares){.residuals = READINGS,
                                .parameters = READINGS,
                                .ask = three_readings,
                                .scale = ones,
                                .low = low,
                                .high = high,
                                .precision = 1e-16};
}

static void a_bound_that_is_in_the_way_is_reached(void **state)
{
    (void)state;
    const double low[] = {-10, -3, -10}, high[] = {10, 10, 4}, start[] = {0, 0, 0};
    const slew_least_squares bounded = three(low, high);
    slew_least least;
    slew_error error;
    assert_int_equal(slew_least_squares_run(&bounded, start, &least, NULL, NULL, &error), SLEW_OK);
    const double expected[] = {2, -3, 4};
    const int edge[] = {0, -1, 1};
    for (int i = 0; i < READINGS; i++) {
        close_to("parameter", least.parameter[i], expected[i], 1e-9);
        assert_int_equal(least.edge[i], edge[i]);
    }
    close_to("sum", least.sum, 2.0 * 2 + 3 * 3, 1e-9);
    assert_int_equal(least.information.directions, 1);
}

/* nothing is left to move */
static void all_may_stand_at_their_bounds(void **state)
{
    (void)state;
    const double low[] = {-1, -1, -1}, high[] = {1, 1, 1}, start[] = {1, -1, 1}; /* one side each */
    const slew_least_squares bounded = three(low, high);
    slew_least least;
    double residual[READINGS], jacobian[READINGS * READINGS];
    assert_int_equal(slew_least_squares_run(&bounded, start, &least, residual, jacobian, NULL),
                     SLEW_OK);
    const double expected[] = {1, -1, 1};
    for (int i = 0; i < READINGS; i++) {
        assert_true(least.parameter[i] == expected[i]);
        close_to("residual", residual[i], expected[i] - reading[i], 1e-12);
        close_to("own", jacobian[i * READINGS + i], 1, 1e-6);
    }
    assert_int_equal(least.information.directions, 0);
}

static bool two_of_one(void *context, const double *parameter, double *residual)
{
    (void)context;
    residual[0] = parameter[0] - 1;
    residual[1] = parameter[0] - 4;
    return true;
}

/* of two readings, the second with twice the weight: (1 + 2 * 4)/3 */
static void weights_make_a_weighted_mean(void **state)
{
    (void)state;
    const double weight[] = {1, 2}, start = 0;
    const slew_least_squares weighted = {.residuals = 2,
                                         .parameters = 1,
                                         .ask = two_of_one,
                                         .scale = ones,
                                         .weight = weight,
                                         .precision = 1e-16};
    slew_least least;
    assert_int_equal(slew_least_squares_run(&weighted, &start, &least, NULL, NULL, NULL), SLEW_OK);
    close_to("mean", least.parameter[0], 3, 1e-9);
    close_to("variance", slew_information_covariance(&least.information, 0, 0), 1.0 / 3, 1e-6);
}

/* a second parameter that no reading depends on: nothing is known of it */
static bool blind_to_the_second(void *context, const double *parameter, double *residual)
{
    (void)context;
    residual[0] = parameter[0] - 1;
    residual[1] = 2 * parameter[0] - 2;
    return true;
}

static void what_no_reading_tells_stays_unknown(void **state)
{
    (void)state;
    const double start[] = {0, 5};
    const slew_least_squares blind = {.residuals = 2,
                                      .parameters = 2,
                                      .ask = blind_to_the_second,
                                      .scale = ones,
                                      .precision = 1e-16};
    slew_least least;
    assert_int_equal(slew_least_squares_run(&blind, start, &least, NULL, NULL, NULL), SLEW_OK);
    close_to("first", least.parameter[0], 1, 1e-9);
    close_to("second stays", least.parameter[1], 5, 1e-9);
    assert_true(isinf(slew_information_covariance(&least.information, 1, 1)));
    assert_true(isfinite(slew_information_covariance(&least.information, 0, 0)));
    assert_true(slew_information_covariance(&least.information, 0, 1) == 0);
}

/* two of which only the sum is read: what is not known of one is not known of the other */
static bool of_the_sum(void *context, const double *parameter, double *residual)
{
    (void)context;
    residual[0] = parameter[0] + parameter[1] - 1;
    residual[1] = 2 * residual[0];
    return true;
}

static void what_only_the_sum_tells_goes_against_each_other(void **state)
{
    (void)state;
    const double start[] = {3, 5};
    const slew_least_squares sum = {
        .residuals = 2, .parameters = 2, .ask = of_the_sum, .scale = ones, .precision = 1e-16};
    slew_least least;
    assert_int_equal(slew_least_squares_run(&sum, start, &least, NULL, NULL, NULL), SLEW_OK);
    close_to("sum", least.parameter[0] + least.parameter[1], 1, 1e-9);
    assert_true(slew_information_covariance(&least.information, 0, 0) == (double)INFINITY);
    assert_true(slew_information_covariance(&least.information, 0, 1) == -(double)INFINITY);
}

/* ---- what can't be found ---- */

static bool only_at_zero(void *context, const double *parameter, double *residual)
{
    (void)context;
    residual[0] = residual[1] = 1;
    return parameter[0] == 0;
}

static bool without_end(void *context, const double *parameter, double *residual)
{
    (void)context;
    (void)parameter;
    residual[0] = 1;
    residual[1] = (double)INFINITY;
    return true;
}

static void is_refused(slew_least_squares problem, double start, const char *message)
{
    slew_least least;
    slew_error error;
    assert_int_equal(slew_least_squares_run(&problem, &start, &least, NULL, NULL, &error),
                     SLEW_ERROR_INPUT);
    if (strstr(error.message, message) == NULL)
        fail_msg("%s", error.message);
}

static void what_can_not_be_found_is_said(void **state)
{
    (void)state;
    const double low = -1, high = 1;
    slew_least_squares problem = {.residuals = 2,
                                  .parameters = 1,
                                  .ask = two_of_one,
                                  .scale = ones,
                                  .low = &low,
                                  .high = &high,
                                  .precision = 1e-16};
    is_refused(problem, 2, "nothing can be worked out at the start");
    is_refused(problem, -2, "nothing can be worked out at the start");
    problem.ask = without_end;
    is_refused(problem, 0, "nothing can be worked out at the start");
    problem.ask = only_at_zero;
    is_refused(problem, 0, "the fit does not settle");
    problem.ask = two_of_one;
    problem.precision = 0;
    is_refused(problem, 0, "");
    problem.precision = 1e-16;
    problem.parameters = 0;
    is_refused(problem, 0, "");
    problem.parameters = 3;
    is_refused(problem, 0, "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_bound_that_is_in_the_way_is_reached),
        cmocka_unit_test(all_may_stand_at_their_bounds),
        cmocka_unit_test(weights_make_a_weighted_mean),
        cmocka_unit_test(what_no_reading_tells_stays_unknown),
        cmocka_unit_test(what_only_the_sum_tells_goes_against_each_other),
        cmocka_unit_test(what_can_not_be_found_is_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
