/* fit_next.c - the one reading that would tell most, out of a menu of readings. M12.6 */
#include "study/fit/fit_trial.h"

#include <string.h>

/* the step of a derivative, as a share of the size */
static const double STEP = 1e-3;

/* a reading makes a difference if the largest uncertainty becomes smaller than this share of itself
 */
static const double DIFFERENCE = 0.95;

/* ---- the menu ---- */

typedef enum course { STOP_TO_STOP, STOP_TO_HOME, PRESSED, IDLE } course;

typedef struct dish {
    course course;
    double less; /* than the highest supply of this visit, of the system's voltage: without the
                    engine */
    bool water;  /* flowing: only where it flowed on this visit */
    slew_measure measure;
} dish;

static const dish MENU[] = {
    {STOP_TO_STOP, 0, false, SLEW_MEASURE_SECONDS},
    {STOP_TO_STOP, 0.125, false, SLEW_MEASURE_SECONDS},
    {STOP_TO_STOP, 0, true, SLEW_MEASURE_SECONDS},
    {STOP_TO_HOME, 0, false, SLEW_MEASURE_SECONDS},
    {STOP_TO_STOP, 0, false, SLEW_MEASURE_VOLTAGE},
    {STOP_TO_STOP, 0, true, SLEW_MEASURE_VOLTAGE},
    {STOP_TO_STOP, 0, false, SLEW_MEASURE_CURRENT},
    {STOP_TO_STOP, 0, true, SLEW_MEASURE_CURRENT},
    {PRESSED, 0, false, SLEW_MEASURE_CURRENT},
    {PRESSED, 0, false, SLEW_MEASURE_VOLTAGE},
    {IDLE, 0, false, SLEW_MEASURE_VOLTAGE},
};

enum { DISHES = sizeof MENU / sizeof *MENU };

/* the conditions of this visit: the highest of what was read; dry is 0 */
static slew_timing visit_of(const slew_trial *t)
{
    slew_timing visit = slew_timing_default();
    for (int i = 0; i < t->question->timings->count; i++) {
        const slew_timing *row = &t->question->timings->row[i];
        if (row->to.kind == SLEW_PLACE_STOW_POINT)
            continue;
        visit.supply = fmax(visit.supply, row->supply); /* of NaN the other */
        visit.pressure = fmax(visit.pressure, row->pressure);
        visit.temperature = fmax(visit.temperature, row->temperature);
    }
    return visit;
}

static slew_timing row_of(const slew_trial *t, const dish *d, int axis, int direction)
{
    const slew_place low = {SLEW_PLACE_LOW_STOP, 0}, high = {SLEW_PLACE_HIGH_STOP, 0};
    bool idle = d->course == IDLE, pressed = d->course == PRESSED;
    slew_timing row = visit_of(t);
    row.axis = idle ? SLEW_NO_AXIS : axis;
    row.direction = idle ? 0 : direction;
    if (isnan(row.supply))
        row.supply = t->work->setup.supply.main.voltage;
    row.supply -= d->less * t->work->setup.supply.system;
    row.pressure = d->water ? row.pressure : 0;
    if (!idle)
        row.from = (direction > 0) != pressed ? low : high;
    if (d->course == STOP_TO_STOP)
        row.to = direction > 0 ? high : low;
    if (d->course == STOP_TO_HOME)
        row.to.kind = SLEW_PLACE_HOME;
    return row;
}

/* ---- what a reading would tell ---- */

/* the largest sd of the figures asked for, over that before, and whose it is */
static double largest(const slew_trial *t, const slew_information *information, int *whose)
{
    double most = -1;
    for (int j = 0; j < information->parameters; j++) {
        double variance = slew_information_covariance(information, j, j);
        if (t->out->figure[j].asked && variance > most) {
            most = variance;
            *whose = j;
        }
    }
    return sqrt(fmax(most, 0));
}

static double sd_of(const slew_trial *t, const slew_fit_next *next)
{
    return t->scatter[next->measure] * next->row.measured[next->measure].sd;
}

static bool show(slew_trial *t, const double *value, const slew_fit_next *next, double *shown)
{
    slew_timed timed;
    if (slew_trial_row(t, value, &next->row, &timed, NULL) != SLEW_OK)
        return false;
    *shown = timed.value[next->measure];
    return !isnan(*shown);
}

/* derivatives of the weighted residual by each figure; false: the row can't be */
static bool derive(slew_trial *t, const double *value, const slew_fit_next *next, double *row)
{
    double moved[SLEW_FIT_MAX], ahead, behind;
    memcpy(moved, value, sizeof moved);
    for (int j = 0; j < t->out->figures; j++) {
        double step = STEP * t->out->figure[j].before;
        moved[j] = fmin(value[j] + step, t->high[j]);
        double up = moved[j];
        if (!show(t, moved, next, &ahead))
            return false;
        moved[j] = fmax(value[j] - step, t->low[j]);
        if (!show(t, moved, next, &behind))
            return false;
        row[j] = (ahead - behind) * t->out->figure[j].before / ((up - moved[j]) * sd_of(t, next));
        moved[j] = value[j];
    }
    return true;
}

static void consider(slew_trial *t, const slew_least *least, slew_fit_next *candidate,
                     slew_fit_next *best)
{
    double row[SLEW_FIT_MAX];
    slew_information more = least->information;
    if (!show(t, least->parameter, candidate, &candidate->simulated) ||
        !derive(t, least->parameter, candidate, row))
        return;
    slew_information_add(&more, row);
    candidate->after = largest(t, &more, &candidate->least_after);
    if (candidate->after < DIFFERENCE * best->before &&
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

/* water that did not flow on this visit makes no other row */
static bool is_on_offer(const slew_trial *t, const dish *d)
{
    return !d->water || visit_of(t).pressure > 0;
}

void slew_trial_propose(slew_trial *t, const slew_least *least)
{
    slew_fit_next best = {.any = false};
    best.before = largest(t, &least->information, &best.least);
    for (int axis = 0; axis < SLEW_AXES; axis++)
        for (int direction = -1; direction <= 1; direction += 2)
            for (int i = 0; i < DISHES && is_timed(t, axis); i++) {
                slew_fit_next candidate = {.row = row_of(t, &MENU[i], axis, direction),
                                           .measure = MENU[i].measure};
                if (is_on_offer(t, &MENU[i]))
                    consider(t, least, &candidate, &best);
            }
    t->out->next = best;
}
