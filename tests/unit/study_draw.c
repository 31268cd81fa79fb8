/*
 * study_draw.c - quantiles against the distributions they belong to, and the numbers they start
 * from.
 */
#include "../support.h"

#include <stdlib.h>

#include "slewtime/study.h"

static const double LEAST = 0x1p-53, MOST = 1 - 0x1p-53;

static const slew_variation
    uniform = {.distribution = SLEW_UNIFORM, .low = 11.8, .high = 14.2},
    normal = {.distribution = SLEW_NORMAL,
              .mean = 335.0,
              .sd = 6.0,
              .low = -INFINITY,
              .high = INFINITY},
    cut = {.distribution = SLEW_NORMAL, .mean = 15.0, .sd = 12.0, .low = -20.0, .high = 18.0},
    cut_below = {.distribution = SLEW_NORMAL,
                 .mean = 15.0,
                 .sd = 12.0,
                 .low = 20.0,
                 .high = INFINITY},
    cut_above = {.distribution = SLEW_NORMAL,
                 .mean = 15.0,
                 .sd = 12.0,
                 .low = -INFINITY,
                 .high = 20.0},
    triangle = {.distribution = SLEW_TRIANGULAR, .low = 0.32, .mode = 0.34, .high = 0.40},
    falling = {.distribution = SLEW_TRIANGULAR, .low = 1.0, .mode = 1.0, .high = 3.0},
    rising = {.distribution = SLEW_TRIANGULAR, .low = 1.0, .mode = 3.0, .high = 3.0},
    values = {.distribution = SLEW_TABLE,
              .count = 4,
              .value = {5, 30, 60, 7},
              .weight = {1, 1, 1, 1}},
    table = {.distribution = SLEW_TABLE, .count = 3, .value = {5, 30, 60}, .weight = {2, 5, 1}};

static const struct {
    const char *name;
    const slew_variation *v;
} smooth[] = {{"uniform", &uniform},     {"normal", &normal},       {"cut", &cut},
              {"cut below", &cut_below}, {"cut above", &cut_above}, {"triangular", &triangle},
              {"falling", &falling},     {"rising", &rising}};
enum { SMOOTH = sizeof smooth / sizeof *smooth };

/* ---- Distributions: the share below x, in closed form ---- */

static double share_of_normal(double z)
{
    return 0.5 * erfc(-z / sqrt(2));
}

static double share_of_triangle(const slew_variation *v, double x)
{
    double width = v->high - v->low;
    return x < v->mode ? (x - v->low) * (x - v->low) / (width * (v->mode - v->low))
                       : 1 - (v->high - x) * (v->high - x) / (width * (v->high - v->mode));
}

static double share_below(const slew_variation *v, double x)
{
    if (x <= v->low)
        return 0;
    if (x >= v->high)
        return 1;
    if (v->distribution == SLEW_UNIFORM)
        return (x - v->low) / (v->high - v->low);
    if (v->distribution == SLEW_TRIANGULAR)
        return share_of_triangle(v, x);
    double low = share_of_normal((v->low - v->mean) / v->sd);
    double high = share_of_normal((v->high - v->mean) / v->sd);
    return (share_of_normal((x - v->mean) / v->sd) - low) / (high - low);
}

/* ---- Quantiles ---- */

/* rounding of x alone moves the share by some 1e-14 */
static void quantile_has_its_share_below_it(void **state)
{
    (void)state;
    for (int i = 0; i < SMOOTH; i++)
        for (int k = 1; k < 1000; k++) {
            double u = k / 1000.0, x = slew_variation_quantile(smooth[i].v, u);
            near(smooth[i].name, share_below(smooth[i].v, x), u, 2e-13);
        }
}

static void quantiles_rise(void **state)
{
    (void)state;
    for (int i = 0; i < SMOOTH; i++)
        for (int k = 1; k < 1000; k++)
            assert_true(slew_variation_quantile(smooth[i].v, k / 1000.0) <
                        slew_variation_quantile(smooth[i].v, (k + 0.5) / 1000.0));
}

/* a triangle's corner is met as the root of u: 1e-8 of the width */
static void extremes_are_the_finite_bounds(void **state)
{
    (void)state;
    for (int i = 0; i < SMOOTH; i++) {
        const slew_variation *v = smooth[i].v;
        double least = slew_variation_quantile(v, LEAST), most = slew_variation_quantile(v, MOST);
        assert_true(v->low <= least && least < most && most <= v->high);
        if (isfinite(v->low))
            near(smooth[i].name, least, v->low, 1e-7 * fabs(v->low));
        if (isfinite(v->high))
            near(smooth[i].name, most, v->high, 1e-7 * fabs(v->high));
    }
}

/* also in the tail that is not cut off */
static void extremes_are_finite(void **state)
{
    (void)state;
    for (int i = 0; i < SMOOTH; i++) {
        double least = slew_variation_quantile(smooth[i].v, LEAST);
        double most = slew_variation_quantile(smooth[i].v, MOST);
        if (!isfinite(least) || !isfinite(most))
            fail_msg("%s: from %g to %g", smooth[i].name, least, most);
    }
}

/* 9 standard deviations above the mean the normal still has a tail: its mean is 9.11 sd */
static void cut_off_far_above_the_mean_leaves_finite_values(void **state)
{
    slew_variation far = normal;
    (void)state;
    far.low = 335 + 6 * 9;
    for (int k = 1; k < 100; k++) {
        double x = slew_variation_quantile(&far, k / 100.0);
        if (!(x >= far.low && x < far.low + 6))
            fail_msg("the quantile of %d %% is %g", k, x);
    }
}

/* the normal quantiles of every table: 1.959963984540054 for 97.5 %, 8.2095 for 1 - 2^-53 */
static void normal_quantiles_are_the_tabulated_ones(void **state)
{
    (void)state;
    near("median", slew_variation_quantile(&normal, 0.5), 335, 1e-12);
    near("97.5 %", slew_variation_quantile(&normal, 0.975), 335 + 6 * 1.959963984540054, 1e-11);
    near("2.5 %", slew_variation_quantile(&normal, 0.025), 335 - 6 * 1.959963984540054, 1e-11);
    near("most", slew_variation_quantile(&normal, MOST), 335 + 6 * 8.2095, 6 * 5e-5);
    near("least", slew_variation_quantile(&normal, LEAST), 335 - 6 * 8.2095, 6 * 5e-5);
}

static void cutting_off_far_away_changes_nothing(void **state)
{
    slew_variation far = normal;
    (void)state;
    far.low = 335 - 6 * 12;
    far.high = 335 + 6 * 12;
    for (int k = 1; k < 100; k++)
        near("cut off at 12 sd", slew_variation_quantile(&far, k / 100.0),
             slew_variation_quantile(&normal, k / 100.0), 1e-12);
}

static void distribution_without_width_is_its_value(void **state)
{
    slew_variation point = {.low = 7, .high = 7, .mode = 7, .mean = 7, .sd = 0};
    (void)state;
    for (int kind = SLEW_UNIFORM; kind <= SLEW_TRIANGULAR; kind++) {
        point.distribution = (slew_distribution)kind;
        for (int k = 1; k < 10; k++)
            near("the only value", slew_variation_quantile(&point, k / 10.0), 7, 0);
    }
}

/* a boundary belongs to the value above it */
static void values_are_equally_likely_in_their_order(void **state)
{
    (void)state;
    for (int i = 0; i < 4; i++) {
        near("from", slew_variation_quantile(&values, fmax(i / 4.0, LEAST)), values.value[i], 0);
        near("to", slew_variation_quantile(&values, (i + 1) / 4.0 - LEAST), values.value[i], 0);
    }
}

static void table_follows_its_weights(void **state)
{
    const double upto[] = {2.0 / 8, 7.0 / 8, 1};
    double from = LEAST;
    (void)state;
    for (int i = 0; i < 3; i++) {
        near("from", slew_variation_quantile(&table, from), table.value[i], 0);
        near("to", slew_variation_quantile(&table, upto[i] - LEAST), table.value[i], 0);
        from = upto[i];
    }
}

/* ---- Drawn numbers ---- */

enum { SAMPLES = 100000, BINS = 16 };

static int compare(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

/* Kolmogorov-Smirnov: a distance of 2.69 / sqrt(n) is exceeded once in a million; sorts `share` */
static void uniformly_spread(const char *what, double *share, int count)
{
    double most = 0;
    qsort(share, (size_t)count, sizeof *share, compare);
    for (int i = 0; i < count; i++)
        most = fmax(most, fmax(share[i] - i / (double)count, (i + 1) / (double)count - share[i]));
    near(what, most, 0, 2.69 / sqrt(count));
}

static void drawn_values_have_their_distribution(void **state)
{
    static double share[SAMPLES];
    (void)state;
    for (int i = 0; i < SMOOTH; i++) {
        for (int k = 0; k < SAMPLES; k++)
            share[k] = share_below(
                smooth[i].v,
                slew_variation_quantile(smooth[i].v, slew_random_unit(1, (uint64_t)k, 0)));
        uniformly_spread(smooth[i].name, share, SAMPLES);
    }
}

/* binomial counts, five standard deviations */
static void drawn_table_values_have_their_shares(void **state)
{
    int count[3] = {0};
    (void)state;
    for (int k = 0; k < SAMPLES; k++) {
        double x = slew_variation_quantile(&table, slew_random_unit(2, (uint64_t)k, 3));
        count[x == 5 ? 0 : x == 30 ? 1 : 2]++;
    }
    for (int i = 0; i < 3; i++) {
        double p = table.weight[i] / 8;
        near("count", count[i], SAMPLES * p, 5 * sqrt(SAMPLES * p * (1 - p)));
    }
}

/* ---- Pseudo-random numbers ---- */

/* a number and its neighbour in one of the three directions */
static double walk(int direction, int k, bool neighbour)
{
    uint64_t n = (uint64_t)k, next = neighbour ? 1 : 0;
    return direction == 0   ? slew_random_unit(5, n + next, 2)
           : direction == 1 ? slew_random_unit(5, n, (uint32_t)next)
                            : slew_random_unit(n + next, 7, 2);
}

static void units_are_strictly_inside(void **state)
{
    const uint64_t seeds[] = {0, 1, 12345, UINT64_MAX};
    (void)state;
    for (int s = 0; s < 4; s++)
        for (uint64_t k = 0; k < SAMPLES; k++) {
            double u = slew_random_unit(seeds[s], k, (uint32_t)(k % 41));
            assert_true(u > 0 && u < 1);
        }
    assert_true(slew_random_unit(0, UINT64_MAX, UINT32_MAX) < 1);
}

static void same_place_has_the_same_number(void **state)
{
    double first[100];
    (void)state;
    for (int k = 0; k < 100; k++)
        first[k] = slew_random_unit(9, (uint64_t)k, 4);
    for (int k = 99; k >= 0; k--)
        near("again", slew_random_unit(9, (uint64_t)k, 4), first[k], 0);
}

/* 20 x 20 x 20 numbers of 52 bits: two alike have a chance of 7e-9 */
static void every_place_has_its_own_number(void **state)
{
    static double u[8000];
    (void)state;
    for (int i = 0; i < 8000; i++)
        u[i] = slew_random_unit((uint64_t)(i / 400), (uint64_t)(i / 20 % 20), (uint32_t)(i % 20));
    qsort(u, 8000, sizeof *u, compare);
    for (int i = 1; i < 8000; i++)
        assert_true(u[i - 1] < u[i]);
}

static void units_are_uniform_along_samples_and_seeds(void **state)
{
    static double u[SAMPLES];
    (void)state;
    for (int direction = 0; direction < 3; direction++) {
        for (int k = 0; k < SAMPLES; k++)
            u[k] = walk(direction, k, false);
        uniformly_spread("units", u, SAMPLES);
    }
}

/* pairs in 16 x 16 boxes: chi squared has mean 255 and standard deviation sqrt(510); six of them */
static void neighbours_are_independent(void **state)
{
    (void)state;
    for (int direction = 0; direction < 3; direction++) {
        double box[BINS * BINS] = {0}, chi = 0, expected = SAMPLES / (double)(BINS * BINS);
        for (int k = 0; k < SAMPLES; k++)
            box[(int)(BINS * walk(direction, k, false)) * BINS +
                (int)(BINS * walk(direction, k, true))]++;
        for (int i = 0; i < BINS * BINS; i++)
            chi += (box[i] - expected) * (box[i] - expected) / expected;
        near("chi squared", chi, 255, 6 * sqrt(510));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(quantile_has_its_share_below_it),
        cmocka_unit_test(quantiles_rise),
        cmocka_unit_test(extremes_are_the_finite_bounds),
        cmocka_unit_test(extremes_are_finite),
        cmocka_unit_test(cut_off_far_above_the_mean_leaves_finite_values),
        cmocka_unit_test(normal_quantiles_are_the_tabulated_ones),
        cmocka_unit_test(cutting_off_far_away_changes_nothing),
        cmocka_unit_test(distribution_without_width_is_its_value),
        cmocka_unit_test(values_are_equally_likely_in_their_order),
        cmocka_unit_test(table_follows_its_weights),
        cmocka_unit_test(drawn_values_have_their_distribution),
        cmocka_unit_test(drawn_table_values_have_their_shares),
        cmocka_unit_test(units_are_strictly_inside),
        cmocka_unit_test(same_place_has_the_same_number),
        cmocka_unit_test(every_place_has_its_own_number),
        cmocka_unit_test(units_are_uniform_along_samples_and_seeds),
        cmocka_unit_test(neighbours_are_independent),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
