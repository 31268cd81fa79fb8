/*
 * hash.c - a fingerprint of everything a scenario says.
 *
 * FNV-1a, 64 bit: G. Fowler, L. C. Noll, K.-P. Vo, D. Eastlake, "The FNV Non-Cryptographic Hash
 * Algorithm", IETF draft. Numbers go in by their bits, lowest byte first, so that the machine does
 * not matter; keys by their paths, so that the place of a key in the table does not.
 */
#include <string.h>

#include "keys/fields.h"

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

/* ---- parts of a scenario ---- */

/* a magnet that is not there says nothing */
static bool says_something(int key, double value)
{
    const slew_key_row *row = slew_key_row_at(key);
    bool stored = row->offset != SLEW_NO_FIELD && row->key.kind != SLEW_KEY_TEXT;
    return stored && !(row->effect == SLEW_EFFECT_MAGNET && isnan(value));
}

static void add_keys(uint64_t *hash, const slew_scenario *s, const slew_setup *filled)
{
    for (int i = 0; i < slew_key_count(); i++) {
        double value = slew_field_get(s, filled, i);
        if (!says_something(i, value))
            continue;
        add_text(hash, slew_key_at(i)->path);
        add_number(hash, value);
    }
    add_number(hash, filled->supply.feed.conductor);
    add_number(hash, s->stow.has_times);
    add_number(hash, s->deploy.given);
}

static void add_choices(uint64_t *hash, const slew_deploy *deploy)
{
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        add_number(hash, deploy->choice_count[axis]);
        for (int i = 0; i < deploy->choice_count[axis]; i++)
            add_number(hash, deploy->choices[axis][i]);
    }
}

static void add_boxes(uint64_t *hash, const slew_keepout *keepout)
{
    for (int i = 0; i < keepout->count; i++) {
        add_text(hash, keepout->box[i].name);
        for (int axis = 0; axis < SLEW_AXES; axis++)
            add_pair(hash, keepout->box[i].axis[axis].low, keepout->box[i].axis[axis].high);
    }
}

/* in the order of the table: that in which the keys were set does not matter */
static void add_layer(uint64_t *hash, const slew_layer *layer)
{
    for (int key = 0; key < slew_key_count(); key++)
        for (int i = 0; i < layer->count; i++)
            if (layer->item[i].key == key) {
                add_text(hash, slew_key_at(key)->path);
                add_number(hash, layer->item[i].value);
            }
    add_text(hash, "");
}

static void add_variation(uint64_t *hash, const slew_variation *v)
{
    add_text(hash, slew_key_at(v->key)->path);
    add_number(hash, v->distribution);
    add_pair(hash, v->low, v->high);
    if (v->distribution == SLEW_NORMAL)
        add_pair(hash, v->mean, v->sd);
    if (v->distribution == SLEW_TRIANGULAR)
        add_number(hash, v->mode);
    for (int i = 0; i < v->count; i++)
        add_pair(hash, v->value[i], v->weight[i]);
}

/* in the order of the file: it says which number of a sample is whose */
static void add_spread(uint64_t *hash, const slew_spread *spread)
{
    for (int i = 0; i < spread->count; i++)
        add_variation(hash, &spread->item[i]);
    add_text(hash, "");
}

/* a pair counts either way round */
static void add_correlations(uint64_t *hash, const slew_correlations *all)
{
    for (int i = 0; i < all->count; i++) {
        const slew_correlation *c = &all->item[i];
        int first = c->key[0] < c->key[1] ? 0 : 1;
        add_text(hash, slew_key_at(c->key[first])->path);
        add_text(hash, slew_key_at(c->key[!first])->path);
        add_number(hash, c->coefficient);
    }
}

/* the file's own values, with the defaults that depend on others filled in */
static void fill_in(const slew_scenario *scenario, slew_setup *out)
{
    slew_scenario bare = *scenario;
    bare.teach.count = bare.today.count = bare.deploy_day.count = 0;
    slew_scenario_resolve(&bare, SLEW_OCCASION_STOW, out);
}

uint64_t slew_scenario_hash(const slew_scenario *s)
{
    uint64_t hash = START;
    slew_setup filled;
    fill_in(s, &filled);
    add_keys(&hash, s, &filled);
    add_choices(&hash, &s->deploy);
    add_boxes(&hash, &s->keepout);
    add_layer(&hash, &s->teach);
    add_layer(&hash, &s->today);
    add_layer(&hash, &s->deploy_day);
    add_spread(&hash, &s->truck);
    add_spread(&hash, &s->day);
    add_correlations(&hash, &s->correlation);
    return hash;
}
