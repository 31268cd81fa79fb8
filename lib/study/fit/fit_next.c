/* fit_next.c - the one reading that would tell most, out of a menu of readings. M12.6 */
#include "study/fit/fit_trial.h"

#include <string.h>

/* the step of a derivative, as a share of the size */
static const double STEP = 1e-3;

/* a reading makes a difference if the largest uncertainty becomes smaller than this share of
 * itself, and than so many sizes */
static const double DIFFERENCE = 0.95, SIZES = 10;

/* ---- the menu ---- */

typedef enum course { STOP_TO_STOP, STOP_TO_HOME, PRESSED, IDLE } course;

typedef struct dish {
    course course;
    double less;   /* than the scenario's supply, of the system's voltage */
    bool water;    /* flowing if the scenario is dry, dry if it flows */
    double colder; /* than the scenario [K] */
    slew_measure measure;
} dish;

static const dish MENU[] = {
    {STOP_TO_STOP, 0, false, 0, SLEW_MEASURE_SECONDS},
    {STOP_TO_STOP, 0.125, false, 0, SLEW_MEASURE_SECONDS},
    {STOP_TO_STOP, 0, true, 0, SLEW_MEASURE_SECONDS},
    {STOP_TO_STOP, 0, false, 20, SLEW_MEASURE_SECONDS},
    {STOP_TO_HOME, 0, false, 0, SLEW_MEASURE_SECONDS},
    {STOP_TO_STOP, 0, false, 0, SLEW_MEASURE_VOLTAGE},
    {STOP_TO_STOP, 0, true, 0, SLEW_MEASURE_VOLTAGE},
    {STOP_TO_STOP, 0, false, 0, SLEW_MEASURE_CURRENT},
    {STOP_TO_STOP, 0, true, 0, SLEW_MEASURE_CURRENT},
    {PRESSED, 0, false, 0, SLEW_MEASURE_CURRENT},
    {PRESSED, 0, false, 0, SLEW_MEASURE_VOLTAGE},
    {IDLE, 0, false, 0, SLEW_MEASURE_VOLTAGE},
};

enum { DISHES = sizeof MENU / sizeof *MENU };

static slew_timing row_of(const dish *d, const slew_setup *setup, int axis, int direction)
{
    const slew_place low = {SLEW_PLACE_LOW_STOP, 0}, high = {SLEW_PLACE_HIGH_STOP, 0};
    bool idle = d->course == IDLE, pressed = d->course == PRESSED;
    slew_timing row = {.axis = idle ? SLEW_NO_AXIS : axis,
                       .direction = idle ? 0 : direction,
                       .supply = setup->supply.main.voltage - d->less * setup->supply.system,
                       .pressure = setup->nozzle.flowing ? setup->nozzle.pressure : 0,
                       .temperature = setup->environment.temperature - d->colder,
                       .winding_rise = SLEW_NOT_GIVEN};
    if (d->water)
        row.pressure = setup->nozzle.flowing ? 0 : setup->nozzle.pressure;
    if (!idle)
        row.from = (direction > 0) != pressed ? low : high;
    if (d->course == STOP_TO_STOP)
        row.to = direction > 0 ? high : low;
    if (d->course == STOP_TO_HOME)
        row.to.kind = SLEW_PLACE_HOME;
    for (slew_measure m = 0; m < SLEW_MEASURE_COUNT; m++)
        row.measured[m] = (slew_measured){SLEW_NOT_GIVEN, slew_measure_sd(m), false};
    return row;
}

/* water that can't flow makes no other row */
static bool is_on_offer(const dish *d, const slew_setup *setup)
{
    return !d->water || setup->nozzle.pressure > 0;
}

/* ---- what a reading would tell ---- */

/* the stopwatch is no part of the truck: its bias counts only where nothing else is fitted */
static bool counts(const slew_trial *t, const slew_information *information, int figure)
{
    return !information->fixed[figure] &&
           (t->out->figure[figure].key != SLEW_FIT_BIAS || information->directions == 1);
}

/* the largest sd of all figures as a share of what they are weighed by, and whose it is */
static double largest(const slew_trial *t, const slew_information *information, int *whose)
{
    double most = -1;
    for (int j = 0; j < information->parameters; j++) {
        double share = t->out->figure[j].size / t->out->figure[j].weighed;
        double variance = share * share * slew_information_covariance(information, j, j);
        if (counts(t, information, j) && variance > most) {
            most = variance;
            *whose = j;
        }
    }
    return sqrt(fmax(most, 0));
}

/* derivatives of the weighted residual by each figure; false: the row can't be */
static bool derive(slew_trial *t, const double *value, const slew_fit_next *next, double *row)
{
    double moved[SLEW_FIT_MAX];
    double sd = next->row.measured[next->measure].sd;
    memcpy(moved, value, sizeof moved);
    for (int j = 0; j < t->out->figures; j++) {
        double step = STEP * t->out->figure[j].size, ahead, behind;
        moved[j] = value[j] + step;
        if (slew_trial_reading(t, moved, &next->row, next->measure, &ahead, NULL) != SLEW_OK)
            return false;
        moved[j] = value[j] - step;
        if (slew_trial_reading(t, moved, &next->row, next->measure, &behind, NULL) != SLEW_OK)
            return false;
        moved[j] = value[j];
        row[j] = (ahead - behind) / (2 * STEP * sd);
    }
    return true;
}

static void consider(slew_trial *t, const slew_least *least, slew_fit_next *candidate,
                     slew_fit_next *best)
{
    double row[SLEW_FIT_MAX];
    slew_information more = least->information;
    if (slew_trial_reading(t, least->parameter, &candidate->row, candidate->measure,
                           &candidate->simulated, NULL) != SLEW_OK ||
        !derive(t, least->parameter, candidate, row))
        return;
    for (int j = 0; j < t->out->figures; j++) /* a held figure is not asked about */
        row[j] = more.fixed[j] ? 0 : row[j];
    slew_information_add(&more, row);
    candidate->after = largest(t, &more, &candidate->least_after);
    if (candidate->after < fmin(DIFFERENCE * best->before, SIZES) &&
        (!best->any || candidate->after < best->after)) {
        candidate->any = true;
        candidate->before = best->before;
        candidate->least = best->least;
        *best = *candidate;
    }
}

static bool is_timed(const slew_trial *t, int axis)
{
    for (int i = 0; i < t->question->timings->count; i++)
        if (t->question->timings->row[i].axis == axis)
            return true;
    return false;
}

void slew_trial_propose(slew_trial *t, const slew_least *least)
{
    slew_setup setup;
    slew_fit_next best = {.any = false};
    best.before = largest(t, &least->information, &best.least);
    slew_scenario_resolve(t->work, SLEW_OCCASION_STOW, &setup);
    for (int axis = 0; axis < SLEW_AXES; axis++)
        for (int direction = -1; direction <= 1; direction += 2)
            for (int i = 0; i < DISHES && is_timed(t, axis); i++) {
                slew_fit_next candidate = {.row = row_of(&MENU[i], &setup, axis, direction),
                                           .measure = MENU[i].measure};
                if (is_on_offer(&MENU[i], &setup))
                    consider(t, least, &candidate, &best);
            }
    t->out->next = best;
}
