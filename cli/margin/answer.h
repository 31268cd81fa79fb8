/* answer.h - the answer of `slewtime margin`, and how it is told. */
#ifndef SLEW_CLI_MARGIN_ANSWER_H
#define SLEW_CLI_MARGIN_ANSWER_H

#include <stdio.h>

#include "draw/plot.h"
#include "slewtime/margin.h"
#include "tell/provenance.h"

typedef struct cli_margin {
    const slew_scenario *scenario;
    bool all; /* clearances, not only those about the one that is enough */
    slew_margin_question question;
    slew_margin margin;
    slew_sampling sampling;
    char asked[CLI_PROVENANCE_MAX];
} cli_margin;

/* The sides of the axis: "low", "high". */
extern const char *const cli_margin_sides[SLEW_MARGIN_SIDES];

/* Where the point is at that clearance [rad]. */
double cli_margin_point(const slew_margin_side *side, int index, const slew_margin_step *step);

/* A change of the scenario as it is called here: "homes from below", "taught at 0.5 V less". */
void cli_margin_change_words(const cli_margin *a, slew_margin_change change, char *text,
                             size_t size);

/* What caution.h is to warn of; empty: nothing. */
const char *cli_margin_dangers(const cli_margin *a);

/* The ways of telling it, for cli_frame. */
void cli_margin_text(const void *what);
void cli_margin_document(cli_teller *teller, const void *what);
void cli_margin_table(FILE *stream, const void *what); /* one row for each clearance */
bool cli_margin_fill(cli_plot *plot, const void *what);

#endif
