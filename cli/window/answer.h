/* answer.h - the answer of `slewtime window` as text, JSON, CSV and picture. */
#ifndef SLEW_CLI_WINDOW_ANSWER_H
#define SLEW_CLI_WINDOW_ANSWER_H

#include <stdio.h>

#include "line/options.h"
#include "slewtime/window.h"

/* The line on which the controller reads the sensor: supply, series resistor, line, sensor, ground.
 */
typedef struct cli_sense {
    bool asked;
    double supply;         /* [V] */
    double series, closed; /* the resistor, and the closed sensor with its wires [ohm] */
} cli_sense;

typedef struct cli_window {
    const slew_scenario *scenario;
    int axis;
    slew_setup today;
    cli_sense sense;
    slew_window window;
} cli_window;

/* Reads --tolerance KEY=T,... into the ranges around the figures of the axis' magnet. Returns an
 * exit code. */
int cli_window_tolerances(const char *text, const slew_magnet *magnet,
                          slew_window_question *question);

/* Reads --sense SUPPLY,SERIES,CLOSED. Returns an exit code. */
int cli_window_sense(const char *text, cli_sense *sense);

/* What was found, in one line. */
void cli_window_finding(const cli_window *answer, char *text, size_t size);

/* What the approach rules make of it, in one line; "": nothing. */
void cli_window_rules(const cli_window *answer, char *text, size_t size);

/* "from the left" */
const char *cli_window_start_words(int axis, slew_window_start start);
const char *cli_approach_word(slew_approach approach);

/* true: the sensor closes and opens again. */
bool cli_window_has_edges(const cli_window *answer);

void cli_window_print(const void *answer);
void cli_window_print_home(const cli_window *answer);  /* the part about the controller */
int cli_window_json(const void *answer);               /* returns an exit code */
void cli_window_csv(FILE *stream, const void *answer); /* one row for each rule, start and speed */

/* Draws flux density against angle, and the home position against speed. Returns an exit code. */
int cli_window_draw(const char *path, const void *answer);

#endif
