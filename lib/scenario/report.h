/*
 * report.h - errors collected with their places, then told in the order of their lines.
 */
#ifndef SLEW_SCENARIO_REPORT_H
#define SLEW_SCENARIO_REPORT_H

#include "keys/keys.h"
#include "slewtime/read.h"

/* Where something stands: 0 nowhere, 1 in the file, 2 + i in assignment i. */
enum { SLEW_FROM_NOWHERE = 0, SLEW_FROM_FILE = 1, SLEW_FROM_ASSIGNMENT = 2 };

typedef struct slew_mark {
    int source;
    int line, column; /* 1-based; 0: does not apply */
} slew_mark;

/* The texts that marks point into. */
typedef struct slew_sources {
    const char *name; /* of the file */
    const char *text;
    size_t length;
    const slew_assignment *assignment;
    const char *begins; /* what such a file is, and how it begins; NULL: a scenario */
} slew_sources;

typedef struct slew_entry {
    slew_error error;
    int source;
    size_t number; /* in the order of finding */
} slew_entry;

enum { SLEW_REPORT_MAX = 100 }; /* errors told; of more only the fact */

typedef struct slew_report {
    const slew_sources *sources; /* NULL: places are not known */
    slew_status severity;        /* SLEW_ERROR_INPUT for errors, SLEW_OK for warnings */
    slew_status worst;
    slew_entry *entry; /* owned */
    size_t count, room;
    bool more; /* than are kept */
} slew_report;

/* Adds an error found at a mark; its place is filled in here. */
void slew_report_add(slew_report *report, slew_mark mark, const slew_error *error);

/* Fills in source, line, column and excerpt. */
void slew_report_place(const slew_sources *sources, slew_mark mark, slew_error *error);

/* Adds an error with nothing but a message about a key (may be NULL). */
void slew_report_say(slew_report *report, slew_mark mark, const char *key, const char *message);

/* Memory is short: said once, by the status. */
void slew_report_no_memory(slew_report *report);

/* Tells every error to the sink, frees them all, and returns the worst status. */
slew_status slew_report_end(slew_report *report, slew_error_sink sink);

#endif
