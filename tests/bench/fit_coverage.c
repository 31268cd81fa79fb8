/*
 * fit_coverage.c - do the 95 % intervals of `fit` hold the truth in 95 % of the visits?
 *
 * 1000 visits for each kind of error, each to a truck of its own: its figures are drawn about those
 * of its sheet as fit_prior.c says is usual, so are the errors of each row's supply. The library
 * simulates both sides: what is asked is the statistics, not the physics. Seeded; some 5 minutes.
 * Prints the table of M12.9.
 */
#include "../unit/fit_both.h"

#include <gsl/gsl_cdf.h>
#include <stdio.h>
#include <stdlib.h>

#include "slewtime/study.h"

enum { E = SLEW_ELEVATION, VISITS = 1000, KEYS = 3, CURRENTS = 2 };

/* as a share of the sheet's figure; of the joints in ohm */
static const struct {
    const char *path;
    double share, sd;
} DRAWN[KEYS + CURRENTS] = {{"elevation.motor.no_load_speed", 0.1, 0},
                            {"elevation.gear.efficiency", 0.25, 0},
                            {"supply.feed.joint_resistance", 0, 0.01},
                            {"elevation.motor.no_load_current", 0.2, 0},
                            {"elevation.motor.stall_current", 0.15, 0}};

typedef struct kind {
    const char *words;
    double errors;   /* over those assumed */
    double meter;    /* the meter at the source shows too much [V] */
    double hand;     /* the stopwatch does [s] */
    double blunders; /* share of the readings */
    bool robust;
} kind;

static const kind KINDS[] = {
    {"errors as assumed", 1, 0, 0, 0, false}, {"errors halved", 0.5, 0, 0, 0, false},
    {"errors doubled", 2, 0, 0, 0, false},    {"voltmeter 0.05 V off", 1, 0.05, 0, 0, false},
    {"hand 0.1 s late", 1, 0, 0.1, 0, false}, {"10 % blunders, --robust", 1, 0, 0, 0.1, true}};

enum { KIND_COUNT = sizeof KINDS / sizeof *KINDS };

/* ---- chance ---- */

typedef struct dice {
    uint64_t visit;
    uint32_t next;
} dice;

static double uniform(dice *d)
{
    return slew_random_unit(20, d->visit, d->next++);
}

static double normal(dice *d)
{
    return gsl_cdf_ugaussian_Pinv(uniform(d));
}

/* ---- one visit ---- */

/* a truck about the sheet, on which every row of the page can be made */
static void draw_truth(slew_scenario *truth, dice *d)
{
    for (int j = 0; j < KEYS + CURRENTS; j++) {
        int key = slew_key_find(DRAWN[j].path);
        double sheet = slew_scenario_get_number(truth, key);
        double sd = DRAWN[j].share > 0 ? DRAWN[j].share * sheet : DRAWN[j].sd;
        double value;
        do
            value = sheet + sd * normal(d);
        while (value < (DRAWN[j].share > 0 ? 0.4 * sheet : 0) || value > 4 * sheet + 0.03);
        set_key(truth, SLEW_LAYER_FILE, DRAWN[j].path, value);
    }
}

static bool add_row(slew_timings *t, const slew_scenario *truth, slew_timing row, double supply,
                    const kind *k, dice *d)
{
    slew_setup setup;
    slew_timed timed;
    slew_scenario_resolve(truth, SLEW_OCCASION_STOW, &setup);
    row.supply = supply;
    row.pressure = 0;
    row.temperature = setup.environment.temperature;
    if (slew_timing_simulate(&setup, &row, &timed, NULL) != SLEW_OK)
        return false;
    row.supply += k->meter + 0.05 * k->errors * normal(d);
    for (slew_measure m = 0; m <= SLEW_MEASURE_CURRENT; m++) {
        double sd = slew_measure_sd(m), error = k->errors * sd * normal(d);
        bool blunder = uniform(d) < k->blunders;
        error += blunder ? (uniform(d) < 0.5 ? -1 : 1) * (5 + 10 * uniform(d)) * sd : 0;
        row.measured[m].value = timed.value[m] + error + (m == SLEW_MEASURE_SECONDS ? k->hand : 0);
    }
    row.line = t->count + 2;
    t->row[t->count++] = row;
    return true;
}

/* one page: stop to stop with and without the engine, to the home sensor, pressed, drives off */
static bool fill_page(slew_timings *t, const slew_scenario *truth, const kind *k, dice *d)
{
    slew_place low = at_place(SLEW_PLACE_LOW_STOP), high = at_place(SLEW_PLACE_HIGH_STOP);
    slew_place home = at_place(SLEW_PLACE_HOME), none = at_place(SLEW_PLACE_NONE);
    bool made = true;
    t->count = 0;
    for (int weak = 0; weak < 2; weak++)
        for (int direction = -1; direction <= 1; direction += 2)
            made = made && add_row(t, truth, stop_to_stop(E, direction), weak ? 12.3 : 13.6, k, d);
    return made && add_row(t, truth, travel(E, 1, low, home), 13.6, k, d) &&
           add_row(t, truth, travel(E, -1, high, home), 13.6, k, d) &&
           add_row(t, truth, travel(E, -1, low, none), 13.6, k, d) &&
           add_row(t, truth, travel(SLEW_NO_AXIS, 0, none, none), 13.6, k, d);
}

typedef struct tally {
    int visits, failed, held[KEYS];
    double sd[KEYS]; /* of what was known before, that is left */
} tally;

static void visit(const kind *k, uint64_t number, tally *out)
{
    static slew_timings t;
    static slew_fit fit;
    const slew_scenario sheet = daily_scenario();
    slew_scenario truth = sheet;
    slew_error error;
    dice d = {.visit = number};
    draw_truth(&truth, &d);
    if (!fill_page(&t, &truth, k, &d))
        return; /* such a truck does not move */
    slew_fit_question q = {.timings = &t, .keys = KEYS, .robust = k->robust};
    for (int j = 0; j < KEYS; j++)
        q.key[j] = slew_key_find(DRAWN[j].path);
    out->visits++;
    if (slew_fit_run(&sheet, &q, &fit, &error) != SLEW_OK) {
        out->failed++;
        fprintf(stderr, "visit %d: %s %s\n", (int)number, error.key, error.message);
        return;
    }
    for (int j = 0; j < KEYS; j++) {
        double value = slew_scenario_get_number(&truth, q.key[j]);
        out->held[j] += fit.figure[j].low <= value && value <= fit.figure[j].high;
        out->sd[j] += fit.figure[j].sd / fit.figure[j].before;
    }
}

int main(void)
{
    printf(
        "| 95 %% intervals that hold the truth | no-load speed | efficiency | a joint | no answer "
        "|\n| --- | --- | --- | --- | --- |\n");
    for (int i = 0; i < KIND_COUNT; i++) {
        tally all = {0};
        for (uint64_t n = 0; all.visits < VISITS; n++)
            visit(&KINDS[i], n + 100000 * (uint64_t)i, &all);
        int answered = all.visits - all.failed;
        printf("| %s |", KINDS[i].words);
        for (int j = 0; j < KEYS; j++)
            printf(" %.1f %% (sd %.0f %% of before) |", 100.0 * all.held[j] / answered,
                   100 * all.sd[j] / answered);
        printf(" %d |\n", all.failed);
        fflush(stdout);
    }
    return 0;
}
