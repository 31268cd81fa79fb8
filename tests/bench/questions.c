/*
 * questions.c - how long the tool takes for questions of many runs, on all cores.
 *
 * Each is asked of examples/daily.yaml as a user would ask it, with the process around it and the
 * answer as JSON; the best of some rounds counts, as many as fit in a few seconds. A goal stands
 * beside what has one: it is meant for two cores of a small server with nothing else to do.
 */
#include "clock.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { ROUNDS = 3 };
static const double patience = 3; /* for all rounds of one question [s] */

static const struct {
    const char *what, *words;
    double goal; /* [s]; 0: none */
} questions[] = {
    {"offset, 10 000 samples", "offset examples/daily.yaml --samples 10000", 0.5},
    {"margin", "margin examples/daily.yaml", 0},
    {"map, voltage in 64 steps",
     "map examples/daily.yaml --vary today.supply.main.voltage=9V:15V:64", 0},
    {"fit, two keys and the reaction time",
     "fit examples/daily.yaml examples/stopwatch.csv --key elevation.motor.no_load_speed "
     "--key elevation.gear.efficiency --bias",
     0},
    {"causes", "causes examples/daily.yaml", 0},
    {"plan", "plan examples/daily.yaml", 10}};
enum { QUESTIONS = sizeof questions / sizeof *questions };

/* seconds for one answer */
static double ask(const char *tool, const char *words)
{
    char line[400];
    snprintf(line, sizeof line, "'%s' %s --json --quiet >/dev/null", tool, words);
    double start = now();
    int code = system(line);
    if (code == -1 || code > 256) { /* 1 is an answer too: not as it should be */
        fprintf(stderr, "bench: %s failed\n", line);
        exit(1);
    }
    return now() - start;
}

static double best_of(const char *tool, const char *words)
{
    double best = INFINITY, start = now();
    for (int r = 0; r < ROUNDS && (r == 0 || now() - start < patience); r++)
        best = fmin(best, ask(tool, words));
    return best;
}

int main(void)
{
    const char *tool = getenv("SLEWTIME_TOOL");
    printf("Questions of examples/daily.yaml, on all cores\n");
    for (int i = 0; i < QUESTIONS; i++) {
        printf("  %-52s %9.3f s", questions[i].what,
               best_of(tool != NULL ? tool : "build/slewtime", questions[i].words));
        if (questions[i].goal > 0)
            printf("    goal %g s", questions[i].goal);
        printf("\n");
    }
    return 0;
}
