/* answer.h - the answer of `slewtime nozzle`, and how it is told. */
#ifndef SLEW_CLI_NOZZLE_ANSWER_H
#define SLEW_CLI_NOZZLE_ANSWER_H

#include <stdio.h>

#include "draw/plot.h"
#include "slewtime/nozzle.h"
#include "tell/teller.h"

enum { CLI_NOZZLES_MAX = 128 };

typedef struct cli_nozzle_row {
    slew_jet_point asked;
    slew_jet_load load[SLEW_AXES]; /* with a scenario */
} cli_nozzle_row;

typedef struct cli_nozzle {
    const slew_scenario *scenario; /* NULL: none is given */
    slew_unit_system units;        /* of what people read */
    slew_occasion occasion;
    slew_setup setup; /* its conditions; without one only the nozzle's defaults count */
    int count;        /* smooth bores first, each tip at each pressure; then sprays */
    cli_nozzle_row row[CLI_NOZZLES_MAX];
    char finding[300]; /* in one line */
} cli_nozzle;

/* What was found, in one line. */
void cli_nozzle_finding(const cli_nozzle *answer, char *text, size_t size);

/* true: some row is of that kind. */
bool cli_nozzle_has(const cli_nozzle *answer, slew_nozzle_kind kind);

/* A nozzle at its pressure and its jet, a slew_jet_point: for the curves of the picture. */
void cli_nozzle_tell_jet(cli_teller *teller, const void *point);

/* The ways of telling it, for cli_frame. */
void cli_nozzle_text(const void *what);
void cli_nozzle_document(cli_teller *teller, const void *what);
void cli_nozzle_table(FILE *stream, const void *what); /* one row for each nozzle */
bool cli_nozzle_fill(cli_plot *plot, const void *what);

#endif
