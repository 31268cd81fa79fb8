/*
 * cycle.c - how long one full cycle takes, beside two general solvers on the same cycle.
 *
 * A cycle is the stow of both axes and the deploy of examples/daily.yaml: keep-out, extremes and
 * charge included, times taught beforehand, nobody watching. The best of several rounds is taken,
 * all in one run on one core; the ratios are the figures to compare between machines.
 */
#include "slewtime/slewtime.h"

#include "../reference/reference.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

typedef struct bench {
    const slew_scenario *scenario;
    slew_prepared prepared;
    slew_result result;
    ref_options options;
    ref_statistics statistics;
} bench;

static void run_library(bench *b)
{
    slew_run_prepared(b->scenario, &b->prepared, SLEW_STOW_AND_DEPLOY, NULL, &b->result);
}

static void run_teaching(bench *b)
{
    slew_error error;
    if (slew_teach(b->scenario, b->result.stored, &error) != SLEW_OK)
        exit(1);
}

static void run_reference(bench *b)
{
    char why[200];
    if (ref_run_taught(b->scenario, b->prepared.stored, &b->prepared.stow_setup,
                       &b->prepared.deploy_setup, SLEW_STOW_AND_DEPLOY, &b->options, &b->result,
                       &b->statistics, why, sizeof why) != 0) {
        fprintf(stderr, "bench: %s\n", why);
        exit(1);
    }
}

/* seconds for one call: the best of `rounds` rounds of `calls` */
static double measure(bench *b, void (*run)(bench *), int rounds, int calls)
{
    double best = INFINITY;
    for (int r = 0; r < rounds; r++) {
        double start = now();
        for (int i = 0; i < calls; i++)
            run(b);
        best = fmin(best, (now() - start) / calls);
    }
    return best;
}

static void report(const char *name, double seconds, double library, const bench *b)
{
    printf("  %-52s %9.2f us %7.1f x   elevation ends %.9f deg\n", name, seconds * 1e6,
           seconds / library, b->result.deploy.angle[SLEW_ELEVATION] * 57.29577951308232);
}

int main(int argc, char **argv)
{
    const char *path = argc > 1 ? argv[1] : "examples/daily.yaml";
    static slew_scenario scenario;
    static bench b;
    slew_error error;
    if (slew_scenario_read_file(path, NULL, &scenario) != SLEW_OK)
        return fprintf(stderr, "bench: %s can't be read\n", path), 2;
    b.scenario = &scenario;
    if (slew_prepare(&scenario, SLEW_STOW_AND_DEPLOY, &b.prepared, &error) != SLEW_OK)
        return fprintf(stderr, "bench: %s\n", error.message), 2;

    printf("One cycle of %s, stow and deploy, one core\n", path);
    double library = measure(&b, run_library, 40, 2000);
    report("slewtime", library, library, &b);
    b.options = (ref_options){.solver = REF_CVODE, .rtol = 1e-8, .atol = 1e-10};
    double seconds = measure(&b, run_reference, 10, 10);
    report("CVODE, Adams, Newton, roots, rtol 1e-8 atol 1e-10", seconds, library, &b);
    printf("    %" PRId64 " evaluations of the right-hand side\n", b.statistics.rhs_evaluations);
    b.options = (ref_options){.solver = REF_GSL_RKCK, .rtol = 1e-8, .atol = 1e-10};
    seconds = measure(&b, run_reference, 10, 20);
    report("GSL rkck, events bracketed, rtol 1e-8 atol 1e-10", seconds, library, &b);
    printf("    %" PRId64 " evaluations of the right-hand side\n", b.statistics.rhs_evaluations);
    double teaching = measure(&b, run_teaching, 10, 500);
    printf("  %-52s %9.2f us\n", "teaching the stow point (slewtime)", teaching * 1e6);
    return 0;
}
