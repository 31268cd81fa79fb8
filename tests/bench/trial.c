/*
 * trial.c - is the choice of deploy seconds right after one visit, on trucks richer than the model?
 *
 * 20 trucks (trial.h), seeded: one visit, fit, offset on what fit has written, against 200 days of
 * each truck; the same choice from the data sheet alone beside it. Prints the table of M12.10.
 *
 *   build/tests/bench/trial 20 200 examples/daily.yaml
 */
#include "../trial.h"

#include <stdio.h>
#include <stdlib.h>

#include "clock.h"

enum { WINDOWS = 2, SAMPLES = 1024 };

static const double WIDTH[WINDOWS] = {20, 4};

typedef struct total {
    double best, fresh, fitted, sheet, told, variance, worst;
} total;

static void one(const char *text, uint64_t number, int days, total all[WINDOWS])
{
    static slew_timings readings;
    static truck_days lived;
    dice d = {.truck = number};
    const slew_scenario sheet = read_scenario(text);
    const truck t = draw_truck(&sheet, &d);
    make_visit(&t, &readings, &d);
    slew_scenario fitted = calibrated(text, &readings);
    ask_seconds(&fitted, WIDTH[0]);
    live_through(&t, &fitted, days, &d, &lived);
    printf("| %d |", (int)number);
    for (int w = 0; w < WINDOWS; w++) {
        chosen by_fit = choose(fitted, WIDTH[w], SAMPLES),
               by_sheet = choose(sheet, WIDTH[w], SAMPLES);
        regret r = judge(&lived, by_fit.choice, WIDTH[w]);
        double sheets = share_inside(&lived, 0, days, by_sheet.choice, WIDTH[w]);
        all[w].best += r.best, all[w].fresh += r.fresh, all[w].fitted += r.chosen,
            all[w].sheet += sheets;
        all[w].told += by_fit.told, all[w].variance += r.variance;
        all[w].worst = fmax(all[w].worst, r.best - r.chosen);
        printf(" %.1f s | %.1f %% | %.1f %% | %.1f %% | %.1f %% |",
               fitted.deploy.choices[SLEW_ELEVATION][by_fit.choice], 100 * by_fit.told,
               100 * r.chosen, 100 * r.best, 100 * sheets);
    }
    printf("\n");
    fflush(stdout);
}

static void print_total(const total *a, double width, int trucks)
{
    double points = 100.0 / trucks;
    printf("%2.0f deg: regret %.1f points on the same days, %.1f on fresh ones (standard error of "
           "the days %.1f), worst truck %.1f; by the sheet alone %.1f, %.1f; told %.1f %%, truly "
           "%.1f %%\n",
           width, points * (a->best - a->fitted), points * (a->fresh - a->fitted),
           points * sqrt(a->variance), 100 * a->worst, points * (a->best - a->sheet),
           points * (a->fresh - a->sheet), points * a->told, points * a->fitted);
}

int main(int argc, char **argv)
{
    int trucks = argc > 1 ? atoi(argv[1]) : 20, days = argc > 2 ? atoi(argv[2]) : 200;
    total all[WINDOWS] = {0};
    slew_error error;
    double began = now();
    char *text = slew_scenario_text(argc > 3 ? argv[3] : TRIAL_SHEET, &error);
    if (text == NULL || trucks < 1 || days < 2 || days > TRIAL_DAYS_MAX)
        return 1;
    printf("| truck | 20 deg: chosen | told | truly inside | best choice | sheet's choice | "
           "4 deg: chosen | told | truly inside | best choice | sheet's choice |\n"
           "| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |\n");
    for (int i = 0; i < trucks; i++)
        one(text, (uint64_t)i, days, all);
    for (int w = 0; w < WINDOWS; w++)
        print_total(&all[w], WIDTH[w], trucks);
    printf("%.0f s\n", now() - began);
    free(text);
    return 0;
}
