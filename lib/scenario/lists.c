/* lists.c - deploy choices and keep-out boxes. */
#include <stdio.h>
#include <string.h>

#include "keys/fields.h"
#include "keys/text.h"
#include "keys/values.h"
#include "scenario/reader.h"

/* ---- deploy choices ---- */

void slew_reader_choices(slew_reader *reader, const slew_tree *tree, int key, int node)
{
    const slew_key_row *row = slew_key_row_at(key);
    double value[SLEW_CHOICES_MAX];
    int count = 0;
    char expected[128];
    slew_value_expected(row, expected, sizeof expected);
    if (!slew_reader_is(reader, tree, node, SLEW_NODE_LIST, row->key.path, expected))
        return;
    for (int item = tree->node[node].first; item >= 0; item = tree->node[item].next) {
        if (count == SLEW_CHOICES_MAX) {
            slew_reader_refuse(reader, tree->node[item].mark, row->key.path, "more than 64 choices",
                               expected);
            return;
        }
        count += slew_reader_number(reader, tree, row, row->key.path, item, &value[count]);
    }
    if (tree->node[node].first < 0)
        slew_reader_refuse(reader, tree->node[node].mark, row->key.path, "an empty list", expected);
    slew_field_put_choices(reader->scenario, key, value, count);
}

/* ---- keep-out boxes ---- */

#define BOUND(path_, example_)                                                                     \
    {                                                                                              \
        .key = {                                                                                   \
            .path = path_,                                                                         \
            .kind = SLEW_KEY_NUMBER,                                                               \
            .quantity = "angle",                                                                   \
            .unit = "deg",                                                                         \
            .low = -INFINITY,                                                                      \
            .high = INFINITY,                                                                      \
            .example = example_                                                                    \
        }                                                                                          \
    }

static const slew_key_row BOUNDS[SLEW_AXES][2] = {
    {BOUND("keepout.rotation.low", "-25 deg"), BOUND("keepout.rotation.high", "25 deg")},
    {BOUND("keepout.elevation.low", "-30 deg"), BOUND("keepout.elevation.high", "-19 deg")},
};

static const char *const BOX = "a box, {name: mast, rotation: {low: -25 deg, high: 25 deg}}";
static const char *const RANGE = "a range, {low: -25 deg, high: 25 deg}";
static const char *const AXIS_PATH[SLEW_AXES] = {"keepout.rotation", "keepout.elevation"};

static bool read_range(slew_reader *reader, const slew_tree *tree, int axis, int node,
                       slew_range *range)
{
    unsigned seen = 0;
    bool right = true;
    if (!slew_reader_is(reader, tree, node, SLEW_NODE_MAP, AXIS_PATH[axis], RANGE))
        return false;
    for (int name = tree->node[node].first; name >= 0;) {
        int value = tree->node[name].next;
        int end = slew_reader_which(reader, tree, name, AXIS_PATH[axis], "low | high", &seen);
        right = end >= 0 &&
                slew_reader_number(reader, tree, &BOUNDS[axis][end], BOUNDS[axis][end].key.path,
                                   value, end == 0 ? &range->low : &range->high) &&
                right;
        name = tree->node[value].next;
    }
    if (right && seen != 3)
        return slew_reader_refuse(reader, tree->node[node].mark, AXIS_PATH[axis],
                                  seen == 1   ? "high is missing"
                                  : seen == 2 ? "low is missing"
                                              : "low and high are missing",
                                  RANGE);
    return right;
}

static bool read_name(slew_reader *reader, const slew_tree *tree, int node, char *name)
{
    const char *text = slew_reader_scalar(reader, tree, node, "keepout.name", "a name, light mast");
    if (text == NULL)
        return false;
    bool fits = slew_text_trim(text, name, SLEW_NAME_MAX);
    if (!fits || *name == '\0')
        return slew_reader_refuse(reader, tree->node[node].mark, "keepout.name",
                                  fits ? "no value" : "too long a name, at most 63 bytes",
                                  "a name, light mast");
    return true;
}

static bool read_box(slew_reader *reader, const slew_tree *tree, int node, slew_keepout_box *box)
{
    enum { NAME, ROTATION };
    unsigned seen = 0;
    bool right = true;
    if (!slew_reader_is(reader, tree, node, SLEW_NODE_MAP, "keepout", BOX))
        return false;
    for (int name = tree->node[node].first; name >= 0;) {
        int value = tree->node[name].next;
        int part =
            slew_reader_which(reader, tree, name, "keepout", "name | rotation | elevation", &seen);
        int axis = part - ROTATION;
        if (part == NAME)
            right &= read_name(reader, tree, value, box->name);
        else
            right &= part > 0 && read_range(reader, tree, axis, value, &box->axis[axis]);
        name = tree->node[value].next;
    }
    if (right && !(seen & 1u << NAME))
        return slew_reader_refuse(reader, tree->node[node].mark, "keepout.name",
                                  "the name is missing", BOX);
    if (right && seen == 1u << NAME)
        return slew_reader_refuse(reader, tree->node[node].mark, "keepout",
                                  "neither rotation nor elevation is given", BOX);
    return right;
}

void slew_reader_keepout(slew_reader *reader, const slew_tree *tree, int node)
{
    slew_keepout *keepout = &reader->scenario->keepout;
    const slew_range all = {-INFINITY, INFINITY};
    if (!slew_reader_is(reader, tree, node, SLEW_NODE_LIST, "keepout", "a list of boxes"))
        return;
    for (int item = tree->node[node].first; item >= 0; item = tree->node[item].next) {
        slew_keepout_box box = {.axis = {all, all}};
        if (keepout->count == SLEW_KEEPOUT_MAX) {
            slew_reader_refuse(reader, tree->node[item].mark, "keepout", "more than 16 boxes", "");
            return;
        }
        if (read_box(reader, tree, item, &box)) {
            reader->marks.box[keepout->count] = tree->node[item].mark;
            keepout->box[keepout->count++] = box;
        }
    }
}
