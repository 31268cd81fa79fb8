/*
 * cycle.c - how long one full cycle takes, beside two general solvers on the same cycle.
 *
 * A cycle is the stow of both axes and the deploy of examples/daily.yaml: keep-out, extremes and
 * charge included, times taught beforehand, nobody watching; teaching is timed by itself. The best
 * of several rounds is taken, all in one run on one core; the ratios are the figures to compare
 * between machines.
 */
#include "slewtime/slewtime.h"

#include "../reference/reference.h"
#include "clock.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

typedef struct bench {
    const slew_scenario *scenario;
    slew_prepared prepared;
    slew_setup teach;
    double stored[SLEW_AXES];
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
    if (slew_teach(b->scenario, b->stored, &error) != SLEW_OK)
        exit(1);
}

static void teach_reference(bench *b)
{
    char why[200];
    if (ref_teach(b->scenario, &b->teach, &b->options, b->stored, &b->statistics, why,
                  sizeof why) != 0) {
        fprintf(stderr, "bench: %s\n", why);
        exit(1);
    }
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

/* the general solvers, as accurate as such runs mostly are */
static const struct {
    const char *name;
    ref_options options;
    int calls;
} solvers[] = {{"CVODE, Adams, Newton, roots, rtol 1e-8 atol 1e-10",
                {.solver = REF_CVODE, .rtol = 1e-8, .atol = 1e-10},
                10},
               {"GSL rkck, events bracketed, rtol 1e-8 atol 1e-10",
                {.solver = REF_GSL_RKCK, .rtol = 1e-8, .atol = 1e-10},
                20}};
enum { SOLVERS = sizeof solvers / sizeof *solvers };

/* what was aimed at, on one core of a small server [s] */
static const double goal_of_cycle = 5e-6, goal_of_teaching = 10e-6;

static void report_library(double seconds, double goal)
{
    printf("  %-52s %9.2f us     goal %g us\n", "slewtime", seconds * 1e6, goal * 1e6);
}

static void report(const char *name, double seconds, double library)
{
    printf("  %-52s %9.2f us %7.1f x", name, seconds * 1e6, seconds / library);
}

static double end_of(const bench *b)
{
    return b->result.deploy.angle[SLEW_ELEVATION];
}

static void compare_cycles(bench *b)
{
    double library = measure(b, run_library, 40, 2000), end = end_of(b);
    report_library(library, goal_of_cycle);
    for (int i = 0; i < SOLVERS; i++) {
        b->options = solvers[i].options;
        report(solvers[i].name, measure(b, run_reference, 10, solvers[i].calls), library);
        printf("   elevation ends %.1e rad off\n    %" PRId64
               " evaluations of the right-hand side\n",
               fabs(end_of(b) - end), b->statistics.rhs_evaluations);
    }
    b->options = (ref_options){.solver = REF_CVODE, .rtol = 1e-13, .atol = 1e-15};
    report("CVODE, rtol 1e-13 atol 1e-15", measure(b, run_reference, 3, 3), library);
    printf("   elevation ends %.1e rad off\n", fabs(end_of(b) - end));
}

static void compare_teaching(bench *b)
{
    double library = measure(b, run_teaching, 20, 500);
    printf("Teaching its stow point\n");
    report_library(library, goal_of_teaching);
    for (int i = 0; i < SOLVERS; i++) {
        b->options = solvers[i].options;
        report(solvers[i].name, measure(b, teach_reference, 3, 3), library);
        printf("\n");
    }
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
    slew_scenario_resolve(&scenario, SLEW_OCCASION_TEACH, &b.teach);
    if (slew_prepare(&scenario, SLEW_STOW_AND_DEPLOY, &b.prepared, &error) != SLEW_OK)
        return fprintf(stderr, "bench: %s\n", error.message), 2;
    printf("One cycle of %s, stow and deploy, one core\n", path);
    compare_cycles(&b);
    compare_teaching(&b);
    return 0;
}
