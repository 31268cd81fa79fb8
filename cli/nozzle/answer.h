/* answer.h - the answer of `slewtime nozzle` as text, JSON, CSV and picture. */
#ifndef SLEW_CLI_NOZZLE_ANSWER_H
#define SLEW_CLI_NOZZLE_ANSWER_H

#include <stdio.h>

#include "slewtime/nozzle.h"

enum { CLI_NOZZLES_MAX = 128, CLI_NOZZLE_NAME_MAX = 64 };

typedef struct cli_nozzle_row {
    slew_nozzle nozzle;
    slew_jet jet;
    slew_jet_load load[SLEW_AXES]; /* with a scenario */
} cli_nozzle_row;

typedef struct cli_nozzle {
    const slew_scenario *scenario; /* NULL: none is given */
    slew_occasion occasion;
    slew_setup setup; /* its conditions; without one only the nozzle's defaults count */
    int count;        /* smooth bores first, each tip at each pressure; then sprays */
    cli_nozzle_row row[CLI_NOZZLES_MAX];
} cli_nozzle;

/* What a row is called: "1.75 in at 80 psi", "1000 gpm at 100 psi". */
void cli_nozzle_name(const slew_nozzle *nozzle, char text[CLI_NOZZLE_NAME_MAX]);

/* What was found, in one line. */
void cli_nozzle_finding(const cli_nozzle *answer, char *text, size_t size);

void cli_nozzle_print(const void *nozzle);
int cli_nozzle_json(const void *nozzle);               /* returns an exit code */
void cli_nozzle_csv(FILE *stream, const void *nozzle); /* one row for each nozzle */

/* Draws reaction against pressure. Returns an exit code. */
int cli_nozzle_draw(const char *path, const void *nozzle);

#endif
