/* fields.c - one key, one place in the scenario: putting and getting numbers, layer by layer. */
#include "keys/fields.h"

#include "slewtime/physics.h"

#include <string.h>

_Static_assert(sizeof(slew_nozzle_kind) == sizeof(int) && sizeof(slew_reaction_form) == sizeof(int),
               "a choice is kept in an int");
_Static_assert(sizeof(slew_stop_mode) == sizeof(int) && sizeof(slew_approach) == sizeof(int) &&
                   sizeof(slew_order) == sizeof(int),
               "a choice is kept in an int");

/* ---- one field ---- */

static void write_field(void *field, slew_key_kind kind, double value)
{
    if (kind == SLEW_KEY_NUMBER) {
        memcpy(field, &value, sizeof value);
    } else if (kind == SLEW_KEY_YES_NO) {
        bool yes = value == 1;
        memcpy(field, &yes, sizeof yes);
    } else if (kind == SLEW_KEY_CHOICE && isfinite(value)) {
        int word = (int)value;
        memcpy(field, &word, sizeof word);
    }
}

static double read_choice(const slew_key_row *row, int word)
{
    const char *words = row->key.words;
    size_t length;
    for (int i = 0; slew_word_next(&words, &length) != NULL; i++)
        if (row->values[i] == word)
            return word;
    return SLEW_NOT_GIVEN;
}

static double read_field(const void *field, const slew_key_row *row)
{
    double value = SLEW_NOT_GIVEN;
    bool yes = false;
    int word = 0;
    switch (row->key.kind) {
    case SLEW_KEY_NUMBER:
        memcpy(&value, field, sizeof value);
        return value;
    case SLEW_KEY_YES_NO:
        memcpy(&yes, field, sizeof yes);
        return yes ? 1 : 0;
    case SLEW_KEY_CHOICE:
        memcpy(&word, field, sizeof word);
        return read_choice(row, word);
    default:
        return value;
    }
}

/* ---- effects ---- */

static void choose_conductor(slew_feed *feed, slew_effect effect)
{
    if (effect == SLEW_EFFECT_GAUGE)
        feed->conductor = SLEW_CONDUCTOR_GAUGE;
    else if (effect == SLEW_EFFECT_AREA)
        feed->conductor = SLEW_CONDUCTOR_AREA;
    else if (effect == SLEW_EFFECT_PER_LENGTH)
        feed->conductor = SLEW_CONDUCTOR_PER_LENGTH;
    else
        return;
    feed->gauge = feed->area = feed->per_length = SLEW_NOT_GIVEN;
}

static const slew_magnet no_magnet = {
    .remanence = NAN,
    .diameter = NAN,
    .length = NAN,
    .radius = NAN,
    .gap = NAN,
    .operate_flux = NAN,
    .release_flux = NAN,
};

/* what is set last counts: a window, or a magnet that gives it */
static void choose_window(slew_setup *setup, int axis, slew_effect effect)
{
    if (effect == SLEW_EFFECT_WINDOW)
        setup->axis[axis].home.magnet = no_magnet;
    else if (effect == SLEW_EFFECT_MAGNET)
        setup->axis[axis].home.magnet.given = true;
}

static void note_given(slew_scenario *scenario, slew_effect effect)
{
    scenario->stow.has_point |= effect == SLEW_EFFECT_POINT;
    scenario->stow.has_times |= effect == SLEW_EFFECT_TIMES;
    scenario->deploy.given |= effect == SLEW_EFFECT_DEPLOY;
}

/* ---- the file ---- */

static void put_condition(slew_setup *setup, int key, double value)
{
    const slew_key_row *row = slew_key_row_at(key);
    size_t offset = row->offset - offsetof(slew_scenario, setup);
    choose_conductor(&setup->supply.feed, row->effect);
    choose_window(setup, slew_key_axis(key), row->effect);
    write_field((char *)setup + offset, row->key.kind, value);
}

static void put_in_file(slew_scenario *scenario, int key, double value)
{
    const slew_key_row *row = slew_key_row_at(key);
    if (row->offset == SLEW_NO_FIELD)
        return;
    if (row->key.layered) {
        put_condition(&scenario->setup, key, value);
        return;
    }
    note_given(scenario, row->effect);
    write_field((char *)scenario + row->offset, row->key.kind, value);
}

int slew_field_axis(int key)
{
    return slew_key_row_at(key)->offset == offsetof(slew_scenario, deploy.choices[SLEW_ROTATION])
               ? SLEW_ROTATION
               : SLEW_ELEVATION;
}

void slew_field_put_choices(slew_scenario *scenario, int key, const double *value, int count)
{
    int axis = slew_field_axis(key);
    for (int i = 0; i < count; i++)
        scenario->deploy.choices[axis][i] = value[i];
    scenario->deploy.choice_count[axis] = count;
    scenario->deploy.given = true;
}

/* ---- layers ---- */

const char *slew_layer_word(slew_layer_id layer)
{
    static const char *const words[] = {"", "teach", "today", "deploy_day"};
    return (unsigned)layer < sizeof words / sizeof *words ? words[layer] : "?";
}

const slew_layer *slew_layer_at(const slew_scenario *scenario, slew_layer_id layer)
{
    if (scenario == NULL)
        return NULL;
    switch (layer) {
    case SLEW_LAYER_TEACH:
        return &scenario->teach;
    case SLEW_LAYER_TODAY:
        return &scenario->today;
    case SLEW_LAYER_DEPLOY_DAY:
        return &scenario->deploy_day;
    default:
        return NULL;
    }
}

static slew_layer *layer_to_change(slew_scenario *scenario, slew_layer_id layer)
{
    return layer == SLEW_LAYER_TEACH   ? &scenario->teach
           : layer == SLEW_LAYER_TODAY ? &scenario->today
                                       : &scenario->deploy_day;
}

static int position(const slew_layer *layer, int key)
{
    for (int i = 0; i < layer->count; i++)
        if (layer->item[i].key == key || slew_key_excludes(layer->item[i].key, key))
            return i;
    return layer->count;
}

/* takes out what the key takes the place of */
static void clear_for(slew_layer *layer, int key)
{
    int kept = 0;
    for (int i = 0; i < layer->count; i++)
        if (!slew_key_excludes(layer->item[i].key, key))
            layer->item[kept++] = layer->item[i];
    layer->count = kept;
}

bool slew_layer_holds(const slew_layer *layer, int key)
{
    for (int i = 0; layer != NULL && i < layer->count; i++)
        if (layer->item[i].key == key)
            return true;
    return false;
}

static void put_in_layer(slew_layer *layer, int key, double value)
{
    clear_for(layer, key);
    int at = position(layer, key);
    if (at >= SLEW_OVERRIDES_MAX)
        return;
    layer->item[at] = (slew_override){key, value};
    if (at == layer->count)
        layer->count++;
}

bool slew_layer_takes(const slew_scenario *scenario, slew_layer_id layer, int key)
{
    const slew_key *own = slew_key_at(key);
    const slew_layer *overrides = slew_layer_at(scenario, layer);
    if (layer < SLEW_LAYER_FILE || layer > SLEW_LAYER_DEPLOY_DAY)
        return false;
    if (own == NULL || own->kind == SLEW_KEY_TEXT || own->kind == SLEW_KEY_LIST ||
        own->kind == SLEW_KEY_STRUCTURE)
        return false;
    return overrides == NULL || (own->layered && position(overrides, key) < SLEW_OVERRIDES_MAX);
}

void slew_field_put(slew_scenario *scenario, slew_layer_id layer, int key, double value)
{
    if (layer == SLEW_LAYER_FILE)
        put_in_file(scenario, key, value);
    else
        put_in_layer(layer_to_change(scenario, layer), key, value);
}

double slew_field_get(const slew_scenario *scenario, const slew_setup *setup, int key)
{
    const slew_key_row *row = slew_key_row_at(key);
    if (row->offset == SLEW_NO_FIELD)
        return SLEW_NOT_GIVEN;
    if (!row->key.layered)
        return read_field((const char *)scenario + row->offset, row);
    return read_field((const char *)setup + (row->offset - offsetof(slew_scenario, setup)), row);
}

/* ---- occasions ---- */

const slew_layer_id *slew_occasion_layers(slew_occasion occasion, int *count)
{
    static const slew_layer_id teach[] = {SLEW_LAYER_TEACH};
    static const slew_layer_id later[] = {SLEW_LAYER_TODAY, SLEW_LAYER_DEPLOY_DAY};
    *count = occasion == SLEW_OCCASION_DEPLOY ? 2 : 1;
    return occasion == SLEW_OCCASION_TEACH ? teach : later;
}

static void apply(slew_setup *setup, const slew_layer *layer)
{
    for (int i = 0; layer != NULL && i < layer->count; i++)
        put_condition(setup, layer->item[i].key, layer->item[i].value);
}

static void fill_in(slew_setup *setup)
{
    double times = setup->supply.system > 18 ? 2 : 1;
    if (isnan(setup->supply.floor))
        setup->supply.floor = times > 1 ? 22 : 10.5;
    if (isnan(setup->controller.brownout_voltage))
        setup->controller.brownout_voltage = 9 * times;
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        slew_gear *gear = &setup->axis[axis].gear;
        if (isnan(gear->backward_efficiency))
            gear->backward_efficiency = slew_backward_efficiency(gear->efficiency);
    }
}

void slew_scenario_resolve(const slew_scenario *scenario, slew_occasion occasion, slew_setup *out)
{
    if (scenario == NULL || out == NULL)
        return;
    int count;
    const slew_layer_id *layers = slew_occasion_layers(occasion, &count);
    *out = scenario->setup;
    for (int i = 0; i < count; i++)
        apply(out, slew_layer_at(scenario, layers[i]));
    fill_in(out);
}
