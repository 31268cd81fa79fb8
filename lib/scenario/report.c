/* report.c - errors collected with their places, then told in the order of their lines. */
#include "scenario/report.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "keys/text.h"
#include "scenario/source.h"

/* ---- collecting ---- */

static void place_in_file(const slew_sources *sources, slew_mark mark, slew_error *error)
{
    size_t length;
    const char *line = slew_source_line(sources->text, sources->length, mark.line, &length);
    slew_say(error->source, sizeof error->source, "%s", sources->name);
    if (length >= sizeof error->excerpt)
        length = sizeof error->excerpt - 1;
    if (line != NULL)
        slew_say(error->excerpt, sizeof error->excerpt, "%.*s", (int)length, line);
}

static void place_in_assignment(const slew_assignment *assignment, slew_error *error)
{
    slew_say(error->source, sizeof error->source, "%s",
             assignment->origin ? assignment->origin : "");
    slew_say(error->excerpt, sizeof error->excerpt, "%s", assignment->text);
}

void slew_report_place(const slew_sources *sources, slew_mark mark, slew_error *error)
{
    error->line = mark.line;
    error->column = mark.column;
    if (sources == NULL)
        return;
    if (mark.source >= SLEW_FROM_ASSIGNMENT)
        place_in_assignment(&sources->assignment[mark.source - SLEW_FROM_ASSIGNMENT], error);
    else
        place_in_file(sources, mark, error);
}

static slew_entry *new_entry(slew_report *report)
{
    if (report->count == report->room) {
        size_t room = report->room ? 2 * report->room : 4;
        slew_entry *more = realloc(report->entry, room * sizeof *more);
        if (more == NULL) {
            slew_report_no_memory(report);
            return NULL;
        }
        report->entry = more;
        report->room = room;
    }
    return &report->entry[report->count++];
}

void slew_report_no_memory(slew_report *report)
{
    report->worst = SLEW_ERROR_MEMORY;
}

void slew_report_add(slew_report *report, slew_mark mark, const slew_error *error)
{
    bool no_memory = error->status == SLEW_ERROR_MEMORY;
    bool warns = report->severity == SLEW_OK && !no_memory; /* whatever it would be elsewhere */
    slew_status status = warns || error->status == SLEW_OK ? report->severity : error->status;
    if (report->worst == SLEW_OK || no_memory)
        report->worst = status;
    report->more |= report->count >= SLEW_REPORT_MAX;
    slew_entry *entry = report->more ? NULL : new_entry(report);
    if (entry == NULL)
        return;
    entry->error = *error;
    entry->source = mark.source;
    entry->number = report->count;
    entry->error.status = status;
    slew_report_place(report->sources, mark, &entry->error);
}

void slew_report_say(slew_report *report, slew_mark mark, const char *key, const char *message)
{
    slew_error error = {.status = report->severity};
    slew_say(error.key, sizeof error.key, "%s", key ? key : "");
    slew_say(error.message, sizeof error.message, "%s", message);
    slew_report_add(report, mark, &error);
}

/* ---- telling ---- */

static int compare(long long a, long long b)
{
    return (a > b) - (a < b);
}

/* the file first, by lines; then the assignments, as they were given */
static int by_place(const void *left, const void *right)
{
    const slew_entry *a = left, *b = right;
    int order = compare(a->source, b->source);
    if (order == 0)
        order = compare(a->error.line, b->error.line);
    if (order == 0 && a->source == SLEW_FROM_FILE)
        order = compare(a->error.column, b->error.column);
    return order ? order : compare((long long)a->number, (long long)b->number);
}

static void tell(slew_error_sink sink, const slew_error *error)
{
    if (sink.report != NULL)
        sink.report(sink.context, error);
}

static void tell_more(const slew_report *report, slew_error_sink sink)
{
    slew_error error = {.status = report->severity};
    if (report->sources != NULL)
        slew_say(error.source, sizeof error.source, "%s", report->sources->name);
    slew_say(error.message, sizeof error.message, "there are more than the first %d",
             SLEW_REPORT_MAX);
    tell(sink, &error);
}

slew_status slew_report_end(slew_report *report, slew_error_sink sink)
{
    slew_status worst = report->worst;
    if (report->count > 0)
        qsort(report->entry, report->count, sizeof *report->entry, by_place);
    for (size_t i = 0; i < report->count; i++)
        tell(sink, &report->entry[i].error);
    if (report->more)
        tell_more(report, sink);
    free(report->entry);
    *report = (slew_report){.sources = report->sources, .severity = report->severity};
    return worst;
}
