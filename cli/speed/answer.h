/* answer.h - the answer of `slewtime speed`, and how it is told. */
#ifndef SLEW_CLI_SPEED_ANSWER_H
#define SLEW_CLI_SPEED_ANSWER_H

#include <stdio.h>

#include "draw/plot.h"
#include "line/options.h"
#include "slewtime/speed.h"
#include "tell/teller.h"

enum { CLI_SPEED_OCCASIONS = 2 };

typedef struct cli_speed {
    const slew_scenario *scenario;
    bool all;  /* every row is told, not only those that matter */
    int axis;  /* the only one that is told of; SLEW_NO_AXIS: both */
    int count; /* of occasions asked about */
    slew_speed_question question[CLI_SPEED_OCCASIONS];
    slew_speed answer[CLI_SPEED_OCCASIONS];
} cli_speed;

/* ---- What is asked ---- */

/* Reads which occasions count, and what is asked of each. Returns an exit code. */
int cli_speed_questions(const cli_options *options, cli_speed *speed);

/* true: it is one of the axes asked about. */
bool cli_speed_is_asked(const cli_speed *speed, const slew_speed_curve *curve);

/* ---- In words ---- */

/* "today", "deploy_day" */
const char *cli_speed_occasion(const cli_speed *speed, int index);

/* "today" or "on deploy day" */
const char *cli_speed_when(const cli_speed *speed, int index);

/* "elevation up" */
void cli_speed_name(const slew_speed_curve *curve, char *text, size_t size);

/* "dry", "at 102 psi" */
void cli_speed_level(const cli_speed *speed, const slew_speed_level *level, char *text,
                     size_t size);

/* What was found on one occasion, in one line. */
void cli_speed_finding(const cli_speed *speed, int index, char *text, size_t size);

/* Why an axis does not get from stop to stop, in a word; "" if it does. */
const char *cli_speed_trouble(const slew_speed_row *row);

/* ---- The ways of telling it, for cli_frame ---- */

void cli_speed_text(const void *what);
void cli_speed_document(cli_teller *teller, const void *what);
void cli_speed_table(FILE *stream, const void *what);  /* one row for each curve and voltage */
void cli_speed_curves(FILE *stream, const void *what); /* one row for each curve */
bool cli_speed_fill(cli_plot *plot, const void *what); /* the picture of the first occasion */

#endif
