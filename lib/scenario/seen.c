/* seen.c - what was seen at the truck, from its file; see catalogue.h. */
#include <math.h>
#include <string.h>

#include "keys/text.h"
#include "keys/values.h"
#include "scenario/document.h"
#include "scenario/observables.h"

static const char *const BEGINS = "what was seen, such as stow: {says: fault, seconds: 12.9 s}";
static const char *const SD = "_sd";

typedef struct walker {
    slew_reader *reader;
    const slew_tree *tree;
    slew_seen *out;
    slew_mark sd_mark[SLEW_OBSERVABLES]; /* where an uncertainty stands */
    slew_mark known[SLEW_KEYS_MAX];
} walker;

static bool refuse(const walker *w, int node, const char *path, const char *message,
                   const char *expected)
{
    return slew_reader_refuse(w->reader, w->tree->node[node].mark, path, message, expected);
}

void slew_seen_init(slew_seen *seen)
{
    if (seen == NULL)
        return;
    for (int i = 0; i < SLEW_OBSERVABLES; i++) {
        seen->value[i] = NAN;
        seen->sd[i] = slew_observable_at(i)->sd;
        seen->line[i] = seen->column[i] = 0;
    }
    seen->known.count = 0;
}

/* ---- values ---- */

static void read_value(walker *w, int index, int name, int node)
{
    slew_key_row row = slew_observable_row(index);
    slew_mark mark = w->tree->node[node].mark;
    double value;
    if (!isnan(w->out->value[index]))
        refuse(w, name, row.key.path, "given twice", "");
    else if (slew_reader_number(w->reader, w->tree, &row, row.key.path, node, &value))
        w->out->value[index] = value;
    else
        w->out->value[index] = 0; /* it is there, if wrong: its uncertainty is not alone */
    w->out->line[index] = mark.line;
    w->out->column[index] = mark.column;
}

static void read_sd(walker *w, int index, const char *path, int name, int node)
{
    slew_key_row row = slew_observable_row(index);
    double sd;
    if (w->sd_mark[index].source != SLEW_FROM_NOWHERE) {
        refuse(w, name, path, "given twice", "");
        return;
    }
    w->sd_mark[index] = w->tree->node[name].mark;
    if (!slew_reader_difference(w->reader, w->tree, &row, path, node, &sd))
        return;
    if (!(sd > 0 && isfinite(sd)))
        refuse(w, node, path, "an uncertainty is more than nothing", "");
    w->out->sd[index] = sd;
}

/* the number whose uncertainty a path is; -1: it is none */
static int find_sd(const char *path)
{
    char own[SLEW_PATH_MAX];
    size_t length = strlen(path), end = strlen(SD);
    if (length <= end || length >= sizeof own || strcmp(path + length - end, SD) != 0)
        return -1;
    memcpy(own, path, length - end);
    own[length - end] = '\0';
    int index = slew_observable_find(own);
    return index >= 0 && slew_observable_words(index) == 0 ? index : -1;
}

static void refuse_unknown(const walker *w, int name, const char *path)
{
    slew_error error = {.status = SLEW_ERROR_INPUT};
    slew_say(error.key, sizeof error.key, "%s", path);
    slew_say(error.message, sizeof error.message, "nothing of that name can be seen");
    slew_say(error.expected, sizeof error.expected, "%s", BEGINS);
    slew_observable_nearest(path, error.nearest);
    slew_report_add(w->reader->errors, w->tree->node[name].mark, &error);
}

/* ---- what is known of the day ---- */

static void read_known_value(walker *w, int key, int name, int node)
{
    double value;
    const slew_key_row *row = slew_key_row_at(key);
    slew_layer *known = &w->out->known;
    if (w->known[key].source != SLEW_FROM_NOWHERE)
        refuse(w, name, row->key.path, "given twice", "");
    else if (known->count < SLEW_OVERRIDES_MAX &&
             slew_reader_number(w->reader, w->tree, row, row->key.path, node, &value))
        known->item[known->count++] = (slew_override){key, value};
    w->known[key] = w->tree->node[name].mark;
}

static void read_known_pair(walker *w, int name, int node)
{
    slew_mark mark = w->tree->node[name].mark;
    const char *path =
        slew_reader_scalar(w->reader, w->tree, name, "known", "the path of a key, rotation.start");
    int key = path ? slew_key_find(path) : -1;
    if (path == NULL)
        return;
    if (key < 0)
        slew_reader_unknown(w->reader, SLEW_LAYER_TODAY, path, mark);
    else if (slew_reader_may_hold(w->reader, SLEW_LAYER_TODAY, key, mark))
        read_known_value(w, key, name, node);
}

static void read_known(walker *w, int node)
{
    const slew_tree *tree = w->tree;
    if (tree->node[node].nothing ||
        !slew_reader_is(w->reader, tree, node, SLEW_NODE_MAP, "known",
                        "keys with their values, {rotation.start: -30 deg}"))
        return;
    for (int name = tree->node[node].first; name >= 0;) {
        int value = tree->node[name].next;
        read_known_pair(w, name, value);
        name = tree->node[value].next;
    }
}

/* ---- maps ---- */

static void walk_map(walker *w, const char *prefix, int node);

static void walk_pair(walker *w, const char *prefix, int name, int node)
{
    char path[SLEW_PATH_MAX];
    const char *own =
        slew_reader_scalar(w->reader, w->tree, name, prefix, "the name of an observable");
    if (own == NULL)
        return;
    slew_say(path, sizeof path, "%s%s%s", prefix, *prefix ? "." : "", own);
    int index = slew_observable_find(path), sd = find_sd(path);
    if (strcmp(path, "known") == 0)
        read_known(w, node);
    else if (index >= 0)
        read_value(w, index, name, node);
    else if (sd >= 0)
        read_sd(w, sd, path, name, node);
    else if (!slew_observable_group(path))
        refuse_unknown(w, name, path);
    else if (!w->tree->node[node].nothing &&
             slew_reader_is(w->reader, w->tree, node, SLEW_NODE_MAP, path, BEGINS))
        walk_map(w, path, node);
}

static void walk_map(walker *w, const char *prefix, int node)
{
    for (int name = w->tree->node[node].first; name >= 0 && !w->reader->errors->more;) {
        int value = w->tree->node[name].next;
        walk_pair(w, prefix, name, value);
        name = w->tree->node[value].next;
    }
}

static void check(walker *w)
{
    int count = 0;
    for (int i = 0; i < SLEW_OBSERVABLES; i++) {
        bool given = !isnan(w->out->value[i]);
        count += given;
        if (!given && w->sd_mark[i].source != SLEW_FROM_NOWHERE)
            slew_reader_refuse(w->reader, w->sd_mark[i], slew_observable_at(i)->key.path,
                               "has an uncertainty, but no value", "");
    }
    if (count == 0 && w->reader->errors->count == 0)
        slew_reader_refuse(w->reader, w->tree->node[0].mark, "", "nothing was seen", BEGINS);
}

static void walk(slew_reader *reader, const slew_tree *tree, void *out)
{
    walker w = {.reader = reader, .tree = tree, .out = out};
    slew_seen_init(out);
    if (!slew_reader_is(reader, tree, 0, SLEW_NODE_MAP, "", BEGINS))
        return;
    walk_map(&w, "", 0);
    check(&w);
}

slew_status slew_seen_read_file(const char *path, slew_error_sink errors, slew_seen *out)
{
    if (path == NULL || out == NULL)
        return SLEW_ERROR_INPUT;
    const slew_document document = {BEGINS, walk, out};
    return slew_document_read_file(&document, path, errors);
}

slew_status slew_seen_read_memory(const char *text, size_t length, const char *name,
                                  slew_error_sink errors, slew_seen *out)
{
    if (text == NULL || out == NULL)
        return SLEW_ERROR_INPUT;
    const slew_document document = {BEGINS, walk, out};
    return slew_document_read_memory(&document, text, length, name, errors);
}
