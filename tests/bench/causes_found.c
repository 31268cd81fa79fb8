/*
 * causes_found.c - in what share of trouble calls on calibrated trucks the true fault is found.
 *
 *   build/tests/bench/causes_found
 *
 * Trucks, faults and readings of tests/causes_trial.h, seeded. "before" multiplies the fitted
 * connection, as the catalogue once did; "now" adds milliohms. The table of lib/MODEL.md, M13.8,
 * comes from here.
 */
#include "../causes_trial.h"

#include <stdio.h>

enum { WEIGHED_BY = 400, CASES = 8, CASES_OF_ONE = 40 };

static slew_catalogue now, before; /* too large for a stack */

static double percent(int count, const trial_tally *t)
{
    return t->cases > 0 ? 100.0 * count / t->cases : NAN;
}

static void print(const char *what, const char *seen, const trial_tally *t)
{
    printf("  %-30s %-20s %6d %8.1f %8.1f %10.1f %10.1f\n", what, seen, t->cases,
           percent(t->first, t), percent(t->three, t), percent(t->none, t),
           percent(t->none_left_out, t));
    fflush(stdout);
}

/* every truck, each weighed by its own file with that catalogue; what is wrong is drawn from the
 * one of now */
static bool ask(const slew_catalogue *weighed_by, slew_seen_by most, int only, trial_tally *tally)
{
    for (int k = 0; k < TRIAL_TRUCKS; k++) {
        slew_scenario truth, calibrated;
        slew_causes causes, truths;
        if (!trial_truck(k, &truth, &calibrated) ||
            trial_simulate(&calibrated, weighed_by, WEIGHED_BY, 1, &causes) != SLEW_OK)
            return false;
        if (trial_simulate(&truth, &now, only < 0 ? CASES : CASES_OF_ONE, 99, &truths) != SLEW_OK) {
            slew_causes_free(&causes);
            return false;
        }
        trial_run(&causes, &truths, weighed_by, most, only, tally);
        slew_causes_free(&causes);
        slew_causes_free(&truths);
    }
    return true;
}

int main(void)
{
    static const char *const levels[] = {"by eye", "by eye and meter", "with every check"};
    if (trial_catalogue(false, &now) != SLEW_OK || trial_catalogue(true, &before) != SLEW_OK)
        return 1;
    int joint = slew_catalogue_find(&now, "corroded connection in the feed");
    printf("causes on %d calibrated trucks: true cause first, in the first three, none of these\n"
           "told wrongly, and with the true one left out of the catalogue [%%]\n\n",
           TRIAL_TRUCKS);
    printf("  %-30s %-20s %6s %8s %8s %10s %10s\n", "fault", "seen", "cases", "first", "three",
           "none", "left out");
    for (int only = joint; only >= -1; only -= joint + 1)
        for (int level = SLEW_BY_EYE; level <= SLEW_BY_CHECK; level++) {
            trial_tally old = {0}, own = {0};
            if (!ask(&before, (slew_seen_by)level, only, &old) ||
                !ask(&now, (slew_seen_by)level, only, &own))
                return 1;
            print(only < 0 ? "any, before" : "corroded connection, before", levels[level], &old);
            print(only < 0 ? "any, now" : "corroded connection, now", levels[level], &own);
        }
    return 0;
}
