/* edit.c - values written into the text of a scenario file, everything else left as it stands. */
#include "slewtime/edit.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "scenario/source.h"
#include "scenario/text.h"
#include "scenario/tree.h"

/* ---- a text that changes ---- */

typedef struct editor {
    char *text; /* owned */
    slew_tree tree;
    slew_error *error;
} editor;

static bool refuse(editor *e, slew_status status, const char *message)
{
    *e->error = (slew_error){.status = status};
    slew_say(e->error->message, sizeof e->error->message, "%s", message);
    return false;
}

static bool no_memory(editor *e)
{
    return refuse(e, SLEW_ERROR_MEMORY, "memory is short");
}

/* a text put together; NULL: memory is short. The caller's to free. */
static char *join(const char *a, const char *b, const char *c, const char *d)
{
    size_t length = strlen(a) + strlen(b) + strlen(c) + strlen(d) + 1;
    char *whole = malloc(length);
    if (whole != NULL)
        snprintf(whole, length, "%s%s%s%s", a, b, c, d);
    return whole;
}

static size_t byte_of(const char *text, size_t character)
{
    size_t byte = 0, left = strlen(text);
    for (; character > 0 && byte < left; character--) {
        size_t length = slew_utf8_length(text + byte, left - byte);
        byte += length > 0 ? length : 1;
    }
    return byte;
}

/* puts `piece` (its own, may be NULL: memory was short) in the place of some bytes */
static bool replace(editor *e, size_t begin, size_t end, char *piece)
{
    size_t length = strlen(e->text), added = piece != NULL ? strlen(piece) : 0;
    char *whole = piece != NULL ? malloc(length - (end - begin) + added + 1) : NULL;
    if (whole != NULL) {
        memcpy(whole, e->text, begin);
        memcpy(whole + begin, piece, added);
        strcpy(whole + begin + added, e->text + end);
        free(e->text);
        e->text = whole;
    }
    free(piece);
    return whole != NULL || no_memory(e);
}

/* ---- nodes ---- */

static int last_child(const slew_tree *tree, int node)
{
    int last = tree->node[node].first;
    while (last >= 0 && tree->node[last].next >= 0)
        last = tree->node[last].next;
    return last;
}

static size_t begin_of(const editor *e, int node)
{
    return byte_of(e->text, e->tree.node[node].begin);
}

/* behind the last character of the node that is no blank */
static size_t end_of(const editor *e, int node)
{
    const slew_node *own = &e->tree.node[node];
    int last = last_child(&e->tree, node);
    if (own->kind != SLEW_NODE_SCALAR && !own->flow && last >= 0)
        return end_of(e, last);
    size_t begin = begin_of(e, node), end = byte_of(e->text, own->end);
    while (end > begin && slew_is_blank(e->text[end - 1]))
        end--;
    return end;
}

static bool is_empty(const slew_tree *tree, int node)
{
    return tree->node[node].nothing || tree->node[node].first < 0;
}

/* The node of a path in a map, or -1: then *map is the innermost map on its way, *rest the path in
 * that. */
static int find(const slew_tree *tree, int *map, const char **rest)
{
    for (int name = tree->node[*map].first; name >= 0;) {
        int value = tree->node[name].next;
        const char *own = slew_node_text(tree, name);
        size_t length = strlen(own);
        if (strcmp(own, *rest) == 0)
            return value;
        bool inside = length > 0 && strncmp(own, *rest, length) == 0 && (*rest)[length] == '.' &&
                      (tree->node[value].kind == SLEW_NODE_MAP || tree->node[value].nothing);
        if (inside) {
            *map = value;
            *rest += length + 1;
            return find(tree, map, rest);
        }
        name = tree->node[value].next;
    }
    return -1;
}

/* ---- writing ---- */

static bool put_in_place(editor *e, int node, const char *value)
{
    size_t begin = begin_of(e, node), end = end_of(e, node);
    bool needs_blank = begin > 0 && e->text[begin - 1] == ':';
    return replace(e, begin, end, join(needs_blank ? " " : "", value, "", ""));
}

static size_t end_of_line(const char *text, size_t at)
{
    return at + strcspn(text + at, "\r\n");
}

/* in braces behind the last value; else in a line of its own below it */
static bool add_to_map(editor *e, int map, const char *key, const char *value)
{
    const slew_node *own = &e->tree.node[map];
    size_t end = end_of(e, last_child(&e->tree, map));
    if (own->flow)
        return replace(e, end, end, join(", ", key, ": ", value));
    char indent[128];
    int column = e->tree.node[own->first].mark.column;
    snprintf(indent, sizeof indent, "\n%*s", column > 100 ? 100 : column - 1, "");
    size_t at = end_of_line(e->text, end);
    char *entry = join(key, ": ", value, "");
    bool added = entry != NULL ? replace(e, at, at, join(indent, entry, "", "")) : no_memory(e);
    free(entry);
    return added;
}

/* a map of one key in braces; NULL: memory is short */
static char *braces(const char *key, const char *value)
{
    char *entry = join("{", key, ": ", value);
    char *whole = entry != NULL ? join(entry, "}", "", "") : NULL;
    free(entry);
    return whole;
}

static bool put_braces(editor *e, int node, const char *key, const char *value)
{
    char *whole = braces(key, value);
    bool put = whole != NULL ? put_in_place(e, node, whole) : no_memory(e);
    free(whole);
    return put;
}

static bool put_in_map(editor *e, int map, const char *key, const char *value)
{
    int node = find(&e->tree, &map, &key);
    if (node >= 0)
        return put_in_place(e, node, value);
    return is_empty(&e->tree, map) ? put_braces(e, map, key, value)
                                   : add_to_map(e, map, key, value);
}

/* a group that is not there comes with its one key */
static bool put_in_group(editor *e, const char *group, const char *key, const char *value)
{
    int map = 0;
    const char *rest = group;
    int node = *group != '\0' ? find(&e->tree, &map, &rest) : 0;
    if (node >= 0)
        return put_in_map(e, node, key, value);
    char *whole = braces(key, value);
    bool put = whole != NULL ? put_in_map(e, 0, group, whole) : no_memory(e);
    free(whole);
    return put;
}

/* ---- values ---- */

/* a plain scalar that means itself in braces too */
static bool is_plain(const char *value)
{
    static const char safe[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
                               "0123456789 ._%/+-^()";
    bool starts = slew_is_letter(*value) || slew_is_digit(*value) ||
                  ((*value == '-' || *value == '+' || *value == '.') && slew_is_digit(value[1]));
    size_t length = strlen(value);
    return starts && strspn(value, safe) == length && value[length - 1] != ' ' &&
           strcmp(value, "null") != 0;
}

static char *quote(const char *value)
{
    char *quoted = malloc(2 * strlen(value) + 3), *end = quoted;
    if (quoted == NULL)
        return NULL;
    *end++ = '"';
    for (; *value != '\0'; value++) {
        if (*value == '"' || *value == '\\')
            *end++ = '\\';
        *end++ = *value;
    }
    strcpy(end, "\"");
    return quoted;
}

/* ---- all edits ---- */

static bool read_tree(editor *e)
{
    slew_sources sources = {"", e->text, strlen(e->text), NULL};
    slew_report report = {.sources = &sources, .severity = SLEW_ERROR_INPUT};
    bool read = slew_tree_read(&e->tree, e->text, sources.length, &report) &&
                e->tree.node[0].kind == SLEW_NODE_MAP;
    slew_status status = slew_report_end(&report, (slew_error_sink){0});
    if (status == SLEW_ERROR_MEMORY)
        return no_memory(e);
    return read || refuse(e, SLEW_ERROR_INPUT, "the text is no scenario any more");
}

static bool apply(editor *e, const slew_edit *edit)
{
    char *quoted = edit->as_is || is_plain(edit->value) ? NULL : quote(edit->value);
    const char *value = quoted != NULL ? quoted : edit->value;
    bool applied = read_tree(e) && put_in_group(e, edit->group, edit->key, value);
    slew_tree_free(&e->tree);
    free(quoted);
    return applied;
}

char *slew_scenario_edit(const char *text, const slew_edit *edits, int count, slew_error *error)
{
    size_t length = strlen(text);
    const char *start = slew_source_skip_mark(text, &length);
    editor e = {.text = join(start, "", "", ""), .error = error};
    bool right = e.text != NULL || no_memory(&e);
    for (int i = 0; i < count && right; i++)
        right = apply(&e, &edits[i]);
    char *whole = right ? join(start > text ? "\xEF\xBB\xBF" : "", e.text, "", "") : NULL;
    if (right && whole == NULL)
        no_memory(&e);
    free(e.text);
    return whole;
}

char *slew_scenario_text(const char *path, slew_error *error)
{
    size_t length;
    *error = (slew_error){.status = SLEW_ERROR_FILE};
    slew_say(error->source, sizeof error->source, "%s", path);
    return slew_source_read(path, &length, error);
}
