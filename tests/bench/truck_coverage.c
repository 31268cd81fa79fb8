/*
 * truck_coverage.c - whether 95 % of the trucks lie where slew_demands_by_truck says.
 *
 * The deploys of examples/daily.yaml that miss their target, truck by truck: 400 trucks of 1000
 * days by brute force, against the interval told from 128 trucks of 76 days, with other seeds again
 * and again. The table is in lib/MODEL.md, M9.7.
 *
 *   build/tests/bench/truck_coverage 50
 */
#include "slewtime/read.h"
#include "study/demands/ask.h"

#include <gsl/gsl_sort.h>
#include <stdio.h>
#include <stdlib.h>

enum { TRUCKS = 400, DAYS = 1000, BELOW = TRUCKS * 25 / 1000 };

static void fail(const char *why)
{
    fprintf(stderr, "bench: %s\n", why);
    exit(1);
}

/* the share of each truck, sorted; a truck's days are one ensemble of their own */
static void by_brute_force(const slew_scenario *s, double share[TRUCKS])
{
    int dimensions = slew_ensemble_dimensions(s, SLEW_STOW_AND_DEPLOY);
    double *point = malloc((size_t)DAYS * (size_t)dimensions * sizeof *point);
    slew_sampling how = slew_sampling_default();
    slew_demands_asking a = {s, SLEW_STOW_AND_DEPLOY};
    how.samples = DAYS;
    for (int k = 0; k < TRUCKS; k++) {
        slew_ensemble e;
        for (int i = 0; i < DAYS; i++)
            for (int d = 0; d < dimensions; d++) {
                bool of_truck =
                    slew_ensemble_dimension(s, SLEW_STOW_AND_DEPLOY, d).of == SLEW_OF_TRUCK;
                point[i * dimensions + d] = slew_random_unit(
                    of_truck ? 77 : 78, (uint64_t)(of_truck ? k : k * DAYS + i), (uint32_t)d);
            }
        if (slew_ensemble_run_at(s, SLEW_STOW_AND_DEPLOY, &how, point, slew_demands_ask, &a, 1, &e,
                                 NULL) != SLEW_OK)
            fail("can't be run");
        share[k] = 0;
        for (int i = 0; i < DAYS; i++)
            share[k] +=
                (double)(slew_demands_mask(&a, e.figure[i]) >> SLEW_DEMAND_DEPLOY & 1) / DAYS;
        slew_ensemble_free(&e);
    }
    free(point);
    gsl_sort(share, 1, TRUCKS);
}

/* the share of trucks that miss no more often than the limit */
static double within(const slew_scenario *s, const double share[TRUCKS])
{
    int count = 0;
    for (int k = 0; k < TRUCKS; k++)
        count += share[k] <= slew_demand_limit(&s->demands, SLEW_DEMAND_DEPLOY);
    return (double)count / TRUCKS;
}

/* the share of trucks that lie within what is told */
static double covered(const double share[TRUCKS], const slew_truck_state *told)
{
    int count = 0;
    for (int k = 0; k < TRUCKS; k++)
        count += share[k] >= told->low && share[k] <= told->high;
    return (double)count / TRUCKS;
}

int main(int argc, char **argv)
{
    static slew_scenario s;
    double share[TRUCKS], low = 0, high = 0, mean = 0, told_within = 0;
    int repeats = argc > 1 ? atoi(argv[1]) : 10, enough = 0, holds = 0;
    if (slew_scenario_read_file("examples/daily.yaml", NULL, &s) != SLEW_OK)
        fail("examples/daily.yaml can't be read");
    by_brute_force(&s, share);
    printf("Deploys that miss, brute force: 95 %% of the trucks %.2f to %.2f %%, median %.2f %%\n",
           100 * share[BELOW], 100 * share[TRUCKS - 1 - BELOW], 100 * share[TRUCKS / 2]);
    for (int i = 0; i < repeats; i++) {
        slew_trucks told;
        slew_sampling how = slew_sampling_default();
        how.samples = 10000;
        how.seed = 100 + (uint64_t)i;
        if (slew_demands_by_truck(&s, SLEW_STOW_AND_DEPLOY, &how, &told, NULL) != SLEW_OK)
            fail("can't be asked");
        const slew_truck_state *deploy = &told.of[SLEW_DEMAND_DEPLOY];
        low += 100 * deploy->low / repeats;
        high += 100 * deploy->high / repeats;
        mean += covered(share, deploy) / repeats;
        enough += covered(share, deploy) >= 0.95;
        told_within += 100 * deploy->within_limit.value / repeats;
        holds += deploy->within_limit.low <= within(&s, share) &&
                 within(&s, share) <= deploy->within_limit.high;
    }
    printf(
        "Told, %d times: %.2f to %.2f %% on average, with %.1f %% of the trucks inside; at least "
        "95 %% in %.0f %%\n",
        repeats, low, high, 100 * mean, 100.0 * enough / repeats);
    printf("Trucks within the limit: %.1f %%, told %.1f %% on average; its interval covers in %.0f "
           "%%\n",
           100 * within(&s, share), told_within, 100.0 * holds / repeats);
    return 0;
}
