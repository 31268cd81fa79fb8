/* csv.h - a text of comma-separated values, line by line, with the place of each field. */
#ifndef SLEW_SCENARIO_CSV_H
#define SLEW_SCENARIO_CSV_H

#include "scenario/report.h"

enum { SLEW_FIELDS_MAX = 32, SLEW_FIELD_MAX = 96 };

typedef struct slew_field {
    char text[SLEW_FIELD_MAX]; /* without blanks at its ends, and without its quotes */
    slew_mark mark;
} slew_field;

typedef struct slew_fields {
    int line, count; /* count: as many as there are, of which SLEW_FIELDS_MAX are kept */
    slew_field field[SLEW_FIELDS_MAX];
} slew_fields;

typedef struct slew_csv {
    const char *text, *end;
    int line;
    char separator; /* a comma, or a semicolon if the first line has semicolons alone */
} slew_csv;         /* {text, text + length, 0, 0} to begin with */

/* The next line that is neither empty nor a comment (#). false: there is none. A field that is too
 * long or whose quotes do not end is in the report. */
bool slew_csv_next(slew_csv *csv, slew_fields *out, slew_report *errors);

#endif
