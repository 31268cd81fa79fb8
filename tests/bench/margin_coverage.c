/*
 * margin_coverage.c - how often what `margin` says of the tail is true.
 *
 * The question of examples/daily.yaml, 1 in 1000, asked with other seeds again and again. What it
 * says of the clearance that it recommends is held against tests/bench/margin.txt, ten million
 * samples by brute force: how far the estimate scatters, how often its 95 % interval has the true
 * share, and how often that is truly below what was wanted. The table is in lib/MODEL.md, M9.6.
 *
 *   build/tests/bench/margin_coverage 200
 */
#include "slewtime/margin.h"
#include "slewtime/read.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { TRUTHS = 400 };
static const double grid = 0.05 * 3.14159265358979323846 / 180; /* [rad] */

static void fail(const char *why)
{
    fprintf(stderr, "bench: %s\n", why);
    exit(1);
}

/* shares by brute force, by clearance [grid steps] */
static double truth[SLEW_MARGIN_SIDES][TRUTHS];

static void read_truth(const char *path)
{
    char line[200];
    int side = 0;
    FILE *f = fopen(path, "r");
    if (f == NULL)
        fail("tests/bench/margin.txt can't be read");
    while (fgets(line, sizeof line, f) != NULL) {
        double clearance, share;
        side = strncmp(line, "high", 4) == 0 ? 1 : side;
        int step = sscanf(line, " above %lf deg: %lf", &clearance, &share) == 2
                       ? (int)lround(clearance / 0.05)
                       : TRUTHS;
        if (step < TRUTHS)
            truth[side][step] = share;
    }
    fclose(f);
}

typedef struct tally {
    int asked, told, covered, below;
    double sum, square; /* of estimate over truth */
    double least, most; /* clearance [deg] */
} tally;

static void count(const slew_margin_side *side, const double *true_share, double wanted, tally *t)
{
    double enough = side->need.enough;
    const slew_margin_step *step = &side->step[side->step_count - 2];
    t->asked++;
    if (!isfinite(enough) || fabs(step->clearance - enough) > 1e-9)
        return;
    double share = true_share[(int)lround(enough / grid)], ratio = step->unsafe.value / share;
    t->told++;
    t->covered += step->unsafe.low <= share && share <= step->unsafe.high;
    t->below += share < wanted;
    t->sum += ratio;
    t->square += ratio * ratio;
    t->least = fmin(t->least, enough / grid * 0.05);
    t->most = fmax(t->most, enough / grid * 0.05);
}

static void print(const char *side, const tally *t)
{
    double n = t->told, mean = t->sum / n;
    printf("%s stop: %d asked, %d told; %.2f to %.2f deg; estimate/truth %.3f +- %.3f; interval "
           "covers %.1f %%; truly below %.1f %%\n",
           side, t->asked, t->told, t->least, t->most, mean,
           sqrt(fmax(t->square / n - mean * mean, 0)), 100 * t->covered / n, 100 * t->below / n);
}

int main(int argc, char **argv)
{
    static slew_scenario scenario;
    static slew_margin m;
    static tally tallies[SLEW_MARGIN_SIDES] = {{.least = INFINITY}, {.least = INFINITY}};
    const slew_margin_question question = {SLEW_ELEVATION, 0.001};
    int repeats = argc > 1 ? atoi(argv[1]) : 5;
    slew_sampling how = slew_sampling_default();
    how.samples = argc > 2 ? atoll(argv[2]) : 1536;
    read_truth("tests/bench/margin.txt");
    if (slew_scenario_read_file("examples/daily.yaml", NULL, &scenario) != SLEW_OK)
        fail("examples/daily.yaml can't be read");
    for (int i = 0; i < repeats; i++) {
        how.seed = 5000 + (uint64_t)i;
        if (slew_margin_run(&scenario, &question, &how, &m, NULL) != SLEW_OK)
            fail("can't be asked");
        for (int k = 0; k < SLEW_MARGIN_SIDES; k++)
            count(&m.side[k], truth[k], question.wanted, &tallies[k]);
    }
    print("low", &tallies[0]);
    print("high", &tallies[1]);
    return 0;
}
