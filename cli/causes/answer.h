/* answer.h - the answers of `slewtime causes`: signatures, ranking, one cause, and the drawn one.
 */
#ifndef SLEW_CLI_CAUSES_ANSWER_H
#define SLEW_CLI_CAUSES_ANSWER_H

#include <stdio.h>

#include "line/options.h"
#include "slewtime/causes.h"
#include "tell/provenance.h"

typedef struct cli_causes {
    const slew_scenario *scenario;
    const slew_catalogue *catalogue;
    const slew_sampling *sampling;
    const slew_causes *causes;
    const double *likeness;          /* by eye and meter; NULL: not asked */
    const slew_seen *seen;           /* NULL: --seen is not given */
    const char *seen_path;           /* its file */
    const char *catalogue_path;      /* of the user's own; NULL: none */
    const slew_diagnosis *diagnosis; /* of what was seen */
    int about;                       /* the one cause that is asked about; -1: none */
    char asked[CLI_PROVENANCE_MAX];
} cli_causes;

/* One observable under one cause, all samples alike or, with what was seen, by their weight. */
slew_signature cli_signature(const cli_causes *a, int cause, int observable);

/* What it mostly reads: "12.9 s", "stowed", "stowed (83 %)"; "-": no reading. */
void cli_signature_words(const cli_causes *a, int cause, int observable, char *text, size_t size);

const char *cli_cause_name(const cli_causes *a, int cause);

/* Names of the causes that look the same as this one at the truck, with commas; empty: none. */
void cli_alike_names(const cli_causes *a, int cause, char *text, size_t size);

/* "Likeliest: X (62 %), before Y (21 %).", or that nothing fits. */
void cli_ranking_finding(const cli_causes *a, char *text, size_t size);

/* How many of the ranking lead it together: their shares are hardly less than the first. */
int cli_leaders(const slew_diagnosis *diagnosis);

/* The first lines: what was asked of which scenario. */
void cli_causes_head(const cli_causes *a);

/* Why a cause is left out, if it is. */
void cli_left_out(const cli_causes *a, int cause);

/* What it means, how to prove it, and the cure. */
void cli_cause_prose(const slew_cause *cause);

/* What to mind before a check. */
void cli_causes_cautions(void);

void cli_causes_print(const void *causes); /* whichever is asked for */
void cli_ranking_print(const cli_causes *a);
int cli_causes_json(const void *causes);
void cli_causes_csv(FILE *stream, const void *causes);
int cli_causes_draw(const char *path, const void *causes);

/* Hides a cause and answers lines of `input` until it is named. */
int cli_causes_hide(const cli_causes *a, uint64_t seed, FILE *input);

#endif
