/*
 * report.h - errors and warnings on stderr, each with the way out.
 *
 *     slewtime:truck.yaml:12:13: error: supply.feed.length: "9 mm2": an area, not a length
 *         length: 9 mm2
 *                 ^
 *       expected a length of 0 m or more, for example 9 m
 */
#ifndef SLEW_CLI_LINE_REPORT_H
#define SLEW_CLI_LINE_REPORT_H

#include <stdbool.h>
#include <stdio.h>

#include "slewtime/status.h"

/* true: colour is welcome on this stream (a terminal, NO_COLOR not set). */
bool cli_colour(FILE *stream);

/* What makes the text on stdout bold and plain again; "" where colour is not welcome. */
const char *cli_bold(void);
const char *cli_plain(void);

/* One error, or warning, of the library. */
void cli_report_error(const slew_error *error);
void cli_report_warning(const slew_error *warning);

/* The same for an error of a slew_error_sink; `context` is not used. */
void cli_tell_error(void *context, const slew_error *error);

/* The way out of a wrong command line; what does not apply is NULL. */
typedef struct cli_complaint {
    const char *expected; /* what would be right */
    const char *nearest;  /* what was probably meant */
    const char *help;     /* the command whose help tells more; "" for the general help */
} cli_complaint;

/* Tells what is wrong with the command line. Always CLI_WRONG. */
int cli_complain(const cli_complaint *complaint, const char *format, ...);

/* Tells what failed outside: "cannot write x: No space left on device", and the way out (may be
 * NULL). Always CLI_OUTSIDE. */
int cli_fail(const char *way_out, const char *format, ...);
int cli_no_memory(void);

/* The same with the error of the system behind it; short memory is told as that. */
int cli_fail_errno(const char *way_out, int error, const char *format, ...);

/* The exit code that belongs to a status of the library. */
int cli_code(slew_status status);

#endif
