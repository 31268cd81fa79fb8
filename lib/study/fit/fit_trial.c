/* fit_trial.c - the keys that are fitted, and the readings simulated with trial values of them. */
#include "study/fit/fit_trial.h"

#include "error/error.h"
#include "keys/fields.h"
#include "keys/values.h"

#include <string.h>

/* the temperature is compared with a step of this, not with its distance from absolute zero [K] */
static const double TEMPERATURE_STEP = 10;

/* the time by which a hand on a stopwatch is wrong, as a size [s]; common practice */
static const double BIAS_SIZE = 0.2;

/* a start below this share of the key's example is next to nothing */
static const double NEXT_TO_NOTHING = 0.1;

/* ---- simulating ---- */

/* false: a value that its key does not take */
static bool set_values(slew_trial *t, const double *value)
{
    for (int j = 0; j < t->out->figures; j++) {
        int key = t->out->figure[j].key;
        if (key != SLEW_FIT_BIAS &&
            slew_scenario_set_number(t->work, SLEW_LAYER_FILE, key, value[j]) != SLEW_OK)
            return false;
    }
    return true;
}

static double bias_of(const slew_trial *t, const double *value)
{
    for (int j = 0; j < t->out->figures; j++)
        if (t->out->figure[j].key == SLEW_FIT_BIAS)
            return value[j];
    return 0;
}

static slew_status resolve(slew_trial *t, const double *value, slew_setup *setup, slew_error *error)
{
    if (!set_values(t, value))
        return slew_refuse(error, "", "a value out of its range", "");
    slew_scenario_resolve(t->work, SLEW_OCCASION_STOW, setup);
    return SLEW_OK;
}

static double shown(const slew_timed *timed, slew_measure measure, double bias)
{
    return timed->value[measure] + (measure == SLEW_MEASURE_SECONDS ? bias : 0);
}

/* a row is simulated once for all of its readings, which stand together */
slew_status slew_trial_simulate(slew_trial *t, const double *value, double *simulated,
                                slew_error *error)
{
    slew_setup setup;
    slew_timed timed;
    int last = -1;
    slew_status status = resolve(t, value, &setup, error);
    for (int i = 0; i < t->out->readings && status == SLEW_OK; i++) {
        const slew_fit_reading *reading = &t->out->reading[i];
        if (reading->row != last)
            status = slew_timing_simulate(&setup, &t->question->timings->row[reading->row], &timed,
                                          error);
        last = reading->row;
        simulated[i] = shown(&timed, reading->measure, bias_of(t, value));
    }
    return status;
}

slew_status slew_trial_reading(slew_trial *t, const double *value, const slew_timing *row,
                               slew_measure measure, double *simulated, slew_error *error)
{
    slew_setup setup;
    slew_timed timed;
    slew_status status = resolve(t, value, &setup, error);
    if (status == SLEW_OK)
        status = slew_timing_simulate(&setup, row, &timed, error);
    if (status == SLEW_OK)
        *simulated = shown(&timed, measure, bias_of(t, value));
    return status;
}

bool slew_trial_ask(void *trial, const double *value, double *residual)
{
    slew_trial *t = trial;
    if (slew_trial_simulate(t, value, residual, NULL) != SLEW_OK)
        return false;
    for (int i = 0; i < t->out->readings; i++)
        residual[i] = (residual[i] - t->out->reading[i].measured) / t->out->reading[i].sd;
    return true;
}

/* ---- keys ---- */

const char *slew_fit_name(int key)
{
    const slew_key *own = slew_key_at(key);
    return key == SLEW_FIT_BIAS ? "stopwatch bias" : own != NULL ? own->path : "?";
}

/* of the key's example, in SI; examples are written in units of the table */
static double size_of_example(const slew_key_row *row)
{
    slew_units none = {0};
    slew_error error;
    double value = 0;
    const slew_unit *unit = slew_unit_find(row->key.unit);
    if (slew_value_read(&none, row, row->key.example, &value, &error) && value != 0)
        return fabs(value);
    return unit != NULL ? fabs(slew_unit_to_si(unit, 1) - slew_unit_to_si(unit, 0)) : 1;
}

static double size_of(const slew_key_row *row, double start)
{
    if (strcmp(row->key.quantity, "temperature") == 0)
        return TEMPERATURE_STEP;
    double example = size_of_example(row);
    return fabs(start) > NEXT_TO_NOTHING * example ? fabs(start) : example;
}

static slew_status refuse(slew_error *error, int key, const char *message, const char *expected)
{
    return slew_refuse(error, slew_fit_name(key), message, expected);
}

/* conductors come in whole gauges */
static bool is_gauge(const slew_key_row *row)
{
    return strcmp(row->key.quantity, "wire gauge") == 0;
}

static slew_status check_key(const slew_trial *t, int key, slew_error *error)
{
    static const char other[] = "a key with a number, for example elevation.motor.no_load_speed";
    const slew_key_row *row = slew_key_row_at(key);
    if (row->key.kind != SLEW_KEY_NUMBER)
        return refuse(error, key, "is no number, so it can't be fitted", other);
    if (row->offset == SLEW_NO_FIELD || row->bounds_only || is_gauge(row))
        return refuse(error, key, "has no values in between, so it can't be fitted", other);
    double start = slew_scenario_get_number(t->work, key);
    if (!isfinite(start) || !slew_value_allowed(row, start))
        return refuse(error, key, "has no value in the scenario to start from",
                      "its value in the scenario, or --set");
    if (slew_layer_holds(slew_layer_at(t->work, SLEW_LAYER_TODAY), key))
        return refuse(error, key, "is hidden by today, which holds this key too",
                      "the key in the file alone: that is where it is fitted");
    return SLEW_OK;
}

static slew_status take_key(slew_trial *t, int at, int key, slew_error *error)
{
    slew_fit_figure *figure = &t->out->figure[at];
    for (int j = 0; j < at; j++)
        if (t->out->figure[j].key == key)
            return refuse(error, key, "is asked for twice", "");
    *figure = (slew_fit_figure){.key = key, .size = BIAS_SIZE};
    t->low[at] = -INFINITY;
    t->high[at] = INFINITY;
    if (key == SLEW_FIT_BIAS)
        return SLEW_OK;
    slew_status status = check_key(t, key, error);
    if (status != SLEW_OK)
        return status;
    const slew_key_row *row = slew_key_row_at(key);
    figure->start = slew_scenario_get_number(t->work, key);
    figure->size = size_of(row, figure->start);
    t->low[at] = row->key.low;
    t->high[at] = row->key.high;
    return SLEW_OK;
}

slew_status slew_trial_take_keys(slew_trial *t, slew_error *error)
{
    const slew_fit_question *q = t->question;
    static const char expected[] = "1 to 16 keys, for example elevation.motor.no_load_speed";
    if (q->keys < 1 || q->keys > SLEW_FIT_MAX)
        return slew_refuse(error, "", q->keys < 1 ? "no key to fit" : "too many keys to fit",
                           expected);
    for (int j = 0; j < q->keys; j++) {
        t->out->figures = j;
        slew_status status = take_key(t, j, q->key[j], error);
        if (status != SLEW_OK)
            return status;
    }
    t->out->figures = q->keys;
    return SLEW_OK;
}
