/* answer.h - the answer of `slewtime window`, and how it is told. */
#ifndef SLEW_CLI_WINDOW_ANSWER_H
#define SLEW_CLI_WINDOW_ANSWER_H

#include <stdio.h>

#include "draw/plot.h"
#include "slewtime/window.h"
#include "tell/teller.h"

/* The line on which the controller reads the sensor: supply, series resistor, line, sensor, ground.
 */
typedef struct cli_sense {
    bool asked;
    double supply;         /* [V] */
    double series, closed; /* the resistor, and the closed sensor with its wires [ohm] */
    double voltage;        /* on the line while it is closed [V] */
} cli_sense;

typedef struct cli_window {
    const slew_scenario *scenario;
    int axis;
    bool all; /* every rule in the table, not the own one alone */
    slew_setup today;
    cli_sense sense;
    slew_window window;
} cli_window;

/* ---- What is asked ---- */

/* Reads --tolerance KEY=T,... into the ranges around the figures of the axis' magnet. Returns an
 * exit code. */
int cli_window_tolerances(const char *text, const slew_magnet *magnet,
                          slew_window_question *question);

/* Reads --sense SUPPLY,SERIES,CLOSED. Returns an exit code. */
int cli_window_sense(const char *text, cli_sense *sense);

/* ---- In words ---- */

/* What was found, in one line. */
void cli_window_finding(const cli_window *answer, char *text, size_t size);

/* What the approach rules make of it, in one line; "": nothing. */
void cli_window_rules(const cli_window *answer, char *text, size_t size);

/* "left", "below", "inside" */
const char *cli_window_start_word(int axis, slew_window_start start);

/* "0.354 in" or "9 mm", of a figure of a magnet */
void cli_window_say_figure(const cli_window *answer, int figure, double value, char *text,
                           size_t size);

/* Where an approach rule homes from: "from above", "from whichever side". */
const char *cli_window_rule_words(int axis, slew_approach rule);

/* That of the scenario's own search. */
const char *cli_window_own_rule(const cli_window *answer);

bool cli_window_has(const cli_window *answer, slew_window_remark remark);

/* true: the sensor closes and opens again. */
bool cli_window_has_edges(const cli_window *answer);

/* ---- The ways of telling it, for cli_frame ---- */

void cli_window_text(const void *what);
void cli_window_print_edges(const cli_window *answer); /* tables of the text: where it closes */
void cli_window_print_home(const cli_window *answer);  /* and where home is taken */
void cli_window_document(cli_teller *teller, const void *what);
void cli_window_table(FILE *stream, const void *what);  /* one row for each rule, start and speed */
bool cli_window_fill(cli_plot *plot, const void *what); /* flux against angle, home against speed */

#endif
