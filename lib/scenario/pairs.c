/* pairs.c - keys that vary together: [{between: [KEY, KEY], coefficient: NUMBER}]. */
#include "scenario/reader.h"

static const char *const EXAMPLE =
    "a pair of keys, {between: [supply.main.voltage, environment.temperature], coefficient: 0.5}";
static const char *const PATH = "spread.correlation";

static const slew_key_row COEFFICIENT = {.key = {.path = "spread.correlation",
                                                 .kind = SLEW_KEY_NUMBER,
                                                 .quantity = "plain number",
                                                 .unit = "",
                                                 .low = -1,
                                                 .high = 1,
                                                 .low_open = true,
                                                 .high_open = true,
                                                 .example = "0.5"}};

static bool read_key(slew_reader *reader, const slew_tree *tree, int node, int *key)
{
    const char *path = slew_reader_scalar(reader, tree, node, PATH, "the path of a key");
    if (path == NULL)
        return false;
    *key = slew_key_find(path);
    if (*key < 0)
        slew_reader_unknown(reader, SLEW_LAYER_TODAY, path, tree->node[node].mark);
    return *key >= 0;
}

static bool read_pair(slew_reader *reader, const slew_tree *tree, int node, int key[2])
{
    if (!slew_reader_is(reader, tree, node, SLEW_NODE_LIST, PATH, EXAMPLE))
        return false;
    int first = tree->node[node].first;
    int second = first >= 0 ? tree->node[first].next : -1;
    if (second < 0 || tree->node[second].next >= 0)
        return slew_reader_refuse(reader, tree->node[node].mark, PATH, "not two keys", EXAMPLE);
    bool right = read_key(reader, tree, first, &key[0]);
    return read_key(reader, tree, second, &key[1]) && right;
}

static bool read_one(slew_reader *reader, const slew_tree *tree, int node, slew_correlation *out)
{
    enum { BETWEEN, WHOLE = 3 };
    unsigned seen = 0;
    bool right = true;
    if (!slew_reader_is(reader, tree, node, SLEW_NODE_MAP, PATH, EXAMPLE))
        return false;
    for (int name = tree->node[node].first; name >= 0;) {
        int value = tree->node[name].next;
        int which = slew_reader_which(reader, tree, name, PATH, "between | coefficient", &seen);
        right &= which == BETWEEN ? read_pair(reader, tree, value, out->key)
                                  : which > 0 && slew_reader_number(reader, tree, &COEFFICIENT,
                                                                    PATH, value, &out->coefficient);
        name = tree->node[value].next;
    }
    if (right && seen != WHOLE)
        return slew_reader_refuse(reader, tree->node[node].mark, PATH,
                                  seen & 1 ? "coefficient is missing" : "between is missing",
                                  EXAMPLE);
    return right;
}

void slew_reader_correlation(slew_reader *reader, const slew_tree *tree, int node)
{
    slew_correlations *all = &reader->scenario->correlation;
    if (!slew_reader_is(reader, tree, node, SLEW_NODE_LIST, PATH, "a list of pairs of keys"))
        return;
    for (int item = tree->node[node].first; item >= 0; item = tree->node[item].next) {
        slew_correlation one = {{-1, -1}, 0};
        if (all->count == SLEW_CORRELATIONS_MAX) {
            slew_reader_refuse(reader, tree->node[item].mark, PATH, "more than 128 pairs", "");
            return;
        }
        if (read_one(reader, tree, item, &one)) {
            reader->marks.correlation[all->count] = tree->node[item].mark;
            all->item[all->count++] = one;
        }
    }
}
