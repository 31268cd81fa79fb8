/* csv.c - see csv.h. */
#include "csv.h"

#include <inttypes.h>
#include <math.h>
#include <string.h>

enum { NAME_MAX = 160, DEPTH_MAX = 16 };

typedef struct writer {
    FILE *stream;
    bool names; /* are written, not values */
    bool begun; /* the next field has a comma before it */
    char prefix[NAME_MAX];
    size_t length[DEPTH_MAX]; /* of the prefix outside of each open record */
    int depth, lists;         /* records open, outside of lists; lists and records within them */
} writer;

/* a reader may take blanks at the begin of a bare field away */
static void write_text(FILE *stream, const char *text)
{
    if (strpbrk(text, ",\"\r\n") == NULL && text[0] != ' ') {
        fputs(text, stream);
        return;
    }
    fputc('"', stream);
    for (; *text != '\0'; text++) {
        if (*text == '"')
            fputc('"', stream);
        fputc(*text, stream);
    }
    fputc('"', stream);
}

/* without a name it stands for the record itself */
static void write_name(const writer *w, const char *name)
{
    char whole[2 * NAME_MAX];
    if (name == NULL)
        snprintf(whole, sizeof whole, "%.*s", (int)strlen(w->prefix) - 1, w->prefix);
    else
        snprintf(whole, sizeof whole, "%s%s", w->prefix, name);
    write_text(w->stream, whole);
}

/* begins a field; true: its value is wanted */
static bool field(writer *w, const char *name)
{
    if (w->lists > 0)
        return false;
    if (w->begun)
        fputc(',', w->stream);
    w->begun = true;
    if (w->names)
        write_name(w, name);
    return !w->names;
}

static void open(void *context, const char *name, bool is_list, bool is_there)
{
    writer *w = context;
    (void)is_there;
    if (is_list || w->lists > 0) {
        w->lists++;
        return;
    }
    size_t length = strlen(w->prefix);
    if (w->depth < DEPTH_MAX)
        w->length[w->depth++] = length;
    snprintf(w->prefix + length, NAME_MAX - length, "%s_", name);
}

static void close(void *context)
{
    writer *w = context;
    if (w->lists > 0)
        w->lists--;
    else
        w->prefix[w->length[--w->depth]] = '\0';
}

static void number(void *context, const char *name, double value)
{
    writer *w = context;
    if (field(w, name) && isfinite(value))
        fprintf(w->stream, "%.12g", value);
}

static void integer(void *context, const char *name, int64_t value)
{
    writer *w = context;
    if (field(w, name))
        fprintf(w->stream, "%" PRId64, value);
}

static void boolean(void *context, const char *name, bool value)
{
    writer *w = context;
    if (field(w, name))
        fputs(value ? "true" : "false", w->stream);
}

static void text(void *context, const char *name, const char *value)
{
    writer *w = context;
    if (field(w, name) && value != NULL)
        write_text(w->stream, value);
}

static void nothing(void *context, const char *name)
{
    field(context, name);
}

static const cli_listener listener = {open, close, number, integer, boolean, text, nothing};

static void write_line(FILE *stream, bool names, cli_record *record, const void *what)
{
    writer w = {.stream = stream, .names = names};
    cli_teller teller = {.listener = &listener, .context = &w};
    record(&teller, what);
    fputc('\n', stream);
}

void cli_csv_names(FILE *stream, cli_record *record, const void *what)
{
    write_line(stream, true, record, what);
}

void cli_csv_values(FILE *stream, cli_record *record, const void *what)
{
    write_line(stream, false, record, what);
}

void cli_csv_row(FILE *stream, bool is_first, cli_record *record, const void *what)
{
    if (is_first)
        cli_csv_names(stream, record, what);
    cli_csv_values(stream, record, what);
}
