/* answer.h - the answers of `slewtime causes`: signatures, ranking, one cause, and the hidden one.
 */
#ifndef SLEW_CLI_CAUSES_ANSWER_H
#define SLEW_CLI_CAUSES_ANSWER_H

#include <stdio.h>

#include "draw/plot.h"
#include "slewtime/causes.h"
#include "tell/provenance.h"

typedef struct cli_causes {
    const slew_scenario *scenario;
    slew_catalogue catalogue;
    slew_sampling sampling;
    slew_causes causes;
    bool ranks;                                         /* something was seen: */
    slew_seen seen;                                     /* this, */
    slew_diagnosis diagnosis;                           /* and what it says of the causes */
    double likeness[SLEW_CAUSES_MAX * SLEW_CAUSES_MAX]; /* of them, where nothing was seen */
    slew_signature *alone;      /* each observable under each cause, see cli_signature */
    slew_signature *weighed;    /* after what was seen, if anything was */
    const char *seen_path;      /* file of what was seen */
    const char *catalogue_path; /* of the user's own; NULL: none */
    int about;                  /* the one cause that is asked about; -1: none */
    int64_t draw;               /* number of the hidden one; 0: none is hidden */
    char asked[CLI_PROVENANCE_MAX];
} cli_causes;

/* ---- Words ---- */

/* Works out all signatures, so that none is missing while the answer is told. */
slew_status cli_signatures_find(cli_causes *a, slew_error *error);
void cli_signatures_free(cli_causes *a);

/* One observable under one cause: all samples alike, or by their weight after what was seen. */
slew_signature cli_signature_alone(const cli_causes *a, int cause, int observable);
slew_signature cli_signature(const cli_causes *a, int cause, int observable);

/* A reading in plain words: "12.9 s", "-17.4°", "home sensor not found"; "-": none. */
void cli_reading_words(int observable, double value, char *text, size_t size);

/* What it mostly reads: "12.9 s", "stowed", "stowed (83 %)"; "-": no reading. */
void cli_signature_words(const slew_signature *s, int observable, char *text, size_t size);

/* A fault in the few letters of a column: "home not found". */
const char *cli_fault_short(int fault);

/* What the controller reports of the stow: "stowed", "fault: brownout". */
void cli_report_words(const cli_causes *a, int cause, char *text, size_t size);

const char *cli_cause_name(const cli_causes *a, int cause);

/* How many causes can be told of. */
int cli_causes_count(const cli_causes *a);

/* true: the two look the same at the truck. */
bool cli_looks_alike(const cli_causes *a, int cause, int other);

/* Names of the causes that look the same as this one, with commas; empty: none. */
void cli_alike_names(const cli_causes *a, int cause, char *text, size_t size);

/* "Likeliest: X, probability 75 %, about 3 times as likely as Y", "Likeliest: X (50 %) or Y
 * (49 %)", or that nothing fits. */
void cli_ranking_finding(const cli_causes *a, char *text, size_t size);

/* What to do next: the check that tells most a minute, or the reading to be taken again. */
void cli_next_step(const cli_causes *a, char *text, size_t size);

/* true: nothing fits, and the file's figures are not those of this truck: fit comes first. */
bool cli_wants_fit(const cli_causes *a);

/* The causes of the ranking, the likeliest first: probability [%] and name. */
double cli_ranked_percent(const cli_causes *a, int rank);
const char *cli_ranked_name(const cli_causes *a, int rank);

/* How many of the ranking lead it together: their shares are hardly less than the first. */
int cli_leaders(const slew_diagnosis *diagnosis);

/* ---- Parts of the text ---- */

enum { CLI_CHECKS_SHOWN = 6 };

/* The last lines: which scenario, and what was asked of it. */
void cli_causes_origin(const cli_causes *a);

/* What it means, how to prove it, and the cure. */
void cli_cause_prose(const slew_cause *cause);

/* What to mind before a check, in a line and in full. */
void cli_causes_caution(void);
void cli_causes_cautions(void);

void cli_print_signatures(const cli_causes *a); /* a row for each cause */
void cli_print_ranking(const cli_causes *a);    /* a row for each candidate */
void cli_print_next_checks(const cli_causes *a);

/* ---- The ways of telling it, for cli_frame ---- */

void cli_causes_text(const void *what); /* whichever is asked for */
void cli_causes_game(const void *what); /* hides a cause, and answers lines of stdin until it is
                                           named */
void cli_causes_document(cli_teller *teller, const void *what);
void cli_causes_table(FILE *stream, const void *what); /* for each cause and observable, or the
                                                          ranking */
bool cli_signatures_fill(cli_plot *plot, const void *what);
bool cli_ranking_fill(cli_plot *plot, const void *what);

/* What a picture is drawn from, beside that: one row for each cause with all of its signature. */
void cli_signatures_table(FILE *stream, const void *what);

#endif
