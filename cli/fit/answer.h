/* answer.h - the answer of `slewtime fit`, and how its parts are told. */
#ifndef SLEW_CLI_FIT_ANSWER_H
#define SLEW_CLI_FIT_ANSWER_H

#include <stdio.h>

#include "draw/plot.h"
#include "slewtime/fit.h"
#include "tell/key_words.h"
#include "tell/teller.h"

enum { CLI_FIT_WORDS_MAX = 400 };

typedef struct cli_fit {
    const slew_scenario *scenario;
    slew_timings timings;
    bool all;                   /* readings, not only those that are furthest off */
    const char *path;           /* of the timings */
    slew_fit_question question; /* of these */
    const char *written;        /* file of the calibrated scenario; NULL: none */
    slew_fit fit;
    char finding[CLI_FIT_WORDS_MAX]; /* in a sentence */
} cli_fit;

/* ---- Words ---- */

/* A figure of a key in its unit, and the unit, of a difference too. */
double cli_fit_in_unit(int key, double value);
double cli_fit_difference(int key, double difference);
const char *cli_fit_unit(int key);
const char *cli_fit_difference_unit(int key);

/* Decimals that show two digits of a standard error; 0 of one of 10 or more. */
int cli_fit_decimals(double sd);

/* As people read it, in the units that they ask for: a value or a difference of a key in SI, and
 * its unit. */
double cli_fit_shown(int key, slew_unit_system units, bool is_difference, double value);
const char *cli_fit_sign(int key, slew_unit_system units);

/* "elevation gear efficiency"; of what an instrument adds its own: "stopwatch bias". */
void cli_fit_name_words(int key, char words[CLI_KEY_WORDS_MAX]);

/* "elevation up, lower stop to upper stop, 13.4 V, dry". */
void cli_fit_row_words(const slew_timing *row, slew_unit_system units,
                       char text[CLI_FIT_WORDS_MAX]);

/* What was found, in a sentence. */
void cli_fit_finding(const cli_fit *a, char text[CLI_FIT_WORDS_MAX]);

/* Which figures a blur is about, with those of other blurs that share some, and what of them
 * counts. false: an earlier blur has said the same. */
bool cli_fit_blur_words(const slew_fit *fit, int blur, char text[CLI_FIT_WORDS_MAX]);

/* What caution.h is to warn of; empty: nothing. */
const char *cli_fit_dangers(const cli_fit *a);

/* ---- The ways of telling it, for cli_frame ---- */

void cli_fit_text(const void *what);
void cli_fit_document(cli_teller *teller, const void *what);
void cli_fit_table(FILE *stream, const void *what); /* one row for each reading */
bool cli_fit_fill(cli_plot *plot, const void *what);

#endif
