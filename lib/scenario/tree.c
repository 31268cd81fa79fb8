/* tree.c - a YAML text as a tree of maps, lists and scalars that know their line and column. */
#include "scenario/tree.h"

#include <stdlib.h>
#include <string.h>
#include <yaml.h>

#include "keys/text.h"

typedef struct builder {
    slew_tree *tree;
    slew_report *errors;
    int open[SLEW_TREE_DEPTH]; /* maps and lists that are not closed yet */
    int last[SLEW_TREE_DEPTH]; /* child of each so far; -1: none */
    int depth;
    bool whole; /* the document has ended */
} builder;

const char *slew_node_text(const slew_tree *tree, int node)
{
    const slew_node *own = &tree->node[node];
    return own->kind == SLEW_NODE_SCALAR ? tree->text + own->text : "";
}

void slew_tree_free(slew_tree *tree)
{
    if (tree == NULL)
        return;
    free(tree->node);
    free(tree->text);
    *tree = (slew_tree){0};
}

/* ---- what is wrong ---- */

static slew_mark mark_of(yaml_mark_t mark)
{
    return (slew_mark){SLEW_FROM_FILE, (int)mark.line + 1, (int)mark.column + 1};
}

static bool refuse(builder *b, slew_mark mark, const char *message, const char *expected)
{
    slew_error error = {.status = SLEW_ERROR_INPUT};
    slew_say(error.message, sizeof error.message, "%s", message);
    slew_say(error.expected, sizeof error.expected, "%s", expected);
    slew_report_add(b->errors, mark, &error);
    return false;
}

static bool no_memory(builder *b)
{
    slew_report_no_memory(b->errors);
    return false;
}

static bool not_yaml(builder *b, const yaml_parser_t *parser)
{
    char message[200];
    if (parser->error == YAML_MEMORY_ERROR)
        return no_memory(b);
    if (parser->context != NULL)
        slew_say(message, sizeof message, "not valid YAML: %s %s from line %d on", parser->problem,
                 parser->context, (int)parser->context_mark.line + 1);
    else
        slew_say(message, sizeof message, "not valid YAML: %s", parser->problem);
    return refuse(b, mark_of(parser->problem_mark), message, "");
}

/* ---- growing the tree ---- */

static bool room_for_node(slew_tree *tree)
{
    if (tree->count < tree->room)
        return true;
    int room = tree->room ? 2 * tree->room : 256;
    slew_node *more = realloc(tree->node, (size_t)room * sizeof *more);
    if (more == NULL)
        return false;
    tree->node = more;
    tree->room = room;
    return true;
}

static bool room_for_text(slew_tree *tree, size_t length)
{
    size_t needed = tree->length + length + 1;
    if (needed <= tree->text_room)
        return true;
    size_t room = needed + needed / 2 + 4096;
    char *more = realloc(tree->text, room);
    if (more == NULL)
        return false;
    tree->text = more;
    tree->text_room = room;
    return true;
}

/* hangs a new node under the innermost open one */
static int add_node(builder *b, slew_node_kind kind, const yaml_event_t *event)
{
    yaml_mark_t mark = event->start_mark;
    slew_tree *tree = b->tree;
    /* analyzer: no leak, nodes are the tree's: slew_tree_free */
    if (!room_for_node(tree)) {
        no_memory(b);
        return -1;
    }
    int added = tree->count++;
    tree->node[added] = (slew_node){.kind = kind,
                                    .first = -1,
                                    .next = -1,
                                    .mark = mark_of(mark),
                                    .begin = mark.index,
                                    .end = event->end_mark.index};
    if (b->depth > 0) {
        int *last = &b->last[b->depth - 1];
        if (*last < 0)
            tree->node[b->open[b->depth - 1]].first = added;
        else
            tree->node[*last].next = added;
        *last = added;
    }
    return added;
}

static bool open_node(builder *b, slew_node_kind kind, bool flow, const yaml_event_t *event)
{
    if (b->depth == SLEW_TREE_DEPTH)
        return refuse(b, mark_of(event->start_mark), "nested too deeply", "at most 8 levels");
    int node = add_node(b, kind, event);
    if (node < 0)
        return false;
    b->tree->node[node].flow = flow;
    b->open[b->depth] = node;
    b->last[b->depth++] = -1;
    return true;
}

static bool is_nothing(const yaml_event_t *event)
{
    const char *text = (const char *)event->data.scalar.value;
    if (event->data.scalar.style != YAML_PLAIN_SCALAR_STYLE)
        return false;
    return *text == '\0' || strcmp(text, "~") == 0 || strcmp(text, "null") == 0;
}

static bool has_control(const char *text, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        unsigned char c = (unsigned char)text[i];
        if ((c < 0x20 && c != '\t' && c != '\n') || c == 0x7F)
            return true;
    }
    return false;
}

static bool add_scalar(builder *b, const yaml_event_t *event)
{
    const char *text = (const char *)event->data.scalar.value;
    size_t length = event->data.scalar.length;
    slew_tree *tree = b->tree;
    if (has_control(text, length))
        return refuse(b, mark_of(event->start_mark), "a control character in a text", "");
    int node = add_node(b, SLEW_NODE_SCALAR, event);
    if (node < 0)
        return false;
    /* analyzer: no leak, texts are the tree's: slew_tree_free */
    if (!room_for_text(tree, length))
        return no_memory(b);
    tree->node[node].nothing = is_nothing(event);
    tree->node[node].text = tree->length;
    memcpy(tree->text + tree->length, text, length);
    tree->text[tree->length + length] = '\0';
    tree->length += length + 1;
    return true;
}

/* ---- one event ---- */

static const char *const PLAIN_YAML = "plain maps, lists and values";

static bool is_plain(builder *b, const yaml_event_t *event, const void *anchor, const void *tag)
{
    if (anchor != NULL)
        return refuse(b, mark_of(event->start_mark), "anchors are not allowed", PLAIN_YAML);
    if (tag != NULL)
        return refuse(b, mark_of(event->start_mark), "tags are not allowed", PLAIN_YAML);
    return true;
}

static bool take(builder *b, const yaml_event_t *event)
{
    switch (event->type) {
    case YAML_DOCUMENT_START_EVENT:
        return !b->whole ||
               refuse(b, mark_of(event->start_mark), "a second document", "one YAML document");
    case YAML_DOCUMENT_END_EVENT:
        b->whole = true;
        return true;
    case YAML_ALIAS_EVENT:
        return refuse(b, mark_of(event->start_mark), "aliases are not allowed", PLAIN_YAML);
    case YAML_SCALAR_EVENT:
        return is_plain(b, event, event->data.scalar.anchor, event->data.scalar.tag) &&
               add_scalar(b, event);
    case YAML_MAPPING_START_EVENT:
        return is_plain(b, event, event->data.mapping_start.anchor,
                        event->data.mapping_start.tag) &&
               open_node(b, SLEW_NODE_MAP,
                         event->data.mapping_start.style == YAML_FLOW_MAPPING_STYLE, event);
    case YAML_SEQUENCE_START_EVENT:
        return is_plain(b, event, event->data.sequence_start.anchor,
                        event->data.sequence_start.tag) &&
               open_node(b, SLEW_NODE_LIST,
                         event->data.sequence_start.style == YAML_FLOW_SEQUENCE_STYLE, event);
    case YAML_MAPPING_END_EVENT:
    case YAML_SEQUENCE_END_EVENT:
        b->tree->node[b->open[--b->depth]].end = event->end_mark.index;
        return true;
    default:
        return true;
    }
}

/* false: no more events, or something is wrong (*right) */
static bool step(builder *b, yaml_parser_t *parser, bool *right)
{
    yaml_event_t event;
    if (!yaml_parser_parse(parser, &event)) {
        *right = not_yaml(b, parser);
        return false;
    }
    *right = take(b, &event);
    bool last = event.type == YAML_STREAM_END_EVENT;
    yaml_event_delete(&event);
    return *right && !last;
}

static const char *begins(const slew_report *errors)
{
    bool other = errors->sources != NULL && errors->sources->begins != NULL;
    return other ? errors->sources->begins : "a scenario, beginning with format: 1";
}

bool slew_tree_read(slew_tree *tree, const char *text, size_t length, slew_report *errors)
{
    builder b = {.tree = tree, .errors = errors};
    yaml_parser_t parser;
    bool right = true;
    *tree = (slew_tree){0};
    if (!yaml_parser_initialize(&parser))
        return no_memory(&b);
    yaml_parser_set_encoding(&parser, YAML_UTF8_ENCODING);
    yaml_parser_set_input_string(&parser, (const unsigned char *)text, length);
    while (step(&b, &parser, &right))
        continue;
    yaml_parser_delete(&parser);
    if (right && tree->count == 0)
        return refuse(&b, (slew_mark){SLEW_FROM_FILE, 1, 1}, "the file is empty", begins(errors));
    return right;
}
