/*
 * hash.c - a fingerprint of what a scenario says beyond its defaults.
 *
 * What is as it would be if nothing were said does not go in, so that a key which the table gains
 * later leaves the hash of every scenario alone that does not use it.
 *
 * FNV-1a, 64 bit: G. Fowler, L. C. Noll, K.-P. Vo, D. Eastlake, "The FNV Non-Cryptographic Hash
 * Algorithm", IETF draft. Keys go in by their paths, numbers by their bits, lowest byte first, so
 * that the machine does not matter.
 */
#include <string.h>

#include "keys/fields.h"

#include "keys/sound.h"

static const uint64_t START = 0xcbf29ce484222325u, PRIME = 0x100000001b3u;

/* ---- bytes, words, numbers ---- */

static void add_byte(uint64_t *hash, unsigned byte)
{
    *hash = (*hash ^ byte) * PRIME;
}

/* with its end, so that "ab" "c" is not "a" "bc" */
static void add_text(uint64_t *hash, const char *text)
{
    for (; *text != '\0'; text++)
        add_byte(hash, (unsigned char)*text);
    add_byte(hash, 0);
}

/* 0 and -0 are one number, and so are all NaNs */
static void add_number(uint64_t *hash, double value)
{
    const uint64_t not_given = 0x7ff8000000000000u;
    uint64_t bits;
    value += 0.0;
    memcpy(&bits, &value, sizeof bits);
    if (isnan(value))
        bits = not_given;
    for (int shift = 0; shift < 64; shift += 8)
        add_byte(hash, bits >> shift & 0xff);
}

static void add_pair(uint64_t *hash, double a, double b)
{
    add_number(hash, a);
    add_number(hash, b);
}

static void add_key(uint64_t *hash, int key, double value)
{
    add_text(hash, slew_key_at(key)->path);
    add_number(hash, value);
}

/* ---- keys ---- */

typedef struct views {
    slew_setup own;     /* the file's, with the defaults that depend on others filled in */
    slew_setup by_rule; /* the same, where every key is left out whose default does so */
    slew_scenario fresh;
} views;

/* of a key whose default depends on other keys: floor, brownout, backward efficiency */
static bool has_rule(const slew_key_row *row)
{
    return row->initial == SLEW_INITIAL_NOT_GIVEN && row->effect == SLEW_EFFECT_NOTHING &&
           row->key.layered && !row->key.required;
}

static void look_at(const slew_scenario *s, views *v)
{
    slew_scenario *file = &v->fresh;
    *file = *s;
    file->teach.count = file->today.count = file->deploy_day.count = 0;
    slew_scenario_resolve(file, SLEW_OCCASION_STOW, &v->own);
    for (int key = 0; key < slew_key_count(); key++)
        if (has_rule(slew_key_row_at(key)))
            slew_field_put(file, SLEW_LAYER_FILE, key, SLEW_NOT_GIVEN);
    slew_scenario_resolve(file, SLEW_OCCASION_STOW, &v->by_rule);
    slew_scenario_init(&v->fresh);
}

/* what does not count says nothing, whatever its field holds: a window that a magnet gives, a
 * conductor size beside the one in use, a point where there is none */
static bool counts(const slew_scenario *s, int key)
{
    const slew_key_row *row = slew_key_row_at(key);
    slew_conductor size = s->setup.supply.feed.conductor;
    switch (row->effect) {
    case SLEW_EFFECT_GAUGE:
        return size == SLEW_CONDUCTOR_GAUGE;
    case SLEW_EFFECT_AREA:
        return size == SLEW_CONDUCTOR_AREA;
    case SLEW_EFFECT_PER_LENGTH:
        return size == SLEW_CONDUCTOR_PER_LENGTH;
    case SLEW_EFFECT_POINT:
        return s->stow.has_point;
    case SLEW_EFFECT_TIMES:
        return s->stow.has_times;
    case SLEW_EFFECT_DEPLOY:
        return s->deploy.given;
    case SLEW_EFFECT_WINDOW:
        return !s->setup.axis[slew_key_axis(key)].home.magnet.given;
    case SLEW_EFFECT_MAGNET:
        return s->setup.axis[slew_key_axis(key)].home.magnet.given;
    case SLEW_EFFECT_SHOWN:
        return false;
    default:
        return true;
    }
}

static void add_value(uint64_t *hash, const slew_scenario *s, const views *v, int key)
{
    bool rule = has_rule(slew_key_row_at(key));
    double value = slew_field_get(s, &v->own, key);
    double unsaid = rule ? slew_field_get(s, &v->by_rule, key)
                         : slew_field_get(&v->fresh, &v->fresh.setup, key);
    if (value != unsaid && !(isnan(value) && isnan(unsaid)))
        add_key(hash, key, value);
}

/* without a list the seconds alone */
static void add_choices(uint64_t *hash, const slew_deploy *deploy, int key)
{
    int axis = slew_field_axis(key), count = deploy->choice_count[axis];
    const double *choice = deploy->choices[axis];
    if (count == 0 || (count == 1 && choice[0] == deploy->seconds[axis]))
        return;
    add_key(hash, key, count);
    for (int i = 0; i < count; i++)
        add_number(hash, choice[i]);
}

static void add_keys(uint64_t *hash, const slew_scenario *s)
{
    views v;
    look_at(s, &v);
    for (int key = 0; key < slew_key_count(); key++) {
        slew_key_kind kind = slew_key_at(key)->kind;
        if (!counts(s, key))
            continue;
        if (kind == SLEW_KEY_LIST)
            add_choices(hash, &s->deploy, key);
        else if (kind != SLEW_KEY_TEXT && kind != SLEW_KEY_STRUCTURE)
            add_value(hash, s, &v, key);
    }
}

/* ---- structures ---- */

static void add_boxes(uint64_t *hash, const slew_keepout *keepout)
{
    for (int i = 0; i < keepout->count; i++) {
        add_text(hash, "keepout");
        add_text(hash, keepout->box[i].name);
        for (int axis = 0; axis < SLEW_AXES; axis++)
            add_pair(hash, keepout->box[i].axis[axis].low, keepout->box[i].axis[axis].high);
    }
}

/* in the order of the table: that in which the keys were set does not matter */
static void add_layer(uint64_t *hash, const slew_scenario *s, slew_layer_id id)
{
    const slew_layer *layer = slew_layer_at(s, id);
    for (int key = 0; key < slew_key_count(); key++)
        for (int i = 0; i < layer->count; i++)
            if (layer->item[i].key == key) {
                add_text(hash, slew_layer_word(id));
                add_key(hash, key, layer->item[i].value);
            }
}

static void add_variation(uint64_t *hash, const slew_variation *v)
{
    add_key(hash, v->key, v->distribution);
    add_pair(hash, v->low, v->high);
    if (v->distribution == SLEW_NORMAL)
        add_pair(hash, v->mean, v->sd);
    if (v->distribution == SLEW_TRIANGULAR)
        add_number(hash, v->mode);
    if (v->distribution == SLEW_TABLE)
        add_number(hash, v->count);
    for (int i = 0; i < v->count; i++)
        add_pair(hash, v->value[i], v->weight[i]);
}

/* in the order of the file: it says which number of a sample is whose */
static void add_spread(uint64_t *hash, const char *name, const slew_spread *spread)
{
    for (int i = 0; i < spread->count; i++) {
        add_text(hash, name);
        add_variation(hash, &spread->item[i]);
    }
}

/* a pair counts either way round */
static void add_correlations(uint64_t *hash, const slew_correlations *all)
{
    for (int i = 0; i < all->count; i++) {
        const slew_correlation *c = &all->item[i];
        int first = c->key[0] < c->key[1] ? 0 : 1;
        add_text(hash, "spread.correlation");
        add_text(hash, slew_key_at(c->key[first])->path);
        add_key(hash, c->key[!first], c->coefficient);
    }
}

uint64_t slew_scenario_hash(const slew_scenario *s)
{
    if (!slew_has_shape(s, NULL))
        return 0;
    uint64_t hash = START;
    add_keys(&hash, s);
    add_boxes(&hash, &s->keepout);
    for (slew_layer_id layer = SLEW_LAYER_TEACH; layer <= SLEW_LAYER_DEPLOY_DAY; layer++)
        add_layer(&hash, s, layer);
    add_spread(&hash, "spread.truck", &s->truck);
    add_spread(&hash, "spread.day", &s->day);
    add_correlations(&hash, &s->correlation);
    return hash;
}
