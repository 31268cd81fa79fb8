/*
 * margin.c - the tail that `margin` is asked about, by brute force.
 *
 * Ten million independent trucks and days of a scenario (or so many as are asked for), the
 * clearance that each needs from either stop of its elevation, and how many need more than the
 * clearances around one that 1 in 1000 do. `tests/bench/margin.txt` keeps what it printed.
 *
 *   build/tests/bench/margin examples/daily.yaml 10000000 3.4 13.5
 *
 * The last two: clearances of the low and high side below which needs are not told apart [deg].
 * Without arguments: the same with 100 000.
 */
#include "slewtime/read.h"
#include "study/margin/margin_trial.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

enum { CHUNK = 100000, RUNGS = 12 };

static void fail(const char *why)
{
    fprintf(stderr, "bench: %s\n", why);
    exit(1);
}

/* ---- hits of one side ---- */

typedef struct tail {
    int64_t samples, above[RUNGS * 100]; /* by grid steps above the floor */
} tail;

static void count(const slew_ensemble *e, int floor, tail *t)
{
    for (int64_t i = 0; i < e->done; i++) {
        double need = e->figure[i];
        t->samples += !isnan(need);
        for (int k = 0; k < RUNGS * 100 && need > floor + k; k++)
            t->above[k]++;
    }
}

/* each chunk has a seed of its own */
static void ask(const slew_scenario *s, slew_margin_case *c, int64_t samples, tail *t)
{
    slew_sampling how = slew_sampling_default();
    how.points = SLEW_PSEUDO_RANDOM;
    how.samples = CHUNK;
    for (int64_t done = 0; done < samples; done += CHUNK) {
        slew_ensemble e;
        slew_error error;
        how.seed = (uint64_t)(1000 + done / CHUNK);
        if (slew_ensemble_run(s, SLEW_STOW_ONLY, &how, slew_margin_ask_need, c, 1, &e, &error) !=
            SLEW_OK)
            fail(error.message);
        count(&e, c->floor, t);
        slew_ensemble_free(&e);
    }
}

/* ---- together ---- */

static double stop_of(const slew_scenario *s, int side, double *room)
{
    const slew_axis_setup *axis = &s->setup.axis[SLEW_ELEVATION];
    double stop = side < 0 ? axis->stops.low : axis->stops.high;
    *room = (stop - axis->home.angle) * side;
    return stop;
}

static void print(const char *side, const tail *t, int floor)
{
    double n = (double)t->samples;
    printf("%s stop, %" PRId64 " samples\n", side, t->samples);
    for (int k = 0; k < RUNGS * 100; k++) {
        double share = (double)t->above[k] / n;
        if (share < 3e-2 && share > 0)
            printf("  above %6.2f deg: %10.3e +- %.1e\n", (floor + k) * 0.05, share,
                   sqrt(share * (1 - share) / n));
    }
}

int main(int argc, char **argv)
{
    static slew_scenario read, s;
    static tail tails[SLEW_MARGIN_SIDES];
    static char *usual[] = {"margin", "examples/daily.yaml", "100000", "3.4", "13.5"};
    argv = argc < 5 ? usual : argv;
    if (slew_scenario_read_file(argv[1], NULL, &read) != SLEW_OK)
        fail("usage: margin SCENARIO SAMPLES FLOOR_LOW FLOOR_HIGH");
    s = read;
    s.stow.has_times = true; /* every clearance is taught by its trial */
    for (int k = 0; k < SLEW_MARGIN_SIDES; k++) {
        int side = k == 0 ? -1 : 1;
        double room;
        slew_margin_case c = {.scenario = &read, .axis = SLEW_ELEVATION, .side = side};
        stop_of(&read, side, &room);
        c.last = (int)(room / SLEW_MARGIN_GRID + 1e-6);
        c.floor = c.start = (int)lround(atof(argv[3 + k]) / 0.05);
        if (slew_margin_case_open(&c) != SLEW_OK)
            fail("memory is short");
        ask(&s, &c, atoll(argv[2]), &tails[k]);
        slew_margin_case_close(&c);
        print(k == 0 ? "low" : "high", &tails[k], c.floor);
        fflush(stdout);
    }
    return 0;
}
