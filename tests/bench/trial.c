/*
 * trial.c - is the choice of deploy seconds right after one visit, on trucks richer than the model?
 *
 * 20 trucks (trial.h), seeded: one visit, fit, offset on what fit has written, against days of each
 * truck. Beside it the same choice from the data sheet alone, with less of the visit, and by the
 * truck's own keys, which nobody knows: what the model leaves out. Prints the tables of M12.10.
 *
 *   build/tests/bench/trial 20 200 examples/daily.yaml
 */
#include "../trial.h"

#include <stdio.h>
#include <stdlib.h>

#include "clock.h"

enum { WINDOWS = 2, SAMPLES = 1024 };

static const double WIDTH[WINDOWS] = {20, 4};

/* by what the seconds are chosen */
typedef enum source { BY_SHEET, BY_TIMES, BY_ONE, BY_ALL, BY_KEYS, SOURCES } source;

static const char *const NAME[SOURCES] = {"sheet alone", "visit without a gauge",
                                          "gauge, one deploy", "gauge, five deploys",
                                          "the truck's own keys"};

/* sums over trucks */
typedef struct total {
    double regret, square, fresh, worst, told, truly, days;
} total;

static void prepare(const char *text, const slew_scenario *sheet, const truck *t,
                    const slew_timings *visit, slew_scenario by[SOURCES])
{
    slew_timings part = cut_down(visit, false, 0);
    by[BY_SHEET] = *sheet;
    by[BY_TIMES] = calibrated(text, &part);
    part = cut_down(visit, true, 1);
    by[BY_ONE] = calibrated(text, &part);
    by[BY_ALL] = calibrated(text, visit);
    by[BY_KEYS] = t->truth;
    by[BY_KEYS].truck.count = 0;
}

static void count(total *a, const regret *r, double told)
{
    double lost = r->best - r->chosen;
    a->regret += lost;
    a->square += lost * lost;
    a->fresh += r->fresh - r->chosen;
    a->worst = fmax(a->worst, lost);
    a->told += told;
    a->truly += r->chosen;
    a->days += r->variance;
}

static void one(const char *text, uint64_t number, int days, total all[WINDOWS][SOURCES])
{
    static slew_timings visit;
    static truck_days lived;
    static slew_scenario by[SOURCES];
    dice d = {.truck = number};
    slew_scenario sheet = read_scenario(text);
    const truck t = draw_truck(&sheet, &d);
    make_visit(&t, &visit, &d);
    prepare(text, &sheet, &t, &visit, by);
    ask_seconds(&sheet, WIDTH[0]);
    live_through(&t, &sheet, days, &d, &lived);
    printf("| %d |", (int)number);
    for (int w = 0; w < WINDOWS; w++)
        for (int i = 0; i < SOURCES; i++) {
            const chosen c = choose(by[i], WIDTH[w], SAMPLES);
            const regret r = judge(&lived, c.choice, WIDTH[w]);
            if (i == 0)
                printf(" %.1f |", 100 * r.best);
            printf(" %.1f |", 100 * r.chosen);
            count(&all[w][i], &r, c.told);
        }
    printf("\n");
    fflush(stdout);
}

/* in points */
static void print_total(const total *a, source by, int trucks)
{
    double points = 100.0 / trucks, mean = a->regret / trucks;
    double scatter = sqrt(fmax(a->square / trucks - mean * mean, 0) / trucks);
    printf("| %s | %.1f | %.1f | %.1f | %.1f | %.1f | %.1f %%, %.1f %% |\n", NAME[by],
           points * a->regret, points * a->fresh, 100 * scatter, points * sqrt(a->days),
           100 * a->worst, points * a->told, points * a->truly);
}

int main(int argc, char **argv)
{
    int trucks = argc > 1 ? atoi(argv[1]) : 20, days = argc > 2 ? atoi(argv[2]) : 200;
    total all[WINDOWS][SOURCES] = {{{0}}};
    slew_error error;
    double began = now();
    char *text = slew_scenario_text(argc > 3 ? argv[3] : TRIAL_SHEET, &error);
    if (text == NULL || trucks < 1 || days < 2 || days > TRIAL_DAYS_MAX)
        return 1;
    printf("Days inside in %%, of each target: the best choice, then by each of the sources.\n");
    for (int i = 0; i < trucks; i++)
        one(text, (uint64_t)i, days, all);
    for (int w = 0; w < WINDOWS; w++) {
        printf("\n%.0f deg\n| chosen by | regret, same days | fresh days | standard error over "
               "trucks | of the days | worst truck | inside: told, truly |\n"
               "| --- | --- | --- | --- | --- | --- | --- |\n",
               WIDTH[w]);
        for (int i = 0; i < SOURCES; i++)
            print_total(&all[w][i], (source)i, trucks);
    }
    printf("%.0f s\n", now() - began);
    free(text);
    return 0;
}
