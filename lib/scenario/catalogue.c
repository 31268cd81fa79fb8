/* catalogue.c - a catalogue of causes from its file; see catalogue.h and catalogue.yaml. */
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "keys/text.h"
#include "keys/values.h"
#include "scenario/change.h"
#include "scenario/document.h"
#include "scenario/observables.h"

static const char *const ANY_AXIS = "AXIS"; /* stands for either of them in an entry */
static const char *const ENTRY = "a cause, {means: corroded connection in the feed, "
                                 "today: {supply.feed.joint_resistance: times 10}}";
static const char *const FIELDS =
    "means | prove | cure | commonness | always | teach | today | deploy_day | reads";
enum { MEANS, PROVE, CURE, COMMONNESS, ALWAYS, TEACH, TODAY, DEPLOY_DAY, READS };

typedef struct entry {
    slew_reader *reader;
    const slew_tree *tree;
    const char *axis; /* the word that stands where the file says AXIS; NULL: none */
    slew_cause *out;
} entry;

static bool refuse(const entry *e, int node, const char *key, const char *message,
                   const char *expected)
{
    return slew_reader_refuse(e->reader, e->tree->node[node].mark, key, message, expected);
}

/* ---- texts ---- */

/* AXIS becomes the axis, a run of blanks and line ends one blank; false: it does not fit */
static bool fill_in(const char *text, const char *axis, char *out, size_t size)
{
    size_t n = 0;
    while (*text != '\0' && n + 1 < size) {
        bool blank = *text == ' ' || *text == '\n' || *text == '\t';
        if (axis != NULL && strncmp(text, ANY_AXIS, strlen(ANY_AXIS)) == 0) {
            size_t length = strlen(axis);
            if (n + length >= size)
                return false;
            memcpy(out + n, axis, length);
            n += length;
            text += strlen(ANY_AXIS);
        } else if (blank) {
            if (n > 0 && out[n - 1] != ' ')
                out[n++] = ' ';
            text++;
        } else
            out[n++] = *text++;
    }
    while (n > 0 && out[n - 1] == ' ')
        n--;
    out[n] = '\0';
    return *text == '\0';
}

static bool read_words(const entry *e, int node, const char *field, char *out)
{
    const char *text = slew_reader_scalar(e->reader, e->tree, node, field, "some words");
    if (text == NULL)
        return false;
    if (e->tree->node[node].nothing || *text == '\0')
        return refuse(e, node, field, "no words", "some words");
    if (!fill_in(text, e->axis, out, SLEW_WORDS_MAX))
        return refuse(e, node, field, "too long a text, at most 799 bytes", "");
    slew_text_clean(out);
    return true;
}

/* the path that a name in a map stands for, in `path`; false: said */
static bool read_path(const entry *e, int name, char path[SLEW_PATH_MAX])
{
    const char *text =
        slew_reader_scalar(e->reader, e->tree, name, e->out->name, "the path of a key");
    if (text == NULL)
        return false;
    if (!fill_in(text, e->axis, path, SLEW_PATH_MAX))
        return refuse(e, name, e->out->name, "too long a path", "the path of a key");
    return true;
}

/* ---- changes ---- */

static int changed_key(const entry *e, slew_layer_id layer, int name)
{
    char path[SLEW_PATH_MAX];
    slew_mark mark = e->tree->node[name].mark;
    if (!read_path(e, name, path))
        return -1;
    int key = slew_key_find(path);
    if (key < 0) {
        slew_reader_unknown(e->reader, layer, path, mark);
        return -1;
    }
    slew_key_kind kind = slew_key_at(key)->kind;
    bool single = kind == SLEW_KEY_NUMBER || kind == SLEW_KEY_YES_NO || kind == SLEW_KEY_CHOICE;
    if (!single || slew_key_row_at(key)->offset == SLEW_NO_FIELD) {
        refuse(e, name, path, "a cause can't change this key", "a key with a single value");
        return -1;
    }
    if (!slew_reader_may_hold(e->reader, layer, key, mark))
        return -1;
    for (int i = 0; i < e->out->change_count; i++)
        if (e->out->change[i].key == key && e->out->change[i].layer == layer) {
            refuse(e, name, path, "given twice", "");
            return -1;
        }
    return key;
}

static bool read_change(const entry *e, slew_layer_id layer, int name, int value)
{
    slew_cause *cause = e->out;
    char text[2 * SLEW_PATH_MAX], expected[256];
    int key = changed_key(e, layer, name);
    if (key < 0)
        return false;
    if (cause->change_count == SLEW_CHANGES_MAX)
        return refuse(e, name, cause->name, "more than 8 changes", "");
    slew_value_expected(slew_key_row_at(key), expected, sizeof expected);
    const char *own =
        slew_reader_scalar(e->reader, e->tree, value, slew_key_at(key)->path, expected);
    if (own == NULL)
        return false;
    if (!fill_in(own, e->axis, text, sizeof text))
        return refuse(e, value, slew_key_at(key)->path, "too long a value", expected);
    slew_change change = {.layer = layer, .key = key};
    if (!slew_change_read(e->reader, text, e->tree->node[value].mark, &change))
        return false;
    cause->change[cause->change_count++] = change;
    return true;
}

static bool read_changes(const entry *e, slew_layer_id layer, int node)
{
    bool right = true;
    if (e->tree->node[node].nothing)
        return true;
    if (!slew_reader_is(e->reader, e->tree, node, SLEW_NODE_MAP, e->out->name,
                        "keys with their changes, {rotation.home.present: no}"))
        return false;
    for (int name = e->tree->node[node].first; name >= 0;) {
        int value = e->tree->node[name].next;
        right &= read_change(e, layer, name, value);
        name = e->tree->node[value].next;
    }
    return right;
}

/* ---- checks that the model has nothing to say about ---- */

static bool read_stated(const entry *e, int name, int value)
{
    char path[SLEW_PATH_MAX];
    slew_cause *cause = e->out;
    if (!read_path(e, name, path))
        return false;
    int index = slew_observable_find(path);
    if (index < 0 || slew_observable_at(index)->by != SLEW_BY_CHECK) {
        slew_error error = {.status = SLEW_ERROR_INPUT};
        slew_say(error.key, sizeof error.key, "%s", path);
        slew_say(error.message, sizeof error.message, "%s",
                 index < 0 ? "unknown observable" : "only a check can be stated");
        slew_say(error.expected, sizeof error.expected, "a check, check.rotation.hand_magnet");
        slew_observable_nearest(path, error.nearest);
        slew_report_add(e->reader->errors, e->tree->node[name].mark, &error);
        return false;
    }
    if (cause->stated_count == SLEW_CHANGES_MAX)
        return refuse(e, name, cause->name, "more than 8 stated checks", "");
    slew_key_row row = slew_observable_row(index);
    slew_stated *stated = &cause->stated[cause->stated_count++];
    stated->observable = index;
    return slew_reader_number(e->reader, e->tree, &row, path, value, &stated->value);
}

static bool read_reads(const entry *e, int node)
{
    bool right = true;
    if (!slew_reader_is(e->reader, e->tree, node, SLEW_NODE_MAP, e->out->name,
                        "checks with what they read, {check.rotation.hand_magnet: closed}"))
        return false;
    for (int name = e->tree->node[node].first; name >= 0;) {
        int value = e->tree->node[name].next;
        right &= read_stated(e, name, value);
        name = e->tree->node[value].next;
    }
    return right;
}

/* ---- one entry ---- */

static bool read_field(const entry *e, int field, int node)
{
    slew_cause *cause = e->out;
    switch (field) {
    case MEANS:
        return read_words(e, node, "means", cause->means);
    case PROVE:
        return read_words(e, node, "prove", cause->prove);
    case CURE:
        return read_words(e, node, "cure", cause->cure);
    case COMMONNESS:
        return slew_reader_weight(e->reader, e->tree, "commonness", node, &cause->commonness);
    case ALWAYS:
        return read_changes(e, SLEW_LAYER_FILE, node);
    case TEACH:
        return read_changes(e, SLEW_LAYER_TEACH, node);
    case TODAY:
        return read_changes(e, SLEW_LAYER_TODAY, node);
    case DEPLOY_DAY:
        return read_changes(e, SLEW_LAYER_DEPLOY_DAY, node);
    case READS:
        return read_reads(e, node);
    default:
        return false;
    }
}

static bool read_entry(const entry *e, int node)
{
    unsigned seen = 0;
    bool right = true;
    if (!slew_reader_is(e->reader, e->tree, node, SLEW_NODE_MAP, e->out->name, ENTRY))
        return false;
    for (int name = e->tree->node[node].first; name >= 0;) {
        int value = e->tree->node[name].next;
        int field = slew_reader_which(e->reader, e->tree, name, e->out->name, FIELDS, &seen);
        right &= field >= 0 && read_field(e, field, value);
        name = e->tree->node[value].next;
    }
    if (right && !(seen & 1u << MEANS))
        return refuse(e, node, e->out->name, "means is missing", ENTRY);
    return right;
}

/* ---- the catalogue ---- */

int slew_catalogue_find(const slew_catalogue *catalogue, const char *name)
{
    if (catalogue == NULL || name == NULL)
        return -1;
    for (int i = 0; i < catalogue->count; i++)
        if (strcasecmp(catalogue->cause[i].name, name) == 0)
            return i;
    return -1;
}

/* in the place of the one of that name, or at the end; false: there is no more room */
static bool put(slew_catalogue *catalogue, const slew_cause *cause)
{
    int at = slew_catalogue_find(catalogue, cause->name);
    if (at < 0 && catalogue->count == SLEW_CAUSES_MAX)
        return false;
    catalogue->cause[at < 0 ? catalogue->count++ : at] = *cause;
    return true;
}

static bool add_cause(slew_catalogue *catalogue, const entry *e, int name, int node)
{
    slew_cause *cause = e->out;
    *cause = (slew_cause){.commonness = 1};
    const char *text = slew_node_text(e->tree, name);
    if (!fill_in(text, e->axis, cause->name, sizeof cause->name) || cause->name[0] == '\0')
        return refuse(e, name, "causes", "a name has 1 to 63 bytes", "a name, corroded connection");
    slew_text_clean(cause->name);
    if (!read_entry(e, node))
        return false;
    return put(catalogue, cause) || refuse(e, name, "causes", "more than 80 causes", "");
}

static void read_cause(slew_reader *reader, const slew_tree *tree, slew_catalogue *catalogue,
                       int name, int node)
{
    slew_cause *cause = malloc(sizeof *cause);
    entry e = {reader, tree, NULL, cause};
    const char *text = slew_reader_scalar(reader, tree, name, "causes", "the name of a cause");
    if (cause == NULL)
        slew_report_no_memory(reader->errors);
    else if (text != NULL && strstr(text, ANY_AXIS) == NULL)
        add_cause(catalogue, &e, name, node);
    else if (text != NULL) {
        e.axis = "rotation";
        bool right = add_cause(catalogue, &e, name, node);
        e.axis = "elevation";
        if (right)
            add_cause(catalogue, &e, name, node);
    }
    free(cause);
}

/* a name that stands in the file already */
static bool is_again(slew_reader *reader, const slew_tree *tree, int first, int name)
{
    for (int other = first; other != name; other = tree->node[tree->node[other].next].next)
        if (strcasecmp(slew_node_text(tree, other), slew_node_text(tree, name)) == 0) {
            slew_reader_refuse(reader, tree->node[name].mark, slew_node_text(tree, name),
                               "given twice", "");
            return true;
        }
    return false;
}

static void read_causes(slew_reader *reader, const slew_tree *tree, slew_catalogue *catalogue,
                        int node)
{
    if (!slew_reader_is(reader, tree, node, SLEW_NODE_MAP, "causes",
                        "names of causes, each with what it means"))
        return;
    int first = tree->node[node].first;
    if (first < 0)
        slew_reader_refuse(reader, tree->node[node].mark, "causes", "no causes", ENTRY);
    for (int name = first; name >= 0 && !reader->errors->more;) {
        int value = tree->node[name].next;
        if (!is_again(reader, tree, first, name))
            read_cause(reader, tree, catalogue, name, value);
        name = tree->node[value].next;
    }
}

static void read_builtin(slew_reader *reader, const slew_tree *tree, slew_catalogue *catalogue,
                         int node)
{
    const char *text = slew_reader_scalar(reader, tree, node, "builtin", "yes or no");
    if (text == NULL)
        return;
    if (strcmp(text, "no") == 0)
        catalogue->count = 0;
    else if (strcmp(text, "yes") != 0)
        slew_reader_refuse(reader, tree->node[node].mark, "builtin", "neither yes nor no",
                           "yes or no");
}

static const slew_key_row NONE_OF_THESE = {.key = {.path = "none_of_these",
                                                   .kind = SLEW_KEY_NUMBER,
                                                   .quantity = "share",
                                                   .unit = "%",
                                                   .low = 0,
                                                   .high = 0.9,
                                                   .example = "5 %"}};

static void walk(slew_reader *reader, const slew_tree *tree, void *out)
{
    static const char *const words = "builtin | causes | none_of_these";
    slew_catalogue *catalogue = out;
    int node[3] = {-1, -1, -1};
    unsigned seen = 0;
    if (!slew_reader_is(reader, tree, 0, SLEW_NODE_MAP, "", "a catalogue, beginning with causes:"))
        return;
    for (int name = tree->node[0].first; name >= 0;) {
        int value = tree->node[name].next;
        int which = slew_reader_which(reader, tree, name, "catalogue", words, &seen);
        if (which >= 0)
            node[which] = value;
        name = tree->node[value].next;
    }
    if (node[0] >= 0)
        read_builtin(reader, tree, catalogue, node[0]);
    if (node[2] >= 0)
        slew_reader_number(reader, tree, &NONE_OF_THESE, "none_of_these", node[2],
                           &catalogue->none);
    if (node[1] >= 0)
        read_causes(reader, tree, catalogue, node[1]);
    else if (node[0] >= 0)
        slew_reader_refuse(reader, tree->node[0].mark, "causes", "no causes are given", ENTRY);
}

static slew_document document_of(slew_catalogue *out)
{
    return (slew_document){"a catalogue, beginning with causes:", walk, out};
}

slew_status slew_catalogue_read_file(const char *path, slew_error_sink errors, slew_catalogue *out)
{
    if (path == NULL || out == NULL)
        return SLEW_ERROR_INPUT;
    const slew_document document = document_of(out);
    return slew_document_read_file(&document, path, errors);
}

slew_status slew_catalogue_read_memory(const char *text, size_t length, const char *name,
                                       slew_error_sink errors, slew_catalogue *out)
{
    if (text == NULL || out == NULL)
        return SLEW_ERROR_INPUT;
    const slew_document document = document_of(out);
    return slew_document_read_memory(&document, text, length, name, errors);
}

/* ---- the built-in one ---- */

static const char BUILTIN[] = {
#include "catalogue.inc"
};

slew_status slew_catalogue_builtin(slew_catalogue *out)
{
    if (out == NULL)
        return SLEW_ERROR_INPUT;
    out->count = 0;
    return slew_catalogue_read_memory(BUILTIN, sizeof BUILTIN - 1, "built-in catalogue",
                                      (slew_error_sink){0}, out);
}
