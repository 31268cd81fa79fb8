/* json.c - see json.h. */
#include "json.h"

#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "line/exit_code.h"
#include "line/report.h"
#include "utf8.h"

enum { DEPTH_MAX = 16 };

/* the objects and lists that are open, the document first */
typedef struct writer {
    json_t *open[DEPTH_MAX];
    int depth;
    int absent; /* records open inside one that is not there */
    bool short_of_memory;
} writer;

/* Takes the value over. NULL: memory is short, now or before, and the value is no more. */
static json_t *add(writer *w, const char *name, json_t *value)
{
    json_t *place = w->short_of_memory ? NULL : w->open[w->depth];
    int failed = json_is_array(place) ? json_array_append_new(place, value)
                                      : json_object_set_new(place, name, value);
    w->short_of_memory = w->short_of_memory || failed != 0;
    return failed == 0 ? value : NULL;
}

static void open(void *context, const char *name, bool is_list, bool is_there)
{
    writer *w = context;
    if (w->absent > 0 || !is_there) {
        if (w->absent++ == 0)
            add(w, name, json_null());
        return;
    }
    json_t *inner = add(w, name, is_list ? json_array() : json_object());
    if (w->depth + 1 < DEPTH_MAX)
        w->open[++w->depth] = inner;
}

static void close(void *context)
{
    writer *w = context;
    if (w->absent > 0)
        w->absent--;
    else
        w->depth--;
}

static void number(void *context, const char *name, double value)
{
    add(context, name, isfinite(value) ? json_real(value) : json_null());
}

static void integer(void *context, const char *name, int64_t value)
{
    add(context, name, json_integer(value));
}

static void boolean(void *context, const char *name, bool value)
{
    add(context, name, json_boolean(value));
}

/* A text that is not UTF-8 has no place in a document. jansson gives nothing for it, as it does
 * where memory is short. */
static void text(void *context, const char *name, const char *value)
{
    bool tells = value != NULL && cli_utf8_is(value);
    add(context, name, tells ? json_string(value) : json_null());
}

static const cli_listener listener = {open, close, number, integer, boolean, text, NULL};

/* In room of our own: where jansson gets it, it leaves out what it has no room for. NULL: memory is
 * short. */
static char *write_out(const json_t *document, size_t flags)
{
    size_t length = json_dumpb(document, NULL, 0, flags);
    char *text = length > 0 ? malloc(length + 1) : NULL;
    if (text != NULL && json_dumpb(document, text, length, flags) != length) {
        free(text);
        return NULL;
    }
    if (text != NULL)
        text[length] = '\0';
    return text;
}

/* NULL: memory is short */
static char *dump(cli_record *record, const void *what, size_t flags)
{
    writer w = {.open[0] = json_object()};
    cli_teller teller = {.listener = &listener, .context = &w, .in_full = true};
    if (w.open[0] == NULL)
        return NULL;
    record(&teller, what);
    char *document = w.short_of_memory ? NULL : write_out(w.open[0], flags | JSON_PRESERVE_ORDER);
    json_decref(w.open[0]);
    return document;
}

int cli_json_write(cli_record *record, const void *what)
{
    char *document = dump(record, what, JSON_REAL_PRECISION(12) | JSON_INDENT(1));
    if (document == NULL)
        return cli_no_memory();
    puts(document);
    free(document);
    return CLI_OK;
}

char *cli_json_line(cli_record *record, const void *what)
{
    return dump(record, what, JSON_REAL_PRECISION(17) | JSON_COMPACT);
}
