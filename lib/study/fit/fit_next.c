/* fit_next.c - the one reading that would tell most, out of a menu of readings: of the figures
 * asked for, and of where a deploy rests. M12.6, M12.11 */
#include "study/fit/fit_prior.h"
#include "study/fit/fit_trial.h"

#include <string.h>

/* the step of a derivative, as a share of the size */
static const double STEP = 1e-3;

/* a reading makes a difference if the largest uncertainty becomes smaller than this share of itself
 */
static const double DIFFERENCE = 0.95;

/* ---- the menu ---- */

typedef enum course { STOP_TO_STOP, STOP_TO_HOME, PRESSED, IDLE, DEPLOY } course;

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
    {DEPLOY, 0, false, SLEW_MEASURE_ANGLE},
};

enum { DISHES = sizeof MENU / sizeof *MENU };

/* the conditions of this visit: the highest of what was read; dry is 0 */
static slew_timing visit_of(const slew_trial *t)
{
    slew_timing visit = slew_timing_default();
    for (int i = 0; i < t->question->timings->count; i++) {
        const slew_timing *row = &t->question->timings->row[i];
        visit.supply = fmax(visit.supply, row->supply); /* of NaN the other */
        visit.pressure = fmax(visit.pressure, row->pressure);
        visit.temperature = fmax(visit.temperature, row->temperature);
    }
    return visit;
}

/* the scenario's deploy */
static void set_deploy(const slew_trial *t, slew_timing *row)
{
    double seconds = t->work->deploy.seconds[row->axis];
    row->direction = seconds > 0 ? 1 : -1;
    row->from.kind = SLEW_PLACE_STOW_POINT;
    row->to.kind = SLEW_PLACE_DEPLOYED;
    row->measured[SLEW_MEASURE_SECONDS].value = fabs(seconds);
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
    if (d->course == DEPLOY)
        set_deploy(t, &row);
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

static bool has_offset(const slew_fit *fit, int instrument)
{
    for (int j = 0; j < fit->figures; j++)
        if (fit->figure[j].key == instrument)
            return true;
    return false;
}

/* of the instrument, and of what it shows too much where it was not used yet */
static double sd_of(const slew_trial *t, const slew_timing *row, slew_measure measure)
{
    slew_fit_figure offset = {.key = SLEW_FIT_BIAS - (int)measure};
    slew_prior_fill(t->work, 0, &offset);
    return hypot(t->scatter[measure] * row->measured[measure].sd,
                 has_offset(t->out, offset.key) ? 0 : offset.before);
}

static bool show(slew_trial *t, const double *value, const slew_timing *row, slew_measure measure,
                 double *shown)
{
    slew_timed timed;
    if (slew_trial_row(t, value, row, &timed, NULL) != SLEW_OK)
        return false;
    *shown = timed.value[measure];
    return !isnan(*shown);
}

/* derivatives by each figure, in units of what was known of it before; false: the row can't be */
static bool derive(slew_trial *t, const double *value, const slew_timing *row, slew_measure measure,
                   double *by)
{
    double moved[SLEW_FIT_MAX], ahead, behind;
    memcpy(moved, value, sizeof moved);
    for (int j = 0; j < t->out->figures; j++) {
        double step = STEP * t->out->figure[j].before;
        moved[j] = fmin(value[j] + step, t->high[j]);
        double up = moved[j];
        if (!show(t, moved, row, measure, &ahead))
            return false;
        moved[j] = fmax(value[j] - step, t->low[j]);
        if (!show(t, moved, row, measure, &behind))
            return false;
        by[j] = (ahead - behind) * t->out->figure[j].before / (up - moved[j]);
        moved[j] = value[j];
    }
    return true;
}

/* what would be known with one more reading, which should show *simulated; false: it can't be made
 */
static bool learn(slew_trial *t, const slew_least *least, const slew_timing *row,
                  slew_measure measure, double *simulated, slew_information *more)
{
    double by[SLEW_FIT_MAX];
    if (!show(t, least->parameter, row, measure, simulated) ||
        !derive(t, least->parameter, row, measure, by))
        return false;
    for (int j = 0; j < t->out->figures; j++)
        by[j] /= sd_of(t, row, measure);
    *more = least->information;
    slew_information_add(more, by);
    return true;
}

/* ---- the figures asked for ---- */

static void consider(slew_trial *t, const slew_information *more, slew_fit_next *candidate,
                     slew_fit_next *best)
{
    candidate->after = largest(t, more, &candidate->least_after);
    if (candidate->after < DIFFERENCE * best->before &&
        (!best->any || candidate->after < best->after)) {
        candidate->any = true;
        candidate->before = best->before;
        candidate->least = best->least;
        *best = *candidate;
    }
}

/* ---- where a deploy rests ---- */

typedef struct aim {
    double by[SLEW_FIT_MAX]; /* derivatives of the angle, not of what the gauge shows */
    slew_fit_aim best;
} aim;

static double sd_along(const slew_information *i, const double *by)
{
    double sum = 0;
    for (int a = 0; a < i->parameters; a++)
        for (int b = 0; b < i->parameters; b++)
            sum += by[a] * by[b] * slew_information_covariance(i, a, b);
    return sqrt(fmax(sum, 0));
}

static aim aim_of(slew_trial *t, const slew_least *least, int axis)
{
    aim a = {.best = {.any = false}};
    const dish deploy = {DEPLOY, 0, false, SLEW_MEASURE_ANGLE};
    if (!t->work->deploy.given || t->work->deploy.seconds[axis] == 0)
        return a;
    const slew_timing row = row_of(t, &deploy, axis, 0);
    if (!show(t, least->parameter, &row, SLEW_MEASURE_ANGLE, &a.best.angle) ||
        !derive(t, least->parameter, &row, SLEW_MEASURE_ANGLE, a.by))
        return a;
    for (int j = 0; j < t->out->figures; j++)
        if (t->out->figure[j].key == SLEW_FIT_ANGLE_OFFSET) {
            a.best.angle -= least->parameter[j];
            a.by[j] = 0;
        }
    a.best.any = true;
    a.best.sd = sd_along(&least->information, a.by);
    return a;
}

static void consider_aim(const slew_information *more, const slew_fit_next *candidate, aim *a)
{
    double after = sd_along(more, a->by);
    slew_fit_aim *best = &a->best;
    if (!best->any || after >= DIFFERENCE * best->sd || (best->better && after >= best->after))
        return;
    best->better = true;
    best->row = candidate->row;
    best->measure = candidate->measure;
    best->simulated = candidate->simulated;
    best->after = after;
}

/* ---- both ---- */

static bool is_timed(const slew_trial *t, int axis)
{
    for (int i = 0; i < t->question->timings->count; i++)
        if (t->question->timings->row[i].axis == axis)
            return true;
    return false;
}

/* water that did not flow on this visit makes no other row; a deploy has one direction */
static bool is_on_offer(const slew_trial *t, const dish *d, int axis, int direction)
{
    const slew_deploy *deploy = &t->work->deploy;
    if (d->course == DEPLOY)
        return deploy->given && deploy->seconds[axis] * direction > 0;
    return !d->water || visit_of(t).pressure > 0;
}

void slew_trial_propose(slew_trial *t, const slew_least *least)
{
    slew_fit_next best = {.any = false};
    best.before = largest(t, &least->information, &best.least);
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        if (!is_timed(t, axis))
            continue;
        aim a = aim_of(t, least, axis);
        for (int i = 0; i < 2 * DISHES; i++) {
            const dish *d = &MENU[i % DISHES];
            int direction = i < DISHES ? -1 : 1;
            slew_information more;
            slew_fit_next candidate = {.row = row_of(t, d, axis, direction), .measure = d->measure};
            if (!is_on_offer(t, d, axis, direction) ||
                !learn(t, least, &candidate.row, d->measure, &candidate.simulated, &more))
                continue;
            consider(t, &more, &candidate, &best);
            consider_aim(&more, &candidate, &a);
        }
        t->out->aim[axis] = a.best;
    }
    t->out->next = best;
}
