/* answer.h - the answer of `slewtime margin` as CSV and as a picture. */
#ifndef SLEW_CLI_MARGIN_ANSWER_H
#define SLEW_CLI_MARGIN_ANSWER_H

#include <stdio.h>

#include "slewtime/margin.h"
#include "tell/provenance.h"

typedef struct cli_margin {
    const slew_scenario *scenario;
    slew_margin_question question;
    const slew_margin *margin;
    const slew_sampling *sampling;
    char asked[CLI_PROVENANCE_MAX];
} cli_margin;

/* One row for each clearance of each side. */
void cli_margin_csv(FILE *stream, const void *margin);

/* Draws the probabilities of both sides against the clearance. Returns an exit code. */
int cli_margin_draw(const char *path, const void *margin);

#endif
