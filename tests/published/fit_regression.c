/*
 * fit_regression.c - the least squares of `fit` against certified nonlinear regressions.
 *
 * Source: NIST Statistical Reference Datasets, nonlinear regression: Misra1a (lower difficulty,
 * observed by Misra, 1978), DanWood (lower; Daniel and Wood, 1980) and Thurber (higher; Thurber,
 * 1979), from both of NIST's starts. Certified to 11 digits; the tolerances are those with which
 * these sets are commonly asked: parameters 1e-6, standard deviations 1e-5, residual sum of squares
 * 1e-8, as shares.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>

#include "slewtime/fit.h"

#include "../near.h"

enum { MOST = 7 };

static const double misra1a_y[] = {10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02,
                                   44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78};
static const double misra1a_x[] = {77.6,  114.9, 141.1, 190.8, 239.9, 289.0, 332.8,
                                   378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0};
static const double danwood_y[] = {2.138, 3.421, 3.597, 4.340, 4.882, 5.660};
static const double danwood_x[] = {1.309, 1.471, 1.490, 1.565, 1.611, 1.680};
static const double thurber_y[] = {
    80.574,   84.248,   87.264,   87.195,   89.076,   89.608,   89.868,   90.101,
    92.405,   95.854,   100.696,  101.060,  401.672,  390.724,  567.534,  635.316,
    733.054,  759.087,  894.206,  990.785,  1090.109, 1080.914, 1122.643, 1178.351,
    1260.531, 1273.514, 1288.339, 1327.543, 1353.863, 1414.509, 1425.208, 1421.384,
    1442.962, 1464.350, 1468.705, 1447.894, 1457.628};
static const double thurber_x[] = {-3.067, -2.981, -2.921, -2.912, -2.840, -2.797, -2.702, -2.699,
                                   -2.633, -2.481, -2.363, -2.322, -1.501, -1.460, -1.274, -1.212,
                                   -1.100, -1.046, -0.915, -0.714, -0.566, -0.545, -0.400, -0.309,
                                   -0.109, -0.103, 0.010,  0.119,  0.377,  0.790,  0.963,  1.006,
                                   1.115,  1.572,  1.841,  2.047,  2.200};

/* ---- the models ---- */

typedef double model(const double *b, double x);

static double misra1a(const double *b, double x)
{
    return b[0] * (1 - exp(-b[1] * x));
}

static double danwood(const double *b, double x)
{
    return b[0] * pow(x, b[1]);
}

static double thurber(const double *b, double x)
{
    return (b[0] + b[1] * x + b[2] * x * x + b[3] * x * x * x) /
           (1 + b[4] * x + b[5] * x * x + b[6] * x * x * x);
}

/* ---- the certified values ---- */

typedef struct set {
    const char *name;
    model *at;
    const double *y, *x;
    int observations, parameters;
    double start[2][MOST], value[MOST], sd[MOST];
    double sum; /* of squared residuals */
} set;

#define DATA(name) name, name##_y, name##_x, (int)(sizeof name##_y / sizeof *name##_y)

static const set sets[] = {
    {"Misra1a",
     DATA(misra1a),
     2,
     {{500, 0.0001}, {250, 0.0005}},
     {2.3894212918E+02, 5.5015643181E-04},
     {2.7070075241E+00, 7.2668688436E-06},
     1.2455138894E-01},
    {"DanWood",
     DATA(danwood),
     2,
     {{1, 5}, {0.7, 4}},
     {7.6886226176E-01, 3.8604055871E+00},
     {1.8281973860E-02, 5.1726610913E-02},
     4.3173084083E-03},
    {"Thurber",
     DATA(thurber),
     7,
     {{1000, 1000, 400, 40, 0.7, 0.3, 0.03}, {1300, 1500, 500, 75, 1, 0.4, 0.05}},
     {1.2881396800E+03, 1.4910792535E+03, 5.8323836877E+02, 7.5416644291E+01, 9.6629502864E-01,
      3.9797285797E-01, 4.9727297349E-02},
     {4.6647963344E+00, 3.9571156086E+01, 2.8698696102E+01, 5.5675370270E+00, 3.1333340687E-02,
      1.4984928198E-02, 6.5842344623E-03},
     5.6427082397E+03},
};

/* ---- asking ---- */

static bool residuals(void *context, const double *parameter, double *residual)
{
    const set *s = context;
    for (int i = 0; i < s->observations; i++)
        residual[i] = s->at(parameter, s->x[i]) - s->y[i];
    return true;
}

static void has_certified_values(const set *s, const double *start)
{
    double scale[MOST];
    slew_least least;
    slew_error error;
    for (int j = 0; j < s->parameters; j++)
        scale[j] = start[j];
    const slew_least_squares problem = {.residuals = s->observations,
                                        .parameters = s->parameters,
                                        .ask = residuals,
                                        .context = (void *)(uintptr_t)s,
                                        .scale = scale,
                                        .precision = 1e-16};
    assert_int_equal(slew_least_squares_run(&problem, start, &least, NULL, NULL, &error), SLEW_OK);
    near(s->name, least.sum, s->sum, 1e-8 * s->sum);
    double variance = least.sum / (s->observations - s->parameters);
    for (int j = 0; j < s->parameters; j++) {
        double sd =
            scale[j] * sqrt(variance * slew_information_covariance(&least.information, j, j));
        near(s->name, least.parameter[j], s->value[j], 1e-6 * fabs(s->value[j]));
        near(s->name, sd, s->sd[j], 1e-5 * s->sd[j]);
    }
}

static void certified_regressions(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof sets / sizeof *sets; i++)
        for (int start = 0; start < 2; start++)
            has_certified_values(&sets[i], sets[i].start[start]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(certified_regressions),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
