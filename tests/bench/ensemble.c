/*
 * ensemble.c - how many cycles a second an ensemble runs, beside the general solver in a loop.
 *
 * 100 000 samples of stow and deploy of examples/daily.yaml: the day drawn alone (taught once), and
 * truck and day (teaching repeated for each sample); one thread and two. The references (CVODE, and
 * GSL's Cash-Karp method) run the same scenario at its middle, without the drawing; with the times
 * taught beforehand, and teaching them too. All in one run; the ratios are the figures to compare
 * between machines.
 */
#include "slewtime/read.h"
#include "slewtime/study.h"

#include "../reference/reference.h"
#include "clock.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

enum { SAMPLES = 100000, ROUNDS = 3 };

static void fail(const char *why)
{
    fprintf(stderr, "bench: %s\n", why);
    exit(1);
}

/* ---- the library ---- */

static void keep_angle(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                       double *figures)
{
    slew_result r;
    (void)context;
    slew_run_prepared(drawn, prepared, SLEW_STOW_AND_DEPLOY, NULL, &r);
    figures[0] = r.deploy.angle[SLEW_ELEVATION];
}

/* seconds for all the samples: the best of some rounds */
static double measure(const slew_scenario *s, int64_t samples, int threads)
{
    slew_sampling how = slew_sampling_default();
    double best = INFINITY;
    how.samples = samples;
    how.threads = threads;
    for (int r = 0; r < ROUNDS; r++) {
        slew_ensemble e;
        slew_error error;
        double start = now();
        if (slew_ensemble_run(s, SLEW_STOW_AND_DEPLOY, &how, keep_angle, NULL, 1, &e, &error) !=
            SLEW_OK)
            fail(error.message);
        best = fmin(best, now() - start);
        slew_ensemble_free(&e);
    }
    return best;
}

/* ---- the reference ---- */

/* seconds for one cycle, with the stored times given or not */
static double measure_reference(const slew_scenario *s, ref_solver solver, bool taught)
{
    slew_prepared p;
    slew_setup teach;
    slew_result result;
    slew_error error;
    const ref_options options = {.solver = solver, .rtol = 1e-8, .atol = 1e-10};
    char why[200];
    double best = INFINITY;
    if (slew_prepare(s, SLEW_STOW_AND_DEPLOY, &p, &error) != SLEW_OK)
        fail(error.message);
    slew_scenario_resolve(s, SLEW_OCCASION_TEACH, &teach);
    for (int r = 0; r < 5; r++) {
        double start = now();
        for (int i = 0; i < 10; i++) {
            int failed =
                taught
                    ? ref_run_taught(s, p.stored, &p.stow_setup, &p.deploy_setup,
                                     SLEW_STOW_AND_DEPLOY, &options, &result, NULL, why, sizeof why)
                    : ref_run(s, &teach, &p.stow_setup, &p.deploy_setup, SLEW_STOW_AND_DEPLOY,
                              &options, &result, NULL, why, sizeof why);
            if (failed)
                fail(why);
        }
        best = fmin(best, (now() - start) / 10);
    }
    return best;
}

/* ---- together ---- */

static void compare(const char *title, const slew_scenario *s, bool taught)
{
    double cvode = measure_reference(s, REF_CVODE, taught);
    double gsl = measure_reference(s, REF_GSL_RKCK, taught);
    printf("  %s\n", title);
    printf("    CVODE, one thread                 %9.0f cycles/s\n", 1 / cvode);
    printf("    GSL rkck, one thread              %9.0f cycles/s\n", 1 / gsl);
    for (int threads = 1; threads <= 2; threads++) {
        double rate = SAMPLES / measure(s, SAMPLES, threads);
        printf("    slewtime, %d thread%s %16.0f cycles/s %8.1f x CVODE %7.1f x GSL\n", threads,
               threads == 1 ? "  " : "s ", rate, cvode * rate, gsl * rate);
    }
}

/* the time for one sample must not depend on how many there are */
static void check_linear(const slew_scenario *s)
{
    double whole = measure(s, SAMPLES, 1) / SAMPLES;
    printf("  Time for one sample, taught once, one thread (1: as with %d samples)\n", SAMPLES);
    for (int64_t samples = SAMPLES / 100; samples <= SAMPLES * 4L; samples *= 20) {
        double each = measure(s, samples, 1) / (double)samples;
        printf("    %7" PRId64 " samples: %8.2f us, %.2f\n", samples, each * 1e6, each / whole);
    }
}

int main(int argc, char **argv)
{
    const char *path = argc > 1 ? argv[1] : "examples/daily.yaml";
    static slew_scenario scenario, day;
    if (slew_scenario_read_file(path, NULL, &scenario) != SLEW_OK)
        return fprintf(stderr, "bench: %s can't be read\n", path), 2;
    day = scenario;
    day.truck.count = 0;
    printf("An ensemble of %s, %d samples of stow and deploy\n", path, SAMPLES);
    compare("Day drawn, taught once", &day, true);
    compare("Truck and day drawn, taught for each sample", &scenario, false);
    check_linear(&day);
    return 0;
}
