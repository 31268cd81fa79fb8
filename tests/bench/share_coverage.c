/*
 * share_coverage.c - how often the 95 % interval of a share has the true share, for few hits.
 *
 * No runs: a case is drawn from the day of examples/daily.yaml and hit when a voltage and a
 * temperature together are beyond a limit of known share. 512 samples, Sobol points as `offset` and
 * `plan` draw them and independent ones; and the exact interval of independent hits worked out. The
 * table is in lib/MODEL.md, M9.2.
 */
#include "slewtime/read.h"
#include "study/sampling/summary.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <stdio.h>
#include <stdlib.h>

enum { SAMPLES = 512, REPEATS = 1000, COUNTS = 13 };
static const int expected[COUNTS] = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 20, 60, 200};

static void fail(const char *why)
{
    fprintf(stderr, "bench: %s\n", why);
    exit(1);
}

/* ---- worked out ---- */

static double exact_coverage(double share)
{
    double covered = 0;
    for (int k = 0; k <= SAMPLES; k++) {
        slew_share s = slew_exact_share(k, SAMPLES, 0.95);
        if (s.low <= share && share <= s.high)
            covered += gsl_ran_binomial_pdf((unsigned)k, share, SAMPLES);
    }
    return covered;
}

/* ---- drawn ---- */

/* where two numbers of the day lie together: uniform between 0 and 1 */
static void place(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                  double *figures)
{
    (void)context;
    (void)prepared;
    slew_setup today;
    slew_scenario_resolve(drawn, SLEW_OCCASION_STOW, &today);
    double u = (today.supply.main.voltage - 11.8) / 2.4;
    double v = gsl_cdf_ugaussian_P((today.environment.temperature - 288.15) / 12);
    double sum = u + v;
    figures[0] = sum < 1 ? sum * sum / 2 : 1 - (2 - sum) * (2 - sum) / 2;
}

static double drawn_coverage(const slew_scenario *s, slew_points points, double share)
{
    int covered = 0;
    slew_sampling how = slew_sampling_default();
    how.samples = SAMPLES;
    how.points = points;
    for (int i = 0; i < REPEATS; i++) {
        slew_ensemble e;
        double hit[SAMPLES];
        how.seed = 9000 + (uint64_t)i;
        if (slew_ensemble_run(s, SLEW_STOW_ONLY, &how, place, NULL, 1, &e, NULL) != SLEW_OK)
            fail("can't be drawn");
        for (int k = 0; k < SAMPLES; k++)
            hit[k] = e.figure[k] > 1 - share;
        slew_share found = slew_share_of(&e, hit, &how);
        covered += found.low <= share && share <= found.high;
        slew_ensemble_free(&e);
    }
    return (double)covered / REPEATS;
}

int main(void)
{
    static slew_scenario s;
    if (slew_scenario_read_file("examples/daily.yaml", NULL, &s) != SLEW_OK)
        fail("examples/daily.yaml can't be read");
    s.truck.count = 0;
    printf("Coverage of 95 %% intervals, %d samples, %d repeats\n", SAMPLES, REPEATS);
    printf("  hits expected   exact, worked out   independent   Sobol\n");
    for (int i = 0; i < COUNTS; i++) {
        double share = (double)expected[i] / SAMPLES;
        printf("  %13d %19.3f %13.3f %7.3f\n", expected[i], exact_coverage(share),
               drawn_coverage(&s, SLEW_PSEUDO_RANDOM, share),
               drawn_coverage(&s, SLEW_SOBOL, share));
    }
    return 0;
}
