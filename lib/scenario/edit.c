/* edit.c - values written into the text of a scenario file, everything else left as it stands. */
#include "slewtime/edit.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "error/error.h"
#include "keys/text.h"
#include "scenario/source.h"
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

/* The children of a map, or of a list, whose names are numbers from 0. */
typedef struct children {
    const slew_tree *tree;
    bool list;
    int next, count;
    int node; /* the present child */
    char number[16];
    const char *name;
} children;

static children children_of(const slew_tree *tree, int node)
{
    return (children){.tree = tree,
                      .list = tree->node[node].kind == SLEW_NODE_LIST,
                      .next = tree->node[node].first};
}

static bool next_child(children *c)
{
    if (c->next < 0)
        return false;
    snprintf(c->number, sizeof c->number, "%d", c->count++);
    c->name = c->list ? c->number : slew_node_text(c->tree, c->next);
    c->node = c->list ? c->next : c->tree->node[c->next].next;
    c->next = c->tree->node[c->node].next;
    return true;
}

/* has children, or could have them */
static bool is_open(const slew_tree *tree, int node)
{
    return tree->node[node].kind != SLEW_NODE_SCALAR || tree->node[node].nothing;
}

/* The node of a path, or -1: then *inner is the innermost map or list on its way, *rest the path in
 * that. */
static int find(const slew_tree *tree, int *inner, const char **rest)
{
    children c = children_of(tree, *inner);
    while (next_child(&c)) {
        size_t length = strlen(c.name);
        if (strcmp(c.name, *rest) == 0)
            return c.node;
        if (length > 0 && strncmp(c.name, *rest, length) == 0 && (*rest)[length] == '.' &&
            is_open(tree, c.node)) {
            *inner = c.node;
            *rest += length + 1;
            return find(tree, inner, rest);
        }
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

/* in braces behind the last child; else in a line of its own below it, in the first one's column */
static bool add_entry(editor *e, int node, const char *entry)
{
    const slew_node *own = &e->tree.node[node];
    bool list = own->kind == SLEW_NODE_LIST;
    size_t end = end_of(e, last_child(&e->tree, node));
    if (own->flow)
        return replace(e, end, end, join(", ", entry, "", ""));
    char indent[128];
    int column = list ? own->mark.column : e->tree.node[own->first].mark.column;
    snprintf(indent, sizeof indent, "\n%*s", column > 100 ? 100 : column - 1, "");
    size_t at = end_of_line(e->text, end);
    return replace(e, at, at, join(indent, list ? "- " : "", entry, ""));
}

static const char ONE_MORE[] = "+";

/* "key: value", or an item of a list */
static char *entry_of(const char *key, const char *value)
{
    return strcmp(key, ONE_MORE) == 0 ? join(value, "", "", "") : join(key, ": ", value, "");
}

/* a map, or list, of one entry */
static char *braces(const char *key, const char *value)
{
    char *entry = entry_of(key, value), *whole = NULL;
    bool list = strcmp(key, ONE_MORE) == 0;
    if (entry != NULL)
        whole = join(list ? "[" : "{", entry, list ? "]" : "}", "");
    free(entry);
    return whole;
}

static bool put_in_node(editor *e, int node, const char *key, const char *value)
{
    int place = find(&e->tree, &node, &key);
    if (place >= 0)
        return put_in_place(e, place, value);
    bool empty = is_empty(&e->tree, node);
    char *entry = empty ? braces(key, value) : entry_of(key, value);
    bool put = entry != NULL && (empty ? put_in_place(e, node, entry) : add_entry(e, node, entry));
    if (entry == NULL)
        no_memory(e);
    free(entry);
    return put;
}

/* a group that is not there comes with its one entry */
static bool put_in_group(editor *e, const char *group, const char *key, const char *value)
{
    int inner = 0;
    const char *rest = group;
    int node = *group != '\0' ? find(&e->tree, &inner, &rest) : 0;
    if (node >= 0)
        return put_in_node(e, node, key, value);
    char *whole = braces(key, value);
    bool put = whole != NULL ? put_in_node(e, 0, group, whole) : no_memory(e);
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
    slew_sources sources = {.name = "", .text = e->text, .length = strlen(e->text)};
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
    slew_error unheard;
    if (error == NULL)
        error = &unheard;
    if (text == NULL || (edits == NULL && count > 0)) {
        slew_no_argument(error);
        return NULL;
    }
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
    slew_error unheard;
    size_t length;
    if (error == NULL)
        error = &unheard;
    if (path == NULL) {
        slew_no_argument(error);
        return NULL;
    }
    *error = (slew_error){.status = SLEW_ERROR_FILE};
    slew_say(error->source, sizeof error->source, "%s", path);
    return slew_source_read(path, &length, error);
}
