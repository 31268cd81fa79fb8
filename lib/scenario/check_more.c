/* check_more.c - keep-out boxes, distributions, and what is right but doubtful. */
#include <stdio.h>

#include "scenario/check.h"
#include "scenario/fields.h"
#include "scenario/text.h"
#include "scenario/values.h"

/* ---- keep-out boxes ---- */

static void check_box(const slew_checker *c, int index)
{
    const slew_keepout_box *box = &c->scenario->keepout.box[index];
    static const char *const path[SLEW_AXES] = {"keepout.rotation", "keepout.elevation"};
    for (int axis = 0; axis < SLEW_AXES; axis++)
        if (box->axis[axis].low > box->axis[axis].high) {
            char message[160];
            slew_say(message, sizeof message, "low is above high in box \"%s\"", box->name);
            slew_report_say(c->errors, c->marks ? c->marks->box[index] : (slew_mark){0}, path[axis],
                            message);
        }
}

void slew_check_boxes(const slew_checker *c)
{
    for (int i = 0; i < c->scenario->keepout.count; i++)
        check_box(c, i);
}

/* ---- distributions ---- */

static const char *fault_of(const slew_variation *v)
{
    switch (v->distribution) {
    case SLEW_UNIFORM:
        return v->low < v->high ? NULL : "low is not below high";
    case SLEW_NORMAL:
        return !(v->sd > 0)          ? "sd is not above zero"
               : !(v->low < v->high) ? "low is not below high"
               : v->mean < v->low    ? "mean is below low"
               : v->mean > v->high   ? "mean is above high"
                                     : NULL;
    case SLEW_TRIANGULAR:
        return !(v->low < v->high) ? "low is not below high"
               : v->mode < v->low  ? "mode is below low"
               : v->mode > v->high ? "mode is above high"
                                   : NULL;
    default:
        return v->count > 0 ? NULL : "no values";
    }
}

/* least and greatest value that is drawn */
static slew_range extent(const slew_variation *v)
{
    slew_range range = {v->low, v->high};
    for (int i = 0; v->distribution == SLEW_TABLE && i < v->count; i++) {
        range.low = i == 0 ? v->value[i] : fmin(range.low, v->value[i]);
        range.high = i == 0 ? v->value[i] : fmax(range.high, v->value[i]);
    }
    return range;
}

static bool starts_within(const slew_axis_setup *axis)
{
    return axis->stops.low <= axis->start && axis->start <= axis->stops.high;
}

/* a start that is drawn beyond a stop; a normal without ends of its own is left alone, and so is
 * one whose own start is wrong already */
static const char *beyond_a_stop(const slew_setup *setup, const slew_variation *v)
{
    static const char *const starts[SLEW_AXES] = {"rotation.start", "elevation.start"};
    slew_range drawn = extent(v);
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        const slew_range *stops = &setup->axis[axis].stops;
        if (v->key != slew_key_find(starts[axis]) || !starts_within(&setup->axis[axis]))
            continue;
        if (isfinite(drawn.low) && drawn.low < stops->low)
            return "reaches beyond the low stop";
        if (isfinite(drawn.high) && drawn.high > stops->high)
            return "reaches beyond the high stop";
    }
    return NULL;
}

/* one that would take the place of what the scenario says, or that lacks its fellows */
static const char *without_effect(const slew_setup *setup, const slew_variation *v)
{
    slew_effect effect = slew_key_row_at(v->key)->effect;
    bool window = effect == SLEW_EFFECT_WINDOW, magnet = effect == SLEW_EFFECT_MAGNET;
    if (!window && !magnet)
        return NULL;
    bool given = setup->axis[slew_key_axis(v->key)].home.magnet.given;
    return window && given    ? "a magnet gives it: vary the figures of the magnet instead"
           : magnet && !given ? "no magnet is given that could vary"
                              : NULL;
}

static void check_variations(const slew_checker *c, const slew_spread *spread,
                             const slew_setup *setup, const slew_mark *marks)
{
    for (int i = 0; i < spread->count; i++) {
        const char *fault = fault_of(&spread->item[i]);
        if (fault == NULL)
            fault = beyond_a_stop(setup, &spread->item[i]);
        if (fault == NULL)
            fault = without_effect(setup, &spread->item[i]);
        const slew_key *key = slew_key_at(spread->item[i].key);
        if (fault != NULL)
            slew_report_say(c->errors, marks ? marks[i] : (slew_mark){0}, key ? key->path : NULL,
                            fault);
    }
}

void slew_check_spread(const slew_checker *c)
{
    slew_setup today;
    slew_scenario_resolve(c->scenario, SLEW_OCCASION_STOW, &today);
    check_variations(c, &c->scenario->truck, &c->scenario->setup,
                     c->marks ? c->marks->truck : NULL);
    check_variations(c, &c->scenario->day, &today, c->marks ? c->marks->day : NULL);
}

/* ---- warnings ---- */

/* below it the viscosity line of a thick oil is an extrapolation past the pour point */
static const double COLD = 253.15;    /* [K] */
static const double THICK = 50e-6;    /* at 40 degC [m2/s] */
static const double ROUND_OFF = 1e-9; /* relative; of a value that stands on the limit */

static bool is_cold_and_thick(const slew_setup *setup)
{
    return setup->environment.temperature < COLD * (1 - ROUND_OFF) &&
           setup->grease.viscosity_40 > THICK * (1 + ROUND_OFF);
}

static void warn_of_cold(const slew_checker *c)
{
    int key = slew_key_find("environment.temperature");
    bool told[SLEW_LAYERS] = {false};
    for (slew_occasion o = SLEW_OCCASION_TEACH; o <= SLEW_OCCASION_DEPLOY; o++) {
        slew_setup setup;
        int count;
        const slew_layer_id *layers = slew_occasion_layers(o, &count);
        slew_layer_id layer = slew_checker_layer(c, layers, count, key);
        slew_scenario_resolve(c->scenario, o, &setup);
        if (is_cold_and_thick(&setup) && !told[layer])
            slew_report_say(c->warnings, slew_checker_mark(c, layer, key), slew_key_at(key)->path,
                            "below -20 degC the viscosity of so thick a grease is extrapolated");
        told[layer] |= is_cold_and_thick(&setup);
    }
}

static bool hides(const slew_layer *layer, int key)
{
    for (int i = 0; i < layer->count; i++) {
        int other = layer->item[i].key;
        if (other == key || slew_key_excludes(key, other))
            return true;
    }
    return false;
}

/* what was set in the file from outside has no effect where a layer holds the same key */
static void warn_of_hidden(const slew_checker *c, int key)
{
    slew_mark mark = slew_checker_mark(c, SLEW_LAYER_FILE, key);
    for (slew_layer_id l = SLEW_LAYER_TEACH; l <= SLEW_LAYER_DEPLOY_DAY; l++) {
        char message[96];
        if (mark.source < SLEW_FROM_ASSIGNMENT || !hides(slew_layer_at(c->scenario, l), key))
            continue;
        slew_say(message, sizeof message, "hidden by %s, which holds this key too",
                 slew_layer_word(l));
        slew_report_say(c->warnings, mark, slew_key_at(key)->path, message);
    }
}

void slew_check_warnings(const slew_checker *c)
{
    warn_of_cold(c);
    for (int i = 0; i < slew_key_count(); i++)
        warn_of_hidden(c, i);
}
