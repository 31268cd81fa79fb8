/* answer.h - the answer of `slewtime compare`, and how it is told. */
#ifndef SLEW_CLI_COMPARE_ANSWER_H
#define SLEW_CLI_COMPARE_ANSWER_H

#include <stdio.h>

#include "compared_runs.h"
#include "draw/plot.h"
#include "tell/teller.h"

enum { CLI_INPUT_PATH_MAX = 160, CLI_INPUT_VALUE_MAX = 64 };

/* One thing in which the scenarios differ. */
typedef struct cli_input {
    char path[CLI_INPUT_PATH_MAX]; /* "today.supply.main.voltage", "keepout.elevation (mast)" */
    char value[CLI_COLUMNS_MAX][CLI_INPUT_VALUE_MAX]; /* of each column; empty: it has none */
    int key;                                          /* which; -1: a keep-out zone */
    slew_layer_id layer;
    char words[CLI_INPUT_PATH_MAX];                   /* "battery voltage today" */
    char shown[CLI_COLUMNS_MAX][CLI_INPUT_VALUE_MAX]; /* as people read it: "-16°", "68 °F" */
} cli_input;

typedef struct cli_comparison {
    cli_compared_runs columns;
    int input_count;
    cli_input *input; /* owned */
} cli_comparison;

/* Finds what differs in the input. Returns an exit code. */
int cli_compare_inputs(cli_comparison *comparison);

enum { CLI_DANGERS_MAX = 160 };

/* What caution.h is to warn of; empty: nothing. */
void cli_compare_dangers(const cli_compared_runs *columns, char seen[CLI_DANGERS_MAX]);

/* The ways of telling it, for cli_frame. */
void cli_compare_text(const void *comparison);
void cli_compare_document(cli_teller *teller, const void *comparison);
void cli_compare_table(FILE *stream, const void *comparison); /* one row for each column */
bool cli_compare_fill(cli_plot *plot, const void *comparison);

/* ---- The texts above the picture: what was found, of all and of each ---- */

/* Sets heading_1, heading_2 (what each comes to) and heading_3 (in what they differ). */
void cli_compare_headings(cli_plot *plot, const cli_comparison *comparison);

/* Sets name_A, origin_A and line_A_1 to line_A_4 of a column in which a line has room for so many
 * letters. */
void cli_compare_head(cli_plot *plot, const cli_compared_run *column, int letters);

#endif
