/* spread.c - what an ensemble varies: {KEY: {DISTRIBUTION: its figures}}. */
#include <stdio.h>
#include <string.h>

#include "keys/text.h"
#include "scenario/reader.h"
#include "scenario/variation.h"

static const char *const EXAMPLE = "a distribution, {uniform: {low: 11 V, high: 14 V}}";
static const char *const DISTRIBUTIONS = "uniform | normal | triangular | values | table";
enum { UNIFORM, NORMAL, TRIANGULAR, VALUES, TABLE };

typedef struct drawer {
    slew_reader *reader;
    const slew_tree *tree;
    const slew_key_row *row; /* of the varied key */
    slew_variation *out;
} drawer;

static bool refuse(const drawer *d, int node, const char *message, const char *expected)
{
    return slew_reader_refuse(d->reader, d->tree->node[node].mark, d->row->key.path, message,
                              expected);
}

/* ---- distributions with named figures ---- */

typedef struct figure {
    const char *word;
    double *value;
    bool optional;
} figure;

/* of any size: how much of the distribution the key does not allow is said of the whole */
static bool read_value(const drawer *d, int node, double *value)
{
    slew_key_row row = *d->row;
    row.key.low = -INFINITY;
    row.key.high = INFINITY;
    row.bounds_only = false;
    return slew_reader_number(d->reader, d->tree, &row, d->row->key.path, node, value);
}

static bool read_figure(const drawer *d, const figure *which, int node)
{
    const char *path = d->row->key.path;
    return strcmp(which->word, "sd") == 0
               ? slew_reader_difference(d->reader, d->tree, d->row, path, node, which->value)
               : read_value(d, node, which->value);
}

static bool all_there(const drawer *d, const figure *figures, int count, unsigned seen, int node)
{
    for (int i = 0; i < count; i++)
        if (!figures[i].optional && !(seen & 1u << i)) {
            char message[64];
            snprintf(message, sizeof message, "%s is missing", figures[i].word);
            return refuse(d, node, message, EXAMPLE);
        }
    return true;
}

static bool read_figures(const drawer *d, const figure *figures, int count, const char *words,
                         int node)
{
    unsigned seen = 0;
    bool right = true;
    const slew_tree *tree = d->tree;
    if (!slew_reader_is(d->reader, tree, node, SLEW_NODE_MAP, d->row->key.path, words))
        return false;
    for (int name = tree->node[node].first; name >= 0;) {
        int value = tree->node[name].next;
        int i = slew_reader_which(d->reader, tree, name, d->row->key.path, words, &seen);
        right &= i >= 0 && read_figure(d, &figures[i], value);
        name = tree->node[value].next;
    }
    return right && all_there(d, figures, count, seen, node);
}

static bool read_uniform(const drawer *d, int node)
{
    const figure figures[] = {{"low", &d->out->low, false}, {"high", &d->out->high, false}};
    d->out->distribution = SLEW_UNIFORM;
    return read_figures(d, figures, 2, "low | high", node);
}

/* A normal that is not cut off elsewhere ends where the key's own range does, if little of it lies
 * beyond. */
static void cut_off(slew_variation *v, const slew_key *key)
{
    if (slew_variation_outside(v, (slew_range){key->low, key->high}) > SLEW_TAIL_SHARE)
        return;
    v->low = isinf(v->low) ? key->low : v->low;
    v->high = isinf(v->high) ? key->high : v->high;
}

static bool read_normal(const drawer *d, int node)
{
    const figure figures[] = {{"mean", &d->out->mean, false},
                              {"sd", &d->out->sd, false},
                              {"low", &d->out->low, true},
                              {"high", &d->out->high, true}};
    d->out->distribution = SLEW_NORMAL;
    bool right = read_figures(d, figures, 4, "mean | sd | low | high", node);
    if (right)
        cut_off(d->out, &d->row->key);
    return right;
}

static bool read_triangular(const drawer *d, int node)
{
    const figure figures[] = {{"low", &d->out->low, false},
                              {"mode", &d->out->mode, false},
                              {"high", &d->out->high, false}};
    d->out->distribution = SLEW_TRIANGULAR;
    return read_figures(d, figures, 3, "low | mode | high", node);
}

/* ---- tables ---- */

/* a row of the table: a value, with a weight unless `weight` is -1 */
static bool read_row(const drawer *d, int value, int weight)
{
    slew_variation *out = d->out;
    const char *path = d->row->key.path;
    int at = out->count++;
    out->weight[at] = 1;
    bool right = read_value(d, value, &out->value[at]);
    if (weight >= 0)
        right &= slew_reader_weight(d->reader, d->tree, path, weight, &out->weight[at]);
    return right;
}

static bool read_table(const drawer *d, int node, slew_node_kind kind, const char *expected)
{
    const slew_tree *tree = d->tree;
    bool right = true;
    d->out->distribution = SLEW_TABLE;
    if (!slew_reader_is(d->reader, tree, node, kind, d->row->key.path, expected))
        return false;
    for (int value = tree->node[node].first; value >= 0;) {
        int weight = kind == SLEW_NODE_MAP ? tree->node[value].next : -1;
        if (d->out->count == SLEW_TABLE_MAX)
            return refuse(d, value, "more than 32 values", "");
        right &= read_row(d, value, weight);
        value = tree->node[weight >= 0 ? weight : value].next;
    }
    return d->out->count > 0 ? right : refuse(d, node, "no values", expected);
}

static bool read_distribution(const drawer *d, int which, int node)
{
    switch (which) {
    case UNIFORM:
        return read_uniform(d, node);
    case NORMAL:
        return read_normal(d, node);
    case TRIANGULAR:
        return read_triangular(d, node);
    case VALUES:
        return read_table(d, node, SLEW_NODE_LIST, "a list of values");
    case TABLE:
        return read_table(d, node, SLEW_NODE_MAP, "values with their weights, {5 deg: 1}");
    default:
        return false;
    }
}

/* ---- one varied key ---- */

static bool read_variation(const drawer *d, int node)
{
    unsigned seen = 0;
    const slew_tree *tree = d->tree;
    if (!slew_reader_is(d->reader, tree, node, SLEW_NODE_MAP, d->row->key.path, EXAMPLE))
        return false;
    int name = tree->node[node].first;
    if (name < 0)
        return refuse(d, node, "no distribution", EXAMPLE);
    int value = tree->node[name].next;
    if (tree->node[value].next >= 0)
        return refuse(d, tree->node[value].next, "more than one distribution", EXAMPLE);
    int which = slew_reader_which(d->reader, tree, name, d->row->key.path, DISTRIBUTIONS, &seen);
    return read_distribution(d, which, value);
}

static bool is_varied(const slew_spread *spread, int key)
{
    for (int i = 0; i < spread->count; i++)
        if (spread->item[i].key == key)
            return true;
    return false;
}

int slew_reader_varied_key(slew_reader *reader, const char *path, slew_mark mark, bool of_day)
{
    int key = slew_key_find(path);
    if (key < 0)
        slew_reader_unknown(reader, SLEW_LAYER_TODAY, path, mark);
    else if (slew_key_at(key)->kind != SLEW_KEY_NUMBER ||
             slew_key_row_at(key)->offset == SLEW_NO_FIELD)
        slew_reader_refuse(reader, mark, path, "only numbers can be varied", "a key with a number");
    else if (of_day && !slew_key_at(key)->layered)
        slew_reader_refuse(reader, mark, path, "does not vary from day to day",
                           "a key that a layer may hold");
    else
        return key;
    return -1;
}

bool slew_reader_variation(slew_reader *reader, const slew_tree *tree, int key, int node,
                           slew_variation *out)
{
    const drawer d = {reader, tree, slew_key_row_at(key), out};
    *out = (slew_variation){.key = key, .low = -INFINITY, .high = INFINITY};
    return read_variation(&d, node);
}

typedef struct spreader {
    slew_reader *reader;
    const slew_tree *tree;
    bool of_day;
    slew_spread *spread;
    slew_mark *marks;
} spreader;

/* whether there is room for the key, which is not there yet; said if not */
static bool is_new(const spreader *s, int key, slew_mark mark)
{
    if (is_varied(s->spread, key))
        return slew_reader_refuse(s->reader, mark, slew_key_at(key)->path, "given twice", "");
    if (s->spread->count == SLEW_VARIATIONS_MAX)
        return slew_reader_refuse(s->reader, mark, s->of_day ? "spread.day" : "spread.truck",
                                  "more than 32 keys", "");
    return true;
}

static void read_key(const spreader *s, const char *path, int name, int value)
{
    slew_variation variation;
    slew_mark mark = s->tree->node[name].mark;
    int key = slew_reader_varied_key(s->reader, path, mark, s->of_day);
    if (key < 0 || !is_new(s, key, mark) ||
        !slew_reader_variation(s->reader, s->tree, key, value, &variation))
        return;
    s->marks[s->spread->count] = s->tree->node[value].mark;
    s->spread->item[s->spread->count++] = variation;
}

/* keys stand by their whole paths or, as everywhere, within their groups */
static void read_keys(const spreader *s, const char *prefix, int node)
{
    for (int name = s->tree->node[node].first; name >= 0 && !s->reader->errors->more;) {
        char path[2 * SLEW_PATH_MAX];
        int value = s->tree->node[name].next;
        const char *own =
            slew_reader_scalar(s->reader, s->tree, name, "spread", "the path of a key");
        slew_say(path, sizeof path, "%s%s%s", prefix, *prefix ? "." : "", own ? own : "");
        bool is_group = slew_key_find(path) < 0 && slew_group_find(path) >= 0;
        if (own != NULL && !is_group)
            read_key(s, path, name, value);
        else if (own != NULL && slew_reader_is(s->reader, s->tree, value, SLEW_NODE_MAP, path,
                                               "keys with distributions"))
            read_keys(s, path, value);
        name = s->tree->node[value].next;
    }
}

void slew_reader_spread(slew_reader *reader, const slew_tree *tree, slew_structure structure,
                        int node)
{
    bool truck = structure == SLEW_STRUCTURE_TRUCK;
    const spreader s = {reader, tree, !truck,
                        truck ? &reader->scenario->truck : &reader->scenario->day,
                        truck ? reader->marks.truck : reader->marks.day};
    if (slew_reader_is(reader, tree, node, SLEW_NODE_MAP, truck ? "spread.truck" : "spread.day",
                       "keys with distributions"))
        read_keys(&s, "", node);
}
