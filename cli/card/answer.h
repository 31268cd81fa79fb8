/* answer.h - the answer of `slewtime card`, and how its parts are told. */
#ifndef SLEW_CLI_CARD_ANSWER_H
#define SLEW_CLI_CARD_ANSWER_H

#include <stdio.h>

#include "draw/plot.h"
#include "slewtime/card.h"
#include "tell/provenance.h"

typedef struct cli_card {
    const slew_scenario *scenario;
    const slew_sampling *sampling; /* NULL: nothing varies, so nothing is sampled */
    slew_card card;
    bool on_terminal; /* the picture is for one */
    char asked[CLI_PROVENANCE_MAX];
    const char *path, *readings; /* of the scenario, and of a page that was filled in; NULL: none */
    slew_timings timings;        /* these */
    slew_card_verdict verdict;
} cli_card;

/* ---- Words ---- */

enum { CLI_CARD_WHAT_MAX = 64, CLI_CARD_LINES_MAX = 96, CLI_CARD_NOTES_MAX = 48 };

/* One line of the table; the first of its step names it. */
typedef struct cli_card_line {
    bool first;
    const char *read; /* "controller, V"; "": nothing to write */
    char what[CLI_CARD_WHAT_MAX];
    char expected[48];
    char from[16], to[16]; /* of the band; "" where the verdict stands in `expected` */
} cli_card_line;

/* The table without the steps that are left out. Returns how many lines. */
int cli_card_lines(const cli_card *a, cli_card_line lines[CLI_CARD_LINES_MAX]);

typedef struct cli_card_notes {
    int columns; /* set by the caller: lines are broken there, at most 119 */
    int count;
    char line[CLI_CARD_NOTES_MAX][120];
} cli_card_notes;

/* Breaks a text into lines; those after its first are set in. */
void cli_card_add_note(cli_card_notes *notes, const char *text);

/* Added to the notes: what to be careful about; how to read, what the bands are, what is
 * left out. */
void cli_card_cautions(cli_card_notes *notes);
void cli_card_explain(const cli_card *a, cli_card_notes *notes);

/* Likewise: stow point, deploy target and minimum voltage, on which the figures depend. */
void cli_card_settings(const cli_card *a, cli_card_notes *notes);

/* "rotation left, stop to stop", "stow from rotation -30.0°". */
void cli_card_what(const slew_card_step *step, char text[CLI_CARD_WHAT_MAX]);

/* "controller, V", and a reading in that unit: no minus zero, "none" where there is no number, such
 * as a lowest voltage without a drive. */
const char *cli_card_label(slew_card_read read);
void cli_card_number(char *text, size_t size, slew_card_read read, double si);

/* A reading in people's unit, and that: degrees for angles. */
double cli_card_in_unit(slew_card_read read, double si);
const char *cli_card_unit(slew_card_read read);

/* ---- The ways of telling it, for cli_frame ---- */

void cli_card_text(const void *what);
void cli_card_document(cli_teller *teller, const void *what);
void cli_card_table(FILE *stream, const void *what); /* blank, as `fit` reads it */
bool cli_card_fill(cli_plot *plot, const void *what);

/* ---- A page that was filled in ---- */

/* What was done for a reading; "" or what `slewtime causes --seen` calls the reading. */
void cli_verdict_what(const cli_card *a, const slew_card_judged *r, char text[CLI_CARD_WHAT_MAX]);
void cli_verdict_seen(const cli_card *a, const slew_card_judged *r, char text[CLI_CARD_WHAT_MAX]);

/* Added to the notes: the answer; what is not filled in; what to do next. */
void cli_verdict_answer(const cli_card *a, cli_card_notes *notes);
void cli_verdict_blanks(const cli_card *a, cli_card_notes *notes);
void cli_verdict_next(const cli_card *a, cli_card_notes *notes);

void cli_verdict_text(const void *what);
void cli_verdict_document(cli_teller *teller, const void *what);
void cli_verdict_table(FILE *stream, const void *what);

#endif
