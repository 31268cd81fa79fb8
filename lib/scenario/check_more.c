/* check_more.c - keep-out boxes, and what is right but doubtful. */
#include <stdio.h>

#include "keys/fields.h"
#include "keys/text.h"
#include "keys/values.h"
#include "scenario/check.h"

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
