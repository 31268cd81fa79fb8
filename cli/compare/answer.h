/* answer.h - the answer of `slewtime compare` as text, JSON, CSV and picture. */
#ifndef SLEW_CLI_COMPARE_ANSWER_H
#define SLEW_CLI_COMPARE_ANSWER_H

#include <stdio.h>

#include "compared_runs.h"

enum { CLI_INPUT_PATH_MAX = 160, CLI_INPUT_VALUE_MAX = 64 };

/* One thing in which the scenarios differ. */
typedef struct cli_input {
    char path[CLI_INPUT_PATH_MAX]; /* "today.supply.main.voltage", "keepout.elevation (mast)" */
    char value[CLI_COLUMNS_MAX][CLI_INPUT_VALUE_MAX]; /* of each column; empty: it has none */
} cli_input;

typedef struct cli_comparison {
    cli_compared_runs columns;
    int input_count;
    cli_input *input; /* owned */
} cli_comparison;

/* Finds what differs in the input. Returns an exit code. */
int cli_compare_inputs(cli_comparison *comparison);

void cli_compare_text(const void *comparison);
int cli_compare_json(const void *comparison);               /* returns an exit code */
void cli_compare_csv(FILE *stream, const void *comparison); /* one row for each column */

/* Draws the columns side by side. Their singles have to have samples. Returns an exit code. */
int cli_compare_draw(const char *path, const void *comparison);

#endif
