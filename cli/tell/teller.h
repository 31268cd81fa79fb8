/*
 * teller.h - a record tells its figures, each with its name, unit and value, to whoever listens: a
 * JSON document (json.h), or the names and values of a CSV row (csv.h).
 *
 *     static void tell_step(cli_teller *t, const slew_margin_step *p)
 *     {
 *         cli_tell_degrees(t, "clearance_deg", p->clearance);
 *         cli_tell_share(t, "hard_stop", &p->fault);
 *     }
 *
 * Nested records open and close; their names become objects in JSON and prefixes of the columns in
 * CSV: "rotation" with "median_deg" inside is the column rotation_median_deg. A list is told to a
 * document alone; in a table each of its records is a row of its own.
 */
#ifndef SLEW_CLI_TELL_TELLER_H
#define SLEW_CLI_TELL_TELLER_H

#include <stdbool.h>
#include <stdint.h>

#include "slewtime/study.h"

typedef struct cli_listener {
    void (*open)(void *context, const char *name, bool is_list, bool is_there);
    void (*close)(void *context);
    void (*number)(void *context, const char *name, double value); /* not finite: there is none */
    void (*integer)(void *context, const char *name, int64_t value);
    void (*boolean)(void *context, const char *name, bool value);
    void (*text)(void *context, const char *name, const char *value); /* NULL: there is none */
    void (*nothing)(void *context, const char *name);                 /* NULL: takes no notice */
} cli_listener;

typedef struct cli_teller {
    const cli_listener *listener;
    void *context;
    bool in_full;  /* a document; false: a row, which leaves out what does not fit a table */
    int absent;    /* how many records up to one that is not there */
    bool left_out; /* the next figure is not there */
} cli_teller;

/* What tells one record to a listener. */
typedef void cli_record(cli_teller *teller, const void *what);

/* ---- Figures: a name ends in its unit; in a list names are NULL ---- */

void cli_tell_number(cli_teller *teller, const char *name, double value); /* NaN: there is none */
void cli_tell_integer(cli_teller *teller, const char *name, int64_t value);
void cli_tell_boolean(cli_teller *teller, const char *name, bool value);
void cli_tell_text(cli_teller *teller, const char *name, const char *value); /* NULL, "": none */
void cli_tell_unit(cli_teller *teller, const char *name, const char *unit);  /* "" of a ratio */
void cli_tell_degrees(cli_teller *teller, const char *name, double radians);
void cli_tell_axis(cli_teller *teller, const char *name, int axis); /* SLEW_NO_AXIS: none */
void cli_tell_nothing(cli_teller *teller, const char *name);

/* A share with its interval: {"share", "low", "high"}, in a row NAME, NAME_low, NAME_high. */
void cli_tell_share(cli_teller *teller, const char *name, const slew_share *share);

/* The angles of both axes: "rotation_deg" and "elevation_deg", of the record that is open. */
void cli_tell_angles(cli_teller *teller, const double radians[SLEW_AXES]);

/* A number for each axis: {"rotation", "elevation"}. */
void cli_tell_axes(cli_teller *teller, const char *name, const double value[SLEW_AXES]);

/* The next figure is told only if it is there: an object goes without it, a row leaves it empty. */
void cli_tell_next_if(cli_teller *teller, bool is_there);

/* ---- Records and lists ---- */

void cli_tell_open(cli_teller *teller, const char *name);
void cli_tell_open_if(cli_teller *teller, const char *name, bool is_there); /* else null, empty */
void cli_tell_open_list(cli_teller *teller, const char *name);
void cli_tell_close(cli_teller *teller);

/* Opens a record of that name, or in a list without one, tells what `record` tells, and closes it.
 */
void cli_tell_record(cli_teller *teller, const char *name, cli_record *record, const void *what);

/* Tells what `record` tells as figures of the record that is open, only if it is there: an object
 * goes without them, a row leaves them empty. */
void cli_tell_figures_if(cli_teller *teller, cli_record *record, const void *what, bool is_there);

#endif
