/*
 * fleet.c - 10 000 trucks of one build on all cores: where do their barrels rest when deployed?
 *
 * The scenario's spread says what varies from truck to truck and from day to day. The library draws
 * each truck, teaches its stow point, and asks `drive`, by several threads at a time. A figure
 * belongs to the number of its truck, so the printed digits are the same on any number of cores;
 * `fleet SCENARIO THREADS` shows it.
 */
#include <slewtime/slewtime.h>
#include <stdio.h>
#include <stdlib.h>

enum { TRUCKS = 10000, SAYS = 0, ON_TARGET, ELEVATION, LOWEST_VOLTAGE, FIGURES };

static void drive(void *context, const slew_scenario *truck, const slew_prepared *prepared,
                  double *figures)
{
    slew_result result;
    (void)context;
    slew_run_prepared(truck, prepared, SLEW_STOW_AND_DEPLOY, NULL, &result);
    figures[SAYS] = result.deploy.says;
    figures[ON_TARGET] = result.deploy.says == SLEW_DEPLOYED && result.deploy.on_target;
    figures[ELEVATION] = result.deploy.angle[SLEW_ELEVATION];
    figures[LOWEST_VOLTAGE] = result.lowest_voltage;
}

static void tell(const slew_ensemble *fleet)
{
    const double degrees = 180 / 3.14159265358979323846;
    double low = INFINITY, high = -INFINITY, volts = INFINITY;
    int deployed = 0, inside = 0;
    for (int64_t i = 0; i < fleet->done; i++) {
        const double *of = &fleet->figure[i * fleet->count];
        volts = of[LOWEST_VOLTAGE] < volts ? of[LOWEST_VOLTAGE] : volts;
        if (of[SAYS] != SLEW_DEPLOYED)
            continue;
        deployed++;
        inside += of[ON_TARGET] != 0;
        low = of[ELEVATION] < low ? of[ELEVATION] : low;
        high = of[ELEVATION] > high ? of[ELEVATION] : high;
    }
    printf("%lld trucks, %lld can't run: %d deployed, %d inside the target\n",
           (long long)fleet->done, (long long)fleet->refused, deployed, inside);
    if (deployed > 0)
        printf("elevation from %.2f to %.2f deg, voltage down to %.2f V\n", degrees * low,
               degrees * high, volts);
}

int main(int argc, char **argv)
{
    static slew_scenario scenario;
    slew_ensemble fleet;
    slew_error error = {0};
    slew_sampling how = slew_sampling_default();
    how.samples = TRUCKS;
    how.threads = argc > 2 ? atoi(argv[2]) : 0; /* 0: all cores */

    if (argc < 2 || slew_scenario_read_file(argv[1], NULL, &scenario) != SLEW_OK)
        return fprintf(stderr, "usage: fleet SCENARIO [THREADS]\n"), 2;
    if (!scenario.deploy.given)
        return fprintf(stderr, "the scenario has no deploy\n"), 2;
    if (slew_ensemble_run(&scenario, SLEW_STOW_AND_DEPLOY, &how, drive, NULL, FIGURES, &fleet,
                          &error) != SLEW_OK)
        return fprintf(stderr, "%s\n", error.message), 2;
    tell(&fleet);
    slew_ensemble_free(&fleet);
    return 0;
}
