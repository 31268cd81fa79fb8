/* answer.h - the answer of `slewtime plan`, and how it is told. */
#ifndef SLEW_CLI_PLAN_ANSWER_H
#define SLEW_CLI_PLAN_ANSWER_H

#include <stdio.h>

#include "draw/plot.h"
#include "slewtime/plan.h"
#include "tell/provenance.h"
#include "tell/teller.h"

typedef struct cli_plan {
    const slew_scenario *scenario;
    bool all; /* rows, confirmed or not */
    slew_plan plan;
    slew_plan_advice advice;
    slew_scenario recommended; /* or with the best setting, where nothing is */
    slew_trucks trucks;        /* of what is recommended, truck by truck; none: not drawn */
    slew_sampling sampling;
    char asked[CLI_PROVENANCE_MAX];
} cli_plan;

enum { CLI_PLAN_LINE_MAX = 1000 };

/* "rotation 0 s, elevation 6 s"; "rotation 0°, elevation -16°". */
void cli_plan_add_seconds(const slew_plan_setting *setting, char *text, size_t size);
void cli_plan_add_point(const slew_plan_setting *setting, char *text, size_t size);

/* What to do, as a sentence. */
void cli_plan_advice(const cli_plan *answer, char text[CLI_PLAN_LINE_MAX]);

/* The same in a few lines of a terminal, and what comes nearest where there is nothing to do; ""
 * where there is. */
void cli_plan_brief(const cli_plan *answer, char text[CLI_PLAN_LINE_MAX]);
void cli_plan_nearest(const cli_plan *answer, char text[CLI_PLAN_LINE_MAX]);

/* The ways of telling it, for cli_frame. */
void cli_plan_text(const void *what);
void cli_plan_document(cli_teller *teller, const void *what);
void cli_plan_table(FILE *stream, const void *what);  /* one row for each change */
void cli_plan_curves(FILE *stream, const void *what); /* one row for each point of a curve */
bool cli_plan_fill(cli_plot *plot, const void *what);

#endif
