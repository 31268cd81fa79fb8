/* fit_keys.c - which figures are fitted: the keys asked for, and those that float with them. */
#include "study/fit/fit_prior.h"
#include "study/fit/fit_trial.h"

#include "error/error.h"
#include "keys/fields.h"
#include "keys/values.h"

#include <string.h>

const char *slew_fit_name(int key)
{
    static const char *const offsets[] = {[-SLEW_FIT_BIAS] = "stopwatch bias",
                                          [-SLEW_FIT_VOLTAGE_OFFSET] = "voltmeter offset",
                                          [-SLEW_FIT_CURRENT_OFFSET] = "clamp offset",
                                          [-SLEW_FIT_ANGLE_OFFSET] = "angle gauge offset",
                                          [-SLEW_FIT_SUPPLY_OFFSET] = "supply meter offset",
                                          [-SLEW_FIT_TEMPERATURE_OFFSET] = "temperature offset"};
    const slew_key *own = slew_key_at(key);
    return key < 0 && key >= SLEW_FIT_TEMPERATURE_OFFSET ? offsets[-key]
           : own != NULL                                 ? own->path
                                                         : "?";
}

/* ---- what can be fitted ---- */

static bool refuse(slew_error *error, int key, const char *message, const char *expected)
{
    slew_refuse(error, slew_fit_name(key), message, expected);
    return false;
}

/* conductors come in whole gauges */
static bool is_gauge(const slew_key_row *row)
{
    return strcmp(row->key.quantity, "wire gauge") == 0;
}

bool slew_trial_can_be(const slew_trial *t, int key, slew_error *error)
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
    return true;
}

/* ---- figures ---- */

static bool has_figure(const slew_fit *fit, int key)
{
    for (int j = 0; j < fit->figures; j++)
        if (fit->figure[j].key == key)
            return true;
    return false;
}

static void add_figure(slew_trial *t, int key, bool asked, double tolerance)
{
    int at = t->out->figures++;
    slew_fit_figure *f = &t->out->figure[at];
    *f = (slew_fit_figure){.key = key, .asked = asked};
    t->low[at] = -INFINITY;
    t->high[at] = INFINITY;
    if (key >= 0) {
        f->start = slew_scenario_get_number(t->work, key);
        t->low[at] = slew_key_at(key)->low;
        t->high[at] = slew_key_at(key)->high;
    }
    slew_prior_fill(t->work, tolerance, f);
}

slew_status slew_trial_take_keys(slew_trial *t, slew_error *error)
{
    const slew_fit_question *q = t->question;
    static const char expected[] = "1 to 15 keys, for example elevation.motor.no_load_speed";
    if (q->keys < 1 || q->keys > SLEW_FIT_KEYS_MAX)
        return slew_refuse(error, "", q->keys < 1 ? "no key to fit" : "too many keys to fit",
                           expected);
    for (int j = 0; j < q->keys; j++) {
        if (has_figure(t->out, q->key[j]))
            return slew_refuse(error, slew_fit_name(q->key[j]), "is asked for twice", "");
        if (q->key[j] >= 0 && !slew_trial_can_be(t, q->key[j], error))
            return SLEW_ERROR_INPUT;
        add_figure(t, q->key[j], true, q->tolerance[j]);
    }
    return SLEW_OK;
}

/* ---- figures that float ---- */

static void add_floating(slew_trial *t, const char *path)
{
    int key = slew_key_find(path);
    if (t->out->figures < SLEW_FIT_MAX && !has_figure(t->out, key) &&
        slew_trial_can_be(t, key, NULL))
        add_figure(t, key, false, 0);
}

static void add_offset(slew_trial *t, int instrument)
{
    if (t->out->figures < SLEW_FIT_MAX && !has_figure(t->out, instrument))
        add_figure(t, instrument, false, 0);
}

/* offsets of the instruments that were used */
static void add_offsets(slew_trial *t)
{
    for (int i = 0; i < t->out->readings; i++)
        if (slew_trial_instrument(t, &t->out->reading[i]) < SLEW_FIT_STORED)
            add_offset(t, SLEW_FIT_BIAS - (int)t->out->reading[i].measure);
    for (int i = 0; i < t->question->timings->count; i++)
        if (!isnan(t->question->timings->row[i].supply))
            add_offset(t, SLEW_FIT_SUPPLY_OFFSET);
    if (slew_trial_temperature_sd(t) > 0 && t->out->figures < SLEW_FIT_MAX)
        add_figure(t, SLEW_FIT_TEMPERATURE_OFFSET, false, slew_trial_temperature_sd(t));
}

const char *const slew_trial_point[SLEW_AXES] = {"stow.point.rotation", "stow.point.elevation"};
const char *const slew_trial_home[SLEW_AXES] = {"rotation.home.angle", "elevation.home.angle"};

/* what a data sheet says of the motors' currents; where the point was taught; where an axis rests
 * tells where the sensor is too, from which its stored time counts */
void slew_trial_float(slew_trial *t)
{
    static const char *const motor[SLEW_AXES][2] = {
        {"rotation.motor.no_load_current", "rotation.motor.stall_current"},
        {"elevation.motor.no_load_current", "elevation.motor.stall_current"}};
    bool timed[SLEW_AXES] = {false}, run[SLEW_AXES] = {false}, read[SLEW_AXES] = {false};
    for (int i = 0; i < t->question->timings->count; i++) {
        const slew_timing *row = &t->question->timings->row[i];
        if (row->axis == SLEW_NO_AXIS || row->direction == 0)
            continue;
        (slew_timing_is_run(row) ? run : timed)[row->axis] = true;
        read[row->axis] |= !isnan(row->measured[SLEW_MEASURE_ANGLE].value);
    }
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        if (run[axis])
            add_floating(t, slew_trial_point[axis]);
        if (read[axis])
            add_floating(t, slew_trial_home[axis]);
        for (int i = 0; timed[axis] && i < 2; i++)
            add_floating(t, motor[axis][i]);
    }
    add_offsets(t);
}
