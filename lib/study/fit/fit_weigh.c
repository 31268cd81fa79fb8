/*
 * fit_weigh.c - how readings are weighed: their instruments' scatter, and the errors of what their
 * rows are told of their conditions, which reach all readings of a row. M12.4
 */
#include "study/fit/fit_prior.h"
#include "study/fit/fit_trial.h"
#include "study/sampling/known.h"

#include <string.h>

/* derivatives by a condition are taken over this share of its sd, either way */
static const double STEP = 0.5;

/* a reading that counts for nothing has its variance enlarged by the inverse of this */
static const double NO_WEIGHT = 1e-6;

/* ---- conditions ---- */

typedef struct condition {
    double *place; /* in the row that is moved */
    double at, sd;
} condition;

enum { CONDITIONS = 4 };

/* over the days, where nothing says what it was today */
static double sd_of_days(const slew_trial *t, const char *path, slew_input input)
{
    const slew_spread *day = &t->work->day;
    int key = slew_key_find(path);
    double mean, sd = slew_input_sd(input);
    for (int i = 0; i < day->count; i++)
        if (day->item[i].key == key && !slew_is_known(t->work, SLEW_OCCASION_STOW, key))
            slew_prior_moments(&day->item[i], &mean, &sd);
    return sd;
}

static condition measured(const slew_trial *t, slew_timing *row, slew_input input, double *place,
                          double today)
{
    static const char *const paths[] = {"supply.main.voltage", "nozzle.pressure",
                                        "environment.temperature"};
    condition c = {place, *place, row->input_sd[input]};
    if (isnan(c.at))
        c.at = today;
    if (!isnan(c.sd))
        return c;
    c.sd = isnan(*place) ? sd_of_days(t, paths[input], input) : slew_input_sd(input);
    return c;
}

/* a stored time alone has no conditions of today */
static bool has_conditions(const slew_timing *row)
{
    return row->to.kind != SLEW_PLACE_STOW_POINT || !isnan(row->measured[SLEW_MEASURE_ANGLE].value);
}

/* the grease has one temperature on a visit: the least known one counts for all */
double slew_trial_temperature_sd(const slew_trial *t)
{
    double most = 0;
    for (int i = 0; i < t->question->timings->count; i++) {
        slew_timing row = t->question->timings->row[i];
        if (has_conditions(&row))
            most = fmax(most, measured(t, &row, SLEW_INPUT_TEMPERATURE, &row.temperature, 0).sd);
    }
    return most;
}

static condition angle(slew_timing *row, slew_place *place)
{
    double sd = row->input_sd[SLEW_INPUT_ANGLE];
    bool read = place->kind == SLEW_PLACE_ANGLE;
    return (condition){&place->angle, place->angle,
                       !read       ? 0
                       : isnan(sd) ? slew_input_sd(SLEW_INPUT_ANGLE)
                                   : sd};
}

static void list_conditions(const slew_trial *t, slew_timing *row, condition list[CONDITIONS])
{
    slew_setup setup;
    slew_scenario_resolve(t->work, SLEW_OCCASION_STOW, &setup);
    double water = setup.nozzle.flowing ? setup.nozzle.pressure : 0;
    list[0] = measured(t, row, SLEW_INPUT_SUPPLY, &row->supply, setup.supply.main.voltage);
    list[1] = measured(t, row, SLEW_INPUT_PRESSURE, &row->pressure, water);
    list[2] = angle(row, &row->from);
    list[3] = angle(row, &row->to);
    if (!(list[1].at > 0)) /* dry is dry */
        list[1].sd = 0;
    list[1].sd = fmin(list[1].sd, list[1].at / 2);
}

/* by how much the readings of a row change with one sd of a condition; 0 where it can't be told */
static void effect_of(slew_trial *t, const double *value, slew_timing *row, const condition *c,
                      double effect[SLEW_MEASURE_COUNT])
{
    slew_timed side[2];
    double before = *c->place;
    bool there = true;
    for (int i = 0; i < 2; i++) {
        *c->place = c->at + (i == 0 ? -STEP : STEP) * c->sd;
        there = there && slew_trial_row(t, value, row, &side[i], NULL) == SLEW_OK;
    }
    *c->place = before;
    for (int m = 0; m < SLEW_MEASURE_COUNT; m++)
        effect[m] = there ? (side[1].value[m] - side[0].value[m]) / (2 * STEP) : 0;
}

/* adds what one condition does to the readings from `first` on */
static void add_effect(const slew_fit *fit, int first, const double *effect,
                       double covariance[SLEW_READINGS_MAX][SLEW_MEASURE_COUNT])
{
    for (int i = first; i < fit->readings && fit->reading[i].row == fit->reading[first].row; i++)
        for (int k = first; k <= i; k++)
            covariance[i][k - first] +=
                effect[fit->reading[i].measure] * effect[fit->reading[k].measure];
}

void slew_trial_conditions(slew_trial *t, const double *value)
{
    condition list[CONDITIONS];
    double effect[SLEW_MEASURE_COUNT];
    memset(t->by_supply, 0, sizeof t->by_supply);
    memset(t->by_others, 0, sizeof t->by_others);
    for (int i = 0; i < t->out->readings; i++) {
        slew_timing row = t->question->timings->row[t->out->reading[i].row];
        if (slew_trial_first(t->out, i) < i || !has_conditions(&row))
            continue;
        bool supply_read = !isnan(row.supply);
        list_conditions(t, &row, list);
        for (int c = 0; c < CONDITIONS; c++)
            if (list[c].sd > 0) {
                effect_of(t, value, &row, &list[c], effect);
                add_effect(t->out, i, effect, c == 0 && supply_read ? t->by_supply : t->by_others);
            }
    }
}

/* One voltmeter reads the source and the controller, as a rule (common practice): it scatters the
 * same at both. */
double slew_trial_condition(const slew_trial *t, int reading, int k)
{
    double scatter = t->scatter[SLEW_MEASURE_VOLTAGE];
    return scatter * scatter * t->by_supply[reading][k] + t->by_others[reading][k];
}

/* ---- whitening ---- */

static double instrument_variance(const slew_trial *t, int reading)
{
    const slew_fit_reading *r = &t->out->reading[reading];
    double sd = t->scatter[slew_trial_instrument(t, r)] * r->sd;
    return sd * sd / fmax(r->weight, NO_WEIGHT);
}

/* one row of the lower factor of the row's covariance, and of its inverse */
static void whiten(slew_trial *t, int first, int i,
                   double factor[SLEW_MEASURE_COUNT][SLEW_MEASURE_COUNT])
{
    int at = i - first;
    double *own = factor[at], *inverse = t->whitening[i].inverse;
    double variance = slew_trial_condition(t, i, at) + instrument_variance(t, i);
    for (int j = 0; j <= at; j++) {
        double rest = j == at ? variance : slew_trial_condition(t, i, j);
        for (int k = 0; k < j; k++)
            rest -= own[k] * factor[j][k];
        own[j] = j == at ? sqrt(rest) : rest / factor[j][j];
    }
    for (int j = 0; j <= at; j++) {
        inverse[j] = j == at ? 1 : 0;
        for (int k = j; k < at; k++)
            inverse[j] -= own[k] * t->whitening[first + k].inverse[j];
        inverse[j] /= own[at];
    }
}

void slew_trial_whiten(slew_trial *t)
{
    double factor[SLEW_MEASURE_COUNT][SLEW_MEASURE_COUNT] = {0};
    for (int i = 0; i < t->out->readings; i++)
        whiten(t, slew_trial_first(t->out, i), i, factor);
}
