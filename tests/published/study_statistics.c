/*
 * study_statistics.c - intervals, and the drawing of numbers, against published figures.
 *
 * Examples of drawing: JCGM 101:2008 (Supplement 1 to the GUM), clauses 9.2.2, 9.2.3, 9.2.4 and
 * 9.3. The models and inputs are as package `propagate` of R gives them; figures marked `from
 * memory` are from memory. The tolerance of a figure found from N samples is half its last printed
 * digit and four standard errors: of a mean u / sqrt(N); of a standard deviation of no more than
 * normal kurtosis u / sqrt(2 N); of the quantile of p sqrt(p (1 - p) / N) / density there.
 */
#include "../support.h"

#include <stdlib.h>

#include "slewtime/study.h"

/* ---- Shares ---- */

typedef struct exact_row {
    int64_t k, n;
    double low, high;
} exact_row;

/* R. G. Newcombe, Stat. Med. 17 (1998) 857-872, Table I, method 5 (Clopper and Pearson), to its
 * four places, from memory. */
static const exact_row exact_rows[] = {
    {81, 263, 0.2527, 0.3676},
    {15, 148, 0.0578, 0.1617},
    {0, 20, 0.0000, 0.1684},
    {1, 29, 0.0009, 0.1776},
};

static void exact_intervals_are_the_printed_ones(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof exact_rows / sizeof *exact_rows; i++) {
        const exact_row *row = &exact_rows[i];
        slew_share s = slew_exact_share(row->k, row->n, 0.95);
        near("low", s.low, row->low, 0.5e-4);
        near("high", s.high, row->high, 0.5e-4);
    }
}

/* ---- Extremes ---- */

typedef struct wilks_row {
    double coverage, confidence;
    int64_t one_sided, two_sided;
} wilks_row;

/* Order statistics of S. S. Wilks. The first five rows: the unit test `wilks, num_samples1` of
 * Sandia's Dakota; the others, at 95 % confidence, are worked out apart from the library from 1 -
 * g^n and 1 - n g^(n - 1) + (n - 1) g^n. Mind which side: 59 is one-sided 95/95 and two-sided
 * 95/80. */
static const wilks_row wilks_rows[] = {
    {0.95, 0.50, 14, 34}, {0.95, 0.80, 32, 59},  {0.95, 0.90, 45, 77},
    {0.95, 0.95, 59, 93}, {0.95, 0.99, 90, 130}, {0.50, 0.95, 5, 8},
    {0.80, 0.95, 14, 22}, {0.90, 0.95, 29, 46},  {0.99, 0.95, 299, 473},
};

/* that many samples bound the share, and one fewer does not */
static void fewest(const wilks_row *row, int64_t n, int sides)
{
    assert_true(slew_wilks_coverage(n, sides, row->confidence) >= row->coverage);
    assert_true(slew_wilks_coverage(n - 1, sides, row->confidence) < row->coverage);
}

static void wilks_sample_sizes_are_the_printed_ones(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof wilks_rows / sizeof *wilks_rows; i++) {
        fewest(&wilks_rows[i], wilks_rows[i].one_sided, 1);
        fewest(&wilks_rows[i], wilks_rows[i].two_sided, 2);
    }
}

/* one-sided: 1 - g^n is the confidence */
static void wilks_coverage_is_that_of_the_formula(void **state)
{
    (void)state;
    for (int64_t n = 1; n <= 100000; n *= 10)
        near("one side", slew_wilks_coverage(n, 1, 0.95), pow(0.05, 1.0 / (double)n), 1e-12);
    double g = slew_wilks_coverage(500, 2, 0.95);
    near("two sides", 1 - 500 * pow(g, 499) + 499 * pow(g, 500), 0.95, 1e-10);
}

/* two-sided, as many as anyone may draw; the last place of g, 1.1e-16, is n times as much in g^n */
static void wilks_coverage_of_many_samples_is_found(void **state)
{
    (void)state;
    for (int64_t n = 23880; n <= 10000000; n *= 3) {
        double g = slew_wilks_coverage(n, 2, 0.95), k = (double)n;
        near("many", pow(g, k - 1) * (k * (1 - g) + g), 0.05, 5e-16 * k);
    }
}

/* ---- Means ---- */

/* NIST/SEMATECH e-Handbook 1.3.5.2, ZARR13.DAT: 195 values of mean 9.261460 and standard deviation
 * 0.022789 have the 95 % limits 9.258242 and 9.264679 (from memory). Any values of the same mean
 * and deviation have the same limits: here 97 on either side and one in the middle. Half a digit of
 * the mean, of the deviation (times 0.14) and of the limit make 1.1e-6. */
static void interval_of_a_mean_is_the_printed_one(void **state)
{
    double values[195];
    (void)state;
    for (int i = 0; i < 195; i++)
        values[i] = 9.261460 + 0.022789 * (i < 97 ? -1 : i < 194 ? 1 : 0);
    slew_interval t = slew_mean_interval(values, 195, 0.95);
    near("low", t.low, 9.258242, 1.1e-6);
    near("high", t.high, 9.264679, 1.1e-6);
}

/* Student's t of 4 degrees of freedom at 97.5 % is 2.776 in every printed table */
static void interval_of_five_values_has_student_s_factor(void **state)
{
    const double values[] = {-2, -1, 0, 1, 2};
    (void)state;
    slew_interval t = slew_mean_interval(values, 5, 0.95);
    near("factor", t.high / sqrt(0.5), 2.776, 0.5e-3);
    near("mirror", t.low, -t.high, 1e-15);
}

/* ---- Propagation of distributions ---- */

enum { INPUTS_MAX = 5 };
static const uint64_t SEED = 101;

static int64_t all_samples(void)
{
    return samples_here(1000000);
}

typedef double measurement(const double *x);

typedef struct experiment {
    int inputs;
    slew_variation input[INPUTS_MAX];
    measurement *model;
} experiment;

/* Keys that can hold any number above 0 and do nothing while no water flows: they carry the inputs
 * through the engine. */
static const char *const carriers[INPUTS_MAX] = {"nozzle.flow", "nozzle.tip", "nozzle.pressure",
                                                 "rotation.load.seal_friction",
                                                 "elevation.load.water_mass"};

static slew_variation normal(double mean, double sd)
{
    return (slew_variation){
        .distribution = SLEW_NORMAL, .mean = mean, .sd = sd, .low = -INFINITY, .high = INFINITY};
}

static slew_variation uniform(double low, double high)
{
    return (slew_variation){.distribution = SLEW_UNIFORM, .low = low, .high = high};
}

/* of a standard deviation, around `mean` */
static slew_variation rectangular(double mean, double sd)
{
    return uniform(mean - sd * sqrt(3), mean + sd * sqrt(3));
}

/* `samples` results, unsorted; freed by the caller */
static double *propagate(const experiment *e, int64_t samples)
{
    double x[INPUTS_MAX], *y = malloc((size_t)samples * sizeof *y);
    assert_non_null(y);
    for (int64_t i = 0; i < samples; i++) {
        for (int d = 0; d < e->inputs; d++)
            x[d] = slew_variation_quantile(&e->input[d],
                                           slew_random_unit(SEED, (uint64_t)i, (uint32_t)d));
        y[i] = e->model(x);
    }
    return y;
}

/* the first two carriers belong to the truck, the others to the day */
static void ask_model(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                      double *figures)
{
    const experiment *e = context;
    const slew_setup *day = &prepared->deploy_setup;
    const double x[INPUTS_MAX] = {slew_scenario_get_number(drawn, slew_key_find(carriers[0])),
                                  slew_scenario_get_number(drawn, slew_key_find(carriers[1])),
                                  day->nozzle.pressure, day->axis[SLEW_ROTATION].load.seal_friction,
                                  day->axis[SLEW_ELEVATION].load.water_mass};
    figures[0] = e->model(x);
}

/* Only the deploy, which needs no teaching. The samples are those drawn by hand, bit by bit. */
static void engine_draws_the_same(const experiment *e, const double *y)
{
    slew_scenario s = daily_scenario();
    slew_sampling how = slew_sampling_default();
    slew_ensemble out;
    experiment copy = *e;
    for (int d = 0; d < e->inputs; d++) {
        slew_spread *spread = d < 2 ? &s.truck : &s.day;
        spread->item[spread->count] = e->input[d];
        spread->item[spread->count++].key = slew_key_find(carriers[d]);
    }
    how.samples = all_samples() / 5;
    how.points = SLEW_PSEUDO_RANDOM;
    how.seed = SEED;
    assert_int_equal(slew_ensemble_run(&s, SLEW_DEPLOY_ONLY, &how, ask_model, &copy, 1, &out, NULL),
                     SLEW_OK);
    assert_int_equal(out.refused, 0);
    assert_int_equal(out.dimensions, e->inputs);
    assert_memory_equal(out.figure, y, (size_t)how.samples * sizeof *y);
    slew_ensemble_free(&out);
}

static int compare(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

typedef struct outcome {
    double mean, sd, low, high, shortest_low, shortest_high; /* 95 % intervals */
} outcome;

static void find_shortest(const double *sorted, int64_t count, outcome *o)
{
    int64_t inside = count / 100 * 95;
    double least = INFINITY;
    for (int64_t i = 0; i + inside < count; i++)
        if (sorted[i + inside] - sorted[i] < least) {
            least = sorted[i + inside] - sorted[i];
            o->shortest_low = sorted[i];
            o->shortest_high = sorted[i + inside];
        }
}

static outcome summarise(double *y, int64_t count)
{
    outcome o = {0};
    for (int64_t i = 0; i < count; i++)
        o.mean += y[i] / (double)count;
    for (int64_t i = 0; i < count; i++)
        o.sd += (y[i] - o.mean) * (y[i] - o.mean) / (double)(count - 1);
    o.sd = sqrt(o.sd);
    qsort(y, (size_t)count, sizeof *y, compare);
    o.low = y[count / 40];
    o.high = y[count - 1 - count / 40];
    find_shortest(y, count, &o);
    return o;
}

static outcome carry_out(const experiment *e)
{
    double *y = propagate(e, all_samples());
    engine_draws_the_same(e, y);
    outcome o = summarise(y, all_samples());
    free(y);
    return o;
}

/* what four standard errors are, for a standard deviation u and a density at the 2.5 % quantile */
static double of_mean(double u)
{
    return 4 * u / sqrt((double)all_samples());
}

static double of_sd(double u)
{
    return 4 * u / sqrt(2.0 * (double)all_samples());
}

static double of_quantile(double density)
{
    return 4 * sqrt(0.025 * 0.975 / (double)all_samples()) / density;
}

/* ---- 9.2: the sum of four ---- */

static const double CENTRE = 100; /* keeps the carriers above 0; the inputs have mean 0 */

static double sum_of_four(const double *x)
{
    return (x[0] - CENTRE) + (x[1] - CENTRE) + (x[2] - CENTRE) + (x[3] - CENTRE);
}

static void check_interval(const outcome *o, double printed, double half_digit, double exact,
                           double density)
{
    double scatter = of_quantile(density);
    near("low, printed", o->low, -printed, half_digit + scatter);
    near("high, printed", o->high, printed, half_digit + scatter);
    near("low, exact", o->low, -exact, scatter);
    near("high, exact", o->high, exact, scatter);
}

/* u 2.0; the interval +-3.92 (from memory). The sum is N(0, 2): the density at 1.96 u is
 * 0.05845 / 2. */
static void four_normals(void **state)
{
    experiment e = {4, {{0}}, sum_of_four};
    (void)state;
    for (int d = 0; d < 4; d++)
        e.input[d] = normal(CENTRE, 1);
    outcome o = carry_out(&e);
    near("estimate", o.mean, 0, of_mean(2));
    near("u", o.sd, 2.0, of_sd(2));
    check_interval(&o, 3.92, 0.005, 3.9199279691, 0.0292);
}

/* u 2.0, interval +-3.88 (Table 3). Irwin-Hall: at t from the end 4 sqrt(3) the share beyond is
 * t^4 / 24 / 144 = 0.025 for t = 3.0488, and the density t^3 / 6 / 144 = 0.0328. */
static void four_rectangles(void **state)
{
    experiment e = {4, {{0}}, sum_of_four};
    (void)state;
    for (int d = 0; d < 4; d++)
        e.input[d] = rectangular(CENTRE, 1);
    outcome o = carry_out(&e);
    near("estimate", o.mean, 0, of_mean(2));
    near("u", o.sd, 2.0, of_sd(2));
    check_interval(&o, 3.88, 0.005, 4 * sqrt(3) - pow(0.025 * 24 * 144, 0.25), 0.0328);
}

/* u 10.1, interval +-17.0, where the normal of the same u would say +-19.9 (all from memory). The
 * density at 17.0: 1 / (2 sqrt(300)) times the chance that the sum of the three small ones, of
 * standard deviation sqrt(3), is above 17.02 - 17.32: 0.0289 * 0.57. */
static void three_rectangles_and_a_wide_one(void **state)
{
    experiment e = {4, {{0}}, sum_of_four};
    (void)state;
    for (int d = 0; d < 3; d++)
        e.input[d] = rectangular(CENTRE, 1);
    e.input[3] = rectangular(CENTRE, 10);
    outcome o = carry_out(&e);
    near("estimate", o.mean, 0, of_mean(10.1488916));
    near("u, printed", o.sd, 10.1, 0.05 + of_sd(10.1488916));
    near("u, exact", o.sd, 10.1488916, of_sd(10.1488916));
    check_interval(&o, 17.0, 0.05, 17.0158141, 0.0164);
}

/* ---- 9.3: mass calibration ---- */

/* deviation from 100 g [mg]; x: reference mass, its trimming [mg]; densities of air, of the weight
 * and of the reference [kg/m3] */
static double mass_deviation(const double *x)
{
    return (x[0] + x[1]) * (1 + (x[2] - 1.2) * (1 / x[3] - 1 / x[4])) - 100000;
}

/* Estimate 1.234; u 0.0754, shortest interval 1.0834 to 1.3825 (from memory); u 0.0754793 by
 * analysis. The place of a shortest interval is loose, its length is not: with a million trials the
 * ends scatter by 0.0011 and the length by 0.0002 (standard deviations over eight runs of a program
 * that shares nothing with the library). Four of each; of the place with the cube root of the
 * number of trials (cube root asymptotics: Kim and Pollard, Annals of Statistics 18, 1990, from
 * memory), of the length with its square root. */
static void mass_calibration(void **state)
{
    experiment e = {5,
                    {normal(100000, 0.050), normal(1.234, 0.020), uniform(1.10, 1.30),
                     uniform(7000, 9000), uniform(7950, 8050)},
                    mass_deviation};
    const double u = 0.0754793, fewer = 1e6 / (double)all_samples();
    (void)state;
    outcome o = carry_out(&e);
    near("estimate", o.mean, 1.234, of_mean(u));
    near("u, printed", o.sd, 0.0754, 0.00005 + of_sd(u));
    near("u, exact", o.sd, u, of_sd(u));
    near("low", o.shortest_low, 1.0834, 0.0045 * cbrt(fewer));
    near("high", o.shortest_high, 1.3825, 0.0045 * cbrt(fewer));
    near("length", o.shortest_high - o.shortest_low, 1.3825 - 1.0834, 0.0009 * sqrt(fewer));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(exact_intervals_are_the_printed_ones),
        cmocka_unit_test(wilks_sample_sizes_are_the_printed_ones),
        cmocka_unit_test(wilks_coverage_is_that_of_the_formula),
        cmocka_unit_test(wilks_coverage_of_many_samples_is_found),
        cmocka_unit_test(interval_of_a_mean_is_the_printed_one),
        cmocka_unit_test(interval_of_five_values_has_student_s_factor),
        cmocka_unit_test(four_normals),
        cmocka_unit_test(four_rectangles),
        cmocka_unit_test(three_rectangles_and_a_wide_one),
        cmocka_unit_test(mass_calibration),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
