/* walk.c - from the tree of a file to its keys, layer by layer. */
#include <stdio.h>
#include <string.h>

#include "keys/fields.h"
#include "keys/text.h"
#include "keys/values.h"
#include "scenario/reader.h"

typedef struct walk {
    slew_reader *reader;
    const slew_tree *tree;
    slew_layer_id layer;
} walk;

/* ---- one key ---- */

static const char *one_of(int key)
{
    slew_effect effect = slew_key_row_at(key)->effect;
    if (effect == SLEW_EFFECT_WINDOW || effect == SLEW_EFFECT_MAGNET)
        return "operate and release, or a magnet";
    return slew_key_is_size(key) ? "one of gauge, area and per_length" : "";
}

static bool refuse_again(walk *w, int key, slew_mark mark, slew_mark first, const char *what)
{
    char message[96];
    snprintf(message, sizeof message, "%s, the first in line %d", what, first.line);
    return slew_reader_refuse(w->reader, mark, slew_key_at(key)->path, message, one_of(key));
}

/* said if the key, or one that it would take the place of, stands in the layer already */
static bool is_first(walk *w, int key, slew_mark mark)
{
    const slew_mark *marks = w->reader->marks.key[w->layer];
    if (marks[key].source != SLEW_FROM_NOWHERE)
        return refuse_again(w, key, mark, marks[key], "given twice");
    for (int i = 0; i < slew_key_count(); i++)
        if (slew_key_excludes(key, i) && marks[i].source != SLEW_FROM_NOWHERE)
            return refuse_again(w, key, mark, marks[i],
                                slew_key_is_size(key) ? "two conductor sizes"
                                                      : "a window and a magnet that gives it");
    return true;
}

static void walk_map(walk *w, const char *prefix, int node);

static void walk_layer(walk *w, slew_layer_id layer, int key, int node)
{
    walk inner = {w->reader, w->tree, layer};
    const char *path = slew_key_at(key)->path;
    if (slew_reader_is(w->reader, w->tree, node, SLEW_NODE_MAP, path,
                       "keys with their values, {supply.main.voltage: 12.6 V}"))
        walk_map(&inner, "", node);
}

static void walk_spread(slew_reader *reader, const slew_tree *tree, slew_structure structure,
                        int node)
{
    slew_report *errors = reader->errors;
    reader->errors = reader->of_spread;
    if (structure == SLEW_STRUCTURE_CORRELATION)
        slew_reader_correlation(reader, tree, node);
    else
        slew_reader_spread(reader, tree, structure, node);
    reader->errors = errors;
}

static void walk_structure(walk *w, int key, int node)
{
    slew_structure structure = slew_key_row_at(key)->structure;
    if (w->tree->node[node].nothing)
        return;
    if (structure == SLEW_STRUCTURE_TEACH)
        walk_layer(w, SLEW_LAYER_TEACH, key, node);
    else if (structure == SLEW_STRUCTURE_TODAY)
        walk_layer(w, SLEW_LAYER_TODAY, key, node);
    else if (structure == SLEW_STRUCTURE_DEPLOY_DAY)
        walk_layer(w, SLEW_LAYER_DEPLOY_DAY, key, node);
    else if (structure == SLEW_STRUCTURE_KEEPOUT)
        slew_reader_keepout(w->reader, w->tree, node);
    else
        walk_spread(w->reader, w->tree, structure, node);
}

static void walk_value(walk *w, int key, int node)
{
    const slew_key_row *row = slew_key_row_at(key);
    char expected[256];
    slew_value_expected(row, expected, sizeof expected);
    const char *text = slew_reader_scalar(w->reader, w->tree, node, row->key.path, expected);
    slew_mark mark = w->tree->node[node].mark;
    bool nothing = w->tree->node[node].nothing;
    if (text != NULL && nothing)
        slew_reader_refuse(w->reader, mark, row->key.path, "no value", expected);
    if (text != NULL && !nothing)
        slew_reader_set(w->reader, w->layer, key, text, mark);
    else if (slew_layer_takes(w->reader->scenario, w->layer, key))
        slew_field_put(w->reader->scenario, w->layer, key, SLEW_NOT_GIVEN);
}

static void walk_key(walk *w, int key, slew_mark mark, int node)
{
    slew_key_kind kind = slew_key_at(key)->kind;
    if (!slew_reader_may_hold(w->reader, w->layer, key, mark) || !is_first(w, key, mark))
        return;
    w->reader->marks.key[w->layer][key] = w->tree->node[node].mark;
    if (kind == SLEW_KEY_STRUCTURE)
        walk_structure(w, key, node);
    else if (kind == SLEW_KEY_LIST)
        slew_reader_choices(w->reader, w->tree, key, node);
    else
        walk_value(w, key, node);
}

/* ---- groups ---- */

static void excuse_group(walk *w, const char *path)
{
    for (int i = 0; w->layer == SLEW_LAYER_FILE && i < slew_key_count(); i++)
        if (slew_key_within(i, path, strlen(path)))
            w->reader->marks.excused[i] = true;
}

/* of the file: a group stands once, and its place is kept for what is missing in it */
static bool note_group(walk *w, const char *path, slew_mark mark)
{
    slew_mark *place = &w->reader->marks.group[slew_group_find(path)][slew_path_depth(path)];
    if (w->layer != SLEW_LAYER_FILE)
        return true;
    if (place->source != SLEW_FROM_NOWHERE) {
        char message[64];
        snprintf(message, sizeof message, "given twice, the first in line %d", place->line);
        return slew_reader_refuse(w->reader, mark, path, message, "");
    }
    *place = mark;
    return true;
}

static bool any_layered(const char *path)
{
    for (int i = 0; i < slew_key_count(); i++)
        if (slew_key_at(i)->layered && slew_key_within(i, path, strlen(path)))
            return true;
    return false;
}

static void walk_group(walk *w, const char *path, slew_mark mark, int node)
{
    char expected[160];
    if (w->layer != SLEW_LAYER_FILE && !any_layered(path)) {
        slew_reader_may_hold(w->reader, w->layer, slew_group_find(path), mark);
        return;
    }
    if (!note_group(w, path, mark) || w->tree->node[node].nothing)
        return;
    slew_say(expected, sizeof expected, "a group of keys, such as %s",
             slew_key_at(slew_group_find(path))->path);
    if (slew_reader_is(w->reader, w->tree, node, SLEW_NODE_MAP, path, expected))
        walk_map(w, path, node);
    else
        excuse_group(w, path);
}

/* ---- maps ---- */

static void walk_pair(walk *w, const char *prefix, int name, int value)
{
    slew_mark mark = w->tree->node[name].mark;
    char path[2 * SLEW_PATH_MAX];
    const char *own =
        slew_reader_scalar(w->reader, w->tree, name, prefix, "the name of a key, then a colon");
    if (own == NULL)
        return;
    slew_say(path, sizeof path, "%s%s%s", prefix, *prefix ? "." : "", own);
    int key = slew_key_find(path);
    if (key >= 0)
        walk_key(w, key, mark, value);
    else if (slew_group_find(path) >= 0)
        walk_group(w, path, mark, value);
    else
        slew_reader_unknown(w->reader, w->layer, strcmp(own, "<<") == 0 ? own : path, mark);
}

static void walk_map(walk *w, const char *prefix, int node)
{
    int name = w->tree->node[node].first;
    while (name >= 0 && !w->reader->errors->more) {
        int value = w->tree->node[name].next;
        walk_pair(w, prefix, name, value);
        name = w->tree->node[value].next;
    }
}

void slew_reader_walk(slew_reader *reader, const slew_tree *tree)
{
    walk w = {reader, tree, SLEW_LAYER_FILE};
    reader->marks.root = tree->node[0].mark;
    if (slew_reader_is(reader, tree, 0, SLEW_NODE_MAP, "",
                       "a scenario: keys with their values, beginning with format: 1"))
        walk_map(&w, "", 0);
    else
        memset(reader->marks.excused, true, sizeof reader->marks.excused);
}
