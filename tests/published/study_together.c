/*
 * study_together.c - inputs that vary together, against published figures, through the ensemble
 * that every command uses.
 *
 * JCGM 101:2008 (Supplement 1 to the GUM), clause 9.4, comparison loss: the loss is X1^2 + X2^2
 * with X1 ~ N(x1; 0.005), X2 ~ N(0; 0.005) and r between them 0 or 0.9. JCGM 100:2008 (GUM), H.2:
 * resistance, reactance and impedance from voltage, current and phase. All from memory; those of
 * 9.4 agree with the closed form beside them.
 */
#include "../support.h"

#include <stdlib.h>

#include "slewtime/study.h"

enum { SAMPLES = 200000, INPUTS_MAX = 3, FIGURES_MAX = 3 };

/* Keys of any sign that do nothing while no water flows: they carry the inputs. */
static const char *const carriers[INPUTS_MAX] = {
    "rotation.load.reaction_arm", "elevation.load.reaction_arm", "elevation.load.water_mass"};

/* ---- an experiment as a scenario ---- */

typedef void measurement(const double *x, double *y);

typedef struct experiment {
    int inputs, figures;
    double mean[INPUTS_MAX], sd[INPUTS_MAX];
    int pairs, pair[INPUTS_MAX][2];
    double r[INPUTS_MAX];
    measurement *model;
} experiment;

static slew_scenario scenario_of(const experiment *e)
{
    slew_scenario s = daily_scenario();
    for (int i = 0; i < e->inputs; i++)
        s.day.item[i] = (slew_variation){.key = slew_key_find(carriers[i]),
                                         .distribution = SLEW_NORMAL,
                                         .mean = e->mean[i],
                                         .sd = e->sd[i],
                                         .low = -INFINITY,
                                         .high = INFINITY};
    for (int i = 0; i < e->pairs; i++)
        s.correlation.item[i] = (slew_correlation){
            {slew_key_find(carriers[e->pair[i][0]]), slew_key_find(carriers[e->pair[i][1]])},
            e->r[i]};
    s.day.count = e->inputs;
    s.correlation.count = e->pairs;
    return s;
}

static void measure(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                    double *figures)
{
    const experiment *e = context;
    const slew_setup *day = &prepared->stow_setup;
    const double x[INPUTS_MAX] = {day->axis[SLEW_ROTATION].load.reaction_arm,
                                  day->axis[SLEW_ELEVATION].load.reaction_arm,
                                  day->axis[SLEW_ELEVATION].load.water_mass};
    (void)drawn;
    e->model(x, figures);
}

static slew_ensemble sampled(const experiment *e)
{
    slew_scenario s = scenario_of(e);
    slew_sampling how = slew_sampling_default();
    slew_ensemble out;
    slew_error error;
    how.points = SLEW_PSEUDO_RANDOM;
    how.samples = SAMPLES;
    experiment copy = *e;
    assert_int_equal(
        slew_ensemble_run(&s, SLEW_STOW_ONLY, &how, measure, &copy, e->figures, &out, &error),
        SLEW_OK);
    assert_int_equal(out.refused, 0);
    return out;
}

/* ---- figures of a sample ---- */

static double mean_of(const slew_ensemble *e, int a)
{
    double sum = 0;
    for (int64_t i = 0; i < e->samples; i++)
        sum += e->figure[i * e->count + a];
    return sum / (double)e->samples;
}

static double covariance(const slew_ensemble *e, int a, int b)
{
    double sum = 0, ma = mean_of(e, a), mb = mean_of(e, b);
    for (int64_t i = 0; i < e->samples; i++)
        sum += (e->figure[i * e->count + a] - ma) * (e->figure[i * e->count + b] - mb);
    return sum / (double)(e->samples - 1);
}

static double deviation(const slew_ensemble *e, int a)
{
    return sqrt(covariance(e, a, a));
}

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* the shortest interval that holds 95 % of a sample of one figure */
static slew_interval shortest(const slew_ensemble *e)
{
    int64_t held = (int64_t)(0.95 * (double)e->samples), best = 0;
    double *y = malloc((size_t)e->samples * sizeof *y);
    assert_non_null(y);
    memcpy(y, e->figure, (size_t)e->samples * sizeof *y);
    qsort(y, (size_t)e->samples, sizeof *y, by_size);
    for (int64_t i = 1; i + held < e->samples; i++)
        if (y[i + held] - y[i] < y[best + held] - y[best])
            best = i;
    slew_interval interval = {y[best], y[best + held]};
    free(y);
    return interval;
}

/* ---- JCGM 101, 9.4 ---- */

static void loss(const double *x, double *y)
{
    y[0] = x[0] * x[0] + x[1] * x[1];
}

typedef struct loss_row {
    double x1, r;
    double mean, u, low, high; /* as printed, in 1e-6; NaN: not known */
    double ends;               /* what the ends may be off, in 1e-6 */
} loss_row;

/* The ends: half a printed digit, and four standard errors of the place of a shortest interval,
 * which is as uncertain as n^(-1/3) lets it be: some 1 % of its length for the skewed ones. */
static const loss_row loss_rows[] = {
    {0.000, 0.0, 50, 50, 0, 150, 2},         {0.010, 0.0, 150, 112, 0, 367, 5},
    {0.050, 0.0, 2551, 502, 1590, 3543, 30}, {0.000, 0.9, 50, 67, NAN, NAN, 0},
    {0.010, 0.9, 150, 121, NAN, NAN, 0},     {0.050, 0.9, 2551, 505, NAN, NAN, 0},
};

/* Mean x1^2 + 2 u^2, variance 4 u^2 x1^2 + 4 u^4 (1 + r^2): moments of normals. The printed figures
 * are themselves from 1e6 trials: a unit of their last digit. Four standard errors of our own: the
 * kurtosis of a square of a normal is 15. */
static void comparison_loss_is_the_printed_one(void **state)
{
    (void)state;
    const double u = 0.005;
    for (size_t i = 0; i < sizeof loss_rows / sizeof *loss_rows; i++) {
        const loss_row *row = &loss_rows[i];
        experiment e = {.inputs = 2,
                        .figures = 1,
                        .mean = {row->x1, 0},
                        .sd = {u, u},
                        .pairs = row->r > 0,
                        .pair = {{0, 1}},
                        .r = {row->r},
                        .model = loss};
        slew_ensemble out = sampled(&e);
        double exact = sqrt(4 * u * u * row->x1 * row->x1 + 4 * pow(u, 4) * (1 + row->r * row->r));
        double root = sqrt((double)SAMPLES);
        near("mean", mean_of(&out, 0), row->x1 * row->x1 + 2 * u * u, 4 * exact / root);
        near("u", deviation(&out, 0), exact, 4 * exact * sqrt(14.0 / 4) / root);
        near("printed mean", 1e6 * (row->x1 * row->x1 + 2 * u * u), row->mean, 1);
        near("printed u", 1e6 * exact, row->u, 0.5);
        if (!isnan(row->low)) {
            slew_interval s = shortest(&out);
            near("low", 1e6 * s.low, row->low, row->ends);
            near("high", 1e6 * s.high, row->high, row->ends);
        }
        slew_ensemble_free(&out);
    }
}

/* ---- GUM H.2 ---- */

/* voltage 4.9990 V, current 19.6610 mA, phase 1.04446 rad from their normal scores */
static void impedance(const double *score, double *y)
{
    double v = 4.9990 + 0.0032 * score[0], i = 1e-3 * (19.6610 + 0.0095 * score[1]);
    double phase = 1.04446 + 0.00075 * (score[2] - 10);
    y[0] = v / i * cos(phase);
    y[1] = v / i * sin(phase);
    y[2] = v / i;
}

/* The printed inputs are rounded: to work out how far half a digit of the standard deviations and
 * of the coefficients moves each result, they were all set to their ends; that is the tolerance. */
static void impedance_is_the_printed_one(void **state)
{
    (void)state;
    const experiment e = {.inputs = 3,
                          .figures = 3,
                          .mean = {0, 0, 10}, /* a mass is not below 0 */
                          .sd = {1, 1, 1},
                          .pairs = 3,
                          .pair = {{0, 1}, {0, 2}, {1, 2}},
                          .r = {-0.36, 0.86, -0.65},
                          .model = impedance};
    slew_ensemble out = sampled(&e);
    near("R", mean_of(&out, 0), 127.732, 0.001);
    near("X", mean_of(&out, 1), 219.847, 0.003);
    near("Z", mean_of(&out, 2), 254.260, 0.003);
    double r = deviation(&out, 0), x = deviation(&out, 1), z = deviation(&out, 2);
    near("u(R)", r, 0.071, 0.0037);
    near("u(X)", x, 0.295, 0.0037);
    near("u(Z)", z, 0.236, 0.0032);
    near("r(R, X)", covariance(&out, 0, 1) / (r * x), -0.588, 0.053);
    near("r(R, Z)", covariance(&out, 0, 2) / (r * z), -0.485, 0.064);
    near("r(X, Z)", covariance(&out, 1, 2) / (x * z), 0.993, 0.0013);
    slew_ensemble_free(&out);
}

/* ---- other distributions ---- */

/* The product-moment correlation of two uniforms whose normal scores have r is 6/pi asin(r/2): K.
 * Pearson, Drapers' Company Research Memoirs IV (1907); W. H. Kruskal, J. Am. Stat. Assoc. 53
 * (1958) 814-861. Four standard errors, (1 - r^2) / sqrt(N) each. */
static void keep(const double *x, double *y)
{
    memcpy(y, x, 2 * sizeof *y);
}

static void uniforms_go_together_as_pearson_says(void **state)
{
    (void)state;
    const double coefficients[] = {-0.8, 0.3, 0.95};
    for (int i = 0; i < 3; i++) {
        experiment e = {.inputs = 2,
                        .figures = 2,
                        .sd = {1, 1},
                        .pairs = 1,
                        .pair = {{0, 1}},
                        .r = {coefficients[i]},
                        .model = keep};
        slew_scenario s = scenario_of(&e);
        for (int k = 0; k < 2; k++)
            s.day.item[k] = (slew_variation){
                .key = s.day.item[k].key, .distribution = SLEW_UNIFORM, .low = 0, .high = 1};
        slew_sampling how = slew_sampling_default();
        slew_ensemble out;
        how.points = SLEW_PSEUDO_RANDOM;
        how.samples = SAMPLES;
        assert_int_equal(slew_ensemble_run(&s, SLEW_STOW_ONLY, &how, measure, &e, 2, &out, NULL),
                         SLEW_OK);
        double r = covariance(&out, 0, 1) / (deviation(&out, 0) * deviation(&out, 1));
        near("r", r, 6 / 3.14159265358979323846 * asin(e.r[0] / 2),
             4 * (1 - r * r) / sqrt((double)SAMPLES));
        near("mean", mean_of(&out, 1), 0.5, 4 / sqrt(12.0 * SAMPLES)); /* the margins stay */
        near("sd", deviation(&out, 1), 1 / sqrt(12.0), 4 / sqrt(12.0 * 2 * SAMPLES));
        slew_ensemble_free(&out);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(comparison_loss_is_the_printed_one),
        cmocka_unit_test(impedance_is_the_printed_one),
        cmocka_unit_test(uniforms_go_together_as_pearson_says),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
