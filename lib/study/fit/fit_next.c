/* fit_next.c - the one reading that would tell most, out of a menu of readings: of the figures
 * asked for, and of where a deploy rests. M12.6, M12.11 */
#include "study/fit/fit_prior.h"
#include "study/fit/fit_trial.h"

#include <gsl/gsl_cdf.h>
#include <string.h>

/* the step of a derivative, as a share of the size */
static const double STEP = 1e-3;

/* a reading makes a difference if the largest uncertainty becomes smaller than this share of itself
 */
static const double DIFFERENCE = 0.95;

/* that a scatter may be, each as likely as the others */
enum { SCATTERS = 16 };

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

static bool has_figure(const slew_fit *fit, int key)
{
    for (int j = 0; j < fit->figures; j++)
        if (fit->figure[j].key == key)
            return true;
    return false;
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

/* A reading that could be made: what it should show, and its derivatives. */
typedef struct offer {
    slew_timing row;
    slew_measure measure;
    double simulated;
    double by[SLEW_FIT_MAX];
} offer;

/* false: it can't be made */
static bool work_out(slew_trial *t, const slew_least *least, offer *o)
{
    return show(t, least->parameter, &o->row, o->measure, &o->simulated) &&
           derive(t, least->parameter, &o->row, o->measure, o->by);
}

/* Of the instrument's errors, and of what it shows too much where it was not used yet, where
 * without them the reading is known to `known`: the variance that tells as much as all that its
 * scatter may be, 1/(it + known) is their mean. The scatter's square has an inverse gamma
 * distribution. M12.4 */
static double variance_beside(const slew_trial *t, const offer *o, double known)
{
    slew_fit_figure offset = {.key = SLEW_FIT_BIAS - (int)o->measure};
    double worth = SLEW_SCATTER_WORTH + t->out->instrument[o->measure].worth, mean = 0;
    double own = t->scatter[o->measure] * o->row.measured[o->measure].sd, other = known;
    slew_prior_fill(t->work, 0, &offset);
    if (!has_figure(t->out, offset.key))
        other += offset.before * offset.before;
    for (int i = 0; i < SCATTERS; i++) {
        double over = worth / gsl_cdf_chisq_Pinv((i + 0.5) / SCATTERS, worth);
        mean += 1 / (over * own * own + other) / SCATTERS;
    }
    return 1 / mean - known;
}

/* of two numbers with such derivatives, as the figures are known */
static double covariance(const slew_information *known, const double *a, const double *b)
{
    double sum = 0;
    for (int i = 0; i < known->parameters; i++)
        for (int j = 0; j < known->parameters; j++)
            sum += a[i] * b[j] * slew_information_covariance(known, i, j);
    return sum;
}

/* ---- the figures asked for ---- */

static void consider(const slew_trial *t, const slew_least *least, const offer *o,
                     slew_fit_next *best)
{
    slew_information more = least->information;
    double row[SLEW_FIT_MAX], sd = sqrt(variance_beside(t, o, covariance(&more, o->by, o->by)));
    int whose = 0;
    for (int j = 0; j < t->out->figures; j++)
        row[j] = o->by[j] / sd;
    slew_information_add(&more, row);
    double after = largest(t, &more, &whose);
    if (after >= DIFFERENCE * best->before || (best->any && after >= best->after))
        return;
    best->any = true;
    best->row = o->row;
    best->measure = o->measure;
    best->simulated = o->simulated;
    best->after = after;
    best->least_after = whose;
}

/* ---- where a deploy rests ---- */

enum { HELD = 2 };

/* The angle's derivatives, not those of what the gauge shows; also by what bears on it alone and is
 * fitted only where it was read: the taught point, the sensor that it counts from. */
typedef struct aim {
    double by[SLEW_FIT_MAX];
    int held_count;
    slew_fit_figure held[HELD];
    double by_held[HELD];
    slew_fit_aim best;
} aim;

static void hold(slew_trial *t, aim *a, const char *path)
{
    int key = slew_key_find(path);
    slew_fit_figure f = {.key = key, .start = slew_scenario_get_number(t->work, key)};
    if (has_figure(t->out, key) || !slew_trial_can_be(t, key, NULL))
        return;
    slew_prior_fill(t->work, 0, &f);
    a->held[a->held_count++] = f;
}

/* derivatives by what is held; 0 where it can't be moved */
static void derive_held(slew_trial *t, const slew_least *least, const slew_timing *row,
                        slew_measure measure, const aim *a, double *by)
{
    for (int i = 0; i < a->held_count; i++) {
        const slew_fit_figure *f = &a->held[i];
        double side[2], step = STEP * f->before;
        bool there = true;
        for (int k = 0; k < 2; k++) {
            slew_scenario_set_number(t->work, SLEW_LAYER_FILE, f->key,
                                     f->start + (k ? step : -step));
            there = show(t, least->parameter, row, measure, &side[k]) && there;
        }
        slew_scenario_set_number(t->work, SLEW_LAYER_FILE, f->key, f->start);
        by[i] = there ? (side[1] - side[0]) / (2 * STEP) : 0;
    }
}

static double variance_of(const slew_least *least, const aim *a)
{
    double sum = covariance(&least->information, a->by, a->by);
    for (int i = 0; i < a->held_count; i++)
        sum += a->by_held[i] * a->by_held[i];
    return sum;
}

static aim aim_of(slew_trial *t, const slew_least *least, int axis)
{
    static const dish deploy = {DEPLOY, 0, false, SLEW_MEASURE_ANGLE};
    aim a = {.held_count = 0};
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
    hold(t, &a, slew_trial_point[axis]);
    hold(t, &a, slew_trial_home[axis]);
    derive_held(t, least, &row, SLEW_MEASURE_ANGLE, &a, a.by_held);
    a.best.any = true;
    a.best.sd = sqrt(variance_of(least, &a));
    return a;
}

static void consider_aim(slew_trial *t, const slew_least *least, const offer *o, aim *a)
{
    const slew_information *known = &least->information;
    double by_held[HELD], own = covariance(known, o->by, o->by);
    double both = covariance(known, a->by, o->by);
    slew_fit_aim *best = &a->best;
    if (!best->any)
        return;
    derive_held(t, least, &o->row, o->measure, a, by_held);
    for (int i = 0; i < a->held_count; i++) {
        own += by_held[i] * by_held[i];
        both += by_held[i] * a->by_held[i];
    }
    own += variance_beside(t, o, own);
    double after = sqrt(fmax(variance_of(least, a) - both * both / own, 0));
    if (after >= DIFFERENCE * best->sd || (best->better && after >= best->after))
        return;
    best->better = true;
    best->row = o->row;
    best->measure = o->measure;
    best->simulated = o->simulated;
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
            offer o = {.row = row_of(t, d, axis, direction), .measure = d->measure};
            if (!is_on_offer(t, d, axis, direction) || !work_out(t, least, &o))
                continue;
            consider(t, least, &o, &best);
            consider_aim(t, least, &o, &a);
        }
        t->out->aim[axis] = a.best;
    }
    t->out->next = best;
}
