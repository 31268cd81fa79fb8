/* fit_rows.c - the rows as readings, and what is wrong with them before anything is fitted. */
#include "study/drive/fastest.h"
#include "study/fit/fit_trial.h"
#include "study/fit/information.h"

#include "error/error.h"

#include <stdio.h>
#include <stdlib.h>

/* a figure that changes no reading by this many sds when it changes by its size has no influence */
static const double NO_INFLUENCE = 1e-3;

/* the step by which that is asked, as a share of the size, and what is left of its derivatives when
 * there are none: times to 1e-9 s of some ten seconds */
static const double STEP = 1e-3, NOISE = 1e-6;

/* a travel counts as too fast if it is so even with this many sds more */
static const double SDS = 3;

/* ---- readings ---- */

static void take_readings(slew_trial *t)
{
    slew_fit *out = t->out;
    out->readings = 0;
    for (int i = 0; i < t->question->timings->count; i++)
        for (slew_measure m = 0; m < SLEW_MEASURE_COUNT; m++) {
            const slew_measured *measured = &t->question->timings->row[i].measured[m];
            if (isnan(measured->value))
                continue;
            out->reading[out->readings++] = (slew_fit_reading){.row = i,
                                                               .measure = m,
                                                               .measured = measured->value,
                                                               .sd = measured->sd,
                                                               .weight = 1};
            out->sds_given |= measured->sd_given;
        }
}

static slew_status check_sds(const slew_trial *t, slew_error *error)
{
    for (int i = 0; i < t->out->readings; i++)
        if (!(t->out->reading[i].sd > 0) || !isfinite(t->out->reading[i].measured))
            return slew_refuse(error, "",
                               "a reading without a value or a standard deviation above 0", "");
    return SLEW_OK;
}

/* ---- how many of them ---- */

static bool same_number(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

static bool same_place(const slew_place *a, const slew_place *b)
{
    return a->kind == b->kind && (a->kind != SLEW_PLACE_ANGLE || a->angle == b->angle);
}

static bool is_alike(const slew_timing *a, const slew_timing *b)
{
    return a->axis == b->axis && a->direction == b->direction && same_place(&a->from, &b->from) &&
           same_place(&a->to, &b->to) && same_number(a->supply, b->supply) &&
           same_number(a->pressure, b->pressure) && same_number(a->temperature, b->temperature) &&
           same_number(a->winding_rise, b->winding_rise);
}

static bool is_new(const slew_trial *t, int reading)
{
    const slew_timing *row = t->question->timings->row;
    const slew_fit_reading *own = &t->out->reading[reading];
    for (int i = 0; i < reading; i++) {
        const slew_fit_reading *other = &t->out->reading[i];
        if (other->measure == own->measure && is_alike(&row[other->row], &row[own->row]))
            return false;
    }
    return true;
}

static slew_status check_count(const slew_trial *t, slew_error *error)
{
    int readings = t->out->readings, figures = t->out->figures, kinds = 0;
    char message[160];
    for (int i = 0; i < readings; i++)
        kinds += is_new(t, i);
    if (readings < figures)
        snprintf(message, sizeof message, "%d reading%s can't tell %d figures", readings,
                 readings == 1 ? "" : "s", figures);
    else if (kinds == 1)
        snprintf(message, sizeof message, "all %d readings are alike: they can't tell %d figures",
                 readings, figures);
    else
        snprintf(message, sizeof message,
                 "%d readings of only %d kinds, the others are alike: they can't tell %d figures",
                 readings, kinds, figures);
    if (kinds >= figures)
        return SLEW_OK;
    return slew_refuse(error, "", message,
                       "fewer keys, or readings at another voltage, direction, place, "
                       "pressure, temperature or warmth of the motor");
}

/* ---- faster than can be ---- */

static double highest_supply(const slew_trial *t, const slew_setup *setup)
{
    double highest = setup->supply.main.voltage;
    if (setup->supply.auxiliary_fitted)
        highest = fmax(highest, setup->supply.auxiliary.voltage);
    for (int i = 0; i < t->question->timings->count; i++)
        highest = fmax(highest, t->question->timings->row[i].supply); /* of NaN the other */
    return highest;
}

static slew_status too_fast(const slew_timing *row, double travel, double limit, double supply,
                            slew_error *error)
{
    char message[256];
    double seconds = row->measured[SLEW_MEASURE_SECONDS].value, speed = travel / seconds;
    snprintf(message, sizeof message,
             "%.4g deg in %.4g s is %.1f deg/s, but at %.4g V the axis can't turn faster than %.1f "
             "deg/s: %.2g times too fast",
             slew_in_degrees(travel), seconds, slew_in_degrees(speed), supply,
             slew_in_degrees(limit), speed / limit);
    slew_refuse(error, "seconds_s", message,
                "another number of seconds or place; or, if the motor is that fast, a "
                "no_load_speed nearer to it to start from");
    if (error)
        error->line = row->line;
    return SLEW_ERROR_INPUT;
}

static slew_status check_speed(const slew_trial *t, const slew_setup *setup, const slew_timing *row,
                               slew_error *error)
{
    slew_timed timed;
    slew_status status = slew_timing_simulate(setup, row, &timed, error);
    const slew_measured *seconds = &row->measured[SLEW_MEASURE_SECONDS];
    if (status != SLEW_OK || isnan(seconds->value))
        return status;
    double supply = highest_supply(t, setup), limit = slew_timing_fastest(setup, row, supply);
    if (fabs(timed.travel) > limit * (seconds->value + SDS * seconds->sd))
        return too_fast(row, fabs(timed.travel), limit, supply, error);
    return SLEW_OK;
}

static slew_status check_rows(const slew_trial *t, slew_error *error)
{
    slew_setup setup;
    slew_scenario_resolve(t->work, SLEW_OCCASION_STOW, &setup);
    slew_status status = SLEW_OK;
    for (int i = 0; i < t->question->timings->count && status == SLEW_OK; i++)
        status = check_speed(t, &setup, &t->question->timings->row[i], error);
    return status;
}

/* ---- influence ---- */

/* the residuals with one figure moved by a share of its size */
static bool move(slew_trial *t, int figure, double share, double *residual)
{
    double value[SLEW_FIT_MAX];
    for (int j = 0; j < t->out->figures; j++)
        value[j] = t->out->figure[j].start;
    value[figure] += share * t->out->figure[figure].size;
    return slew_trial_ask(t, value, residual);
}

/* Derivatives of the residuals by one figure, in units of its size: a column of the Jacobian,
 * central where both ways are possible. `room`: residuals at the start, ahead and behind. false: it
 * can be changed neither way. */
static bool derive(slew_trial *t, int figure, double *room, double *jacobian)
{
    int n = t->out->readings;
    double *ahead = room + n, *behind = ahead + n;
    bool up = move(t, figure, STEP, ahead), down = move(t, figure, -STEP, behind);
    for (int i = 0; i < n; i++)
        jacobian[i * t->out->figures + figure] =
            ((up ? ahead[i] : room[i]) - (down ? behind[i] : room[i])) / (STEP * (up + down));
    return up || down;
}

static double most_of(const slew_trial *t, const double *jacobian, int figure)
{
    double most = 0;
    for (int i = 0; i < t->out->readings; i++)
        most = fmax(most, fabs(jacobian[i * t->out->figures + figure]));
    return most;
}

static slew_status check_influence(slew_trial *t, double *room, slew_error *error)
{
    double *jacobian = room + 3 * t->out->readings;
    if (!move(t, 0, 0, room))
        return slew_refuse(error, "", "the rows can't be simulated with the scenario's figures",
                           "");
    for (int j = 0; j < t->out->figures; j++) {
        const char *name = slew_fit_name(t->out->figure[j].key);
        if (!derive(t, j, room, jacobian))
            return slew_refuse(error, name,
                               "can be changed neither up nor down: the machine would not "
                               "move",
                               "another value to start from");
        if (most_of(t, jacobian, j) < NO_INFLUENCE)
            return slew_refuse(error, name, "has no influence on any of the rows",
                               "rows that depend on it, or a fit without it");
    }
    bool known =
        slew_information_of(jacobian, t->out->readings, t->out->figures, NULL, NOISE, &t->at_start);
    return known ? SLEW_OK : SLEW_ERROR_MEMORY;
}

slew_status slew_trial_take_rows(slew_trial *t, slew_error *error)
{
    take_readings(t);
    slew_status status = check_sds(t, error);
    if (status == SLEW_OK)
        status = check_rows(t, error);
    if (status == SLEW_OK)
        status = check_count(t, error);
    if (status != SLEW_OK)
        return status;
    size_t columns = 3 + (size_t)t->out->figures;
    double *room = malloc(columns * (size_t)t->out->readings * sizeof *room);
    if (room == NULL)
        return SLEW_ERROR_MEMORY;
    status = check_influence(t, room, error);
    free(room);
    return status;
}
