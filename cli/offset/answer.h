/* answer.h - the answer of `slewtime offset`, and how it is told. */
#ifndef SLEW_CLI_OFFSET_ANSWER_H
#define SLEW_CLI_OFFSET_ANSWER_H

#include <stdio.h>

#include "draw/plot.h"
#include "slewtime/offset.h"
#include "tell/judged.h"
#include "tell/provenance.h"

typedef struct cli_offset {
    const slew_scenario *scenario;
    slew_scenario asked_of; /* the same with what is wanted among its demands */
    bool all;               /* rows of the choices, not the best alone */
    double wanted;          /* share inside the target */
    slew_sampling sampling;
    slew_offset offset;
    const slew_offset_choice *best; /* as it is told, by fresh samples */
    bool has_finer;                 /* false: it was stopped before */
    slew_finer finer;
    slew_trucks trucks;     /* of the best choice, truck by truck; none: not drawn */
    const char *no_drivers; /* why there are none; NULL: there are */
    slew_drivers drivers;   /* of the best choice */
    slew_scenario with_best;
    slew_advice advice[SLEW_ADVICE_MAX];
    int advice_count;
    char asked[CLI_PROVENANCE_MAX];
} cli_offset;

/* ---- Words ---- */

enum { CLI_OFFSET_TEXT_MAX = 1200 };

/* A piece of advice as a sentence or two. */
void cli_offset_say(const cli_offset *answer, const slew_advice *advice,
                    char text[CLI_OFFSET_TEXT_MAX]);

/* Why the best choice is the best: against the runner-up, and whether the two can be told apart. */
void cli_offset_say_why(const cli_offset *answer, char text[CLI_OFFSET_TEXT_MAX]);

/* "Best: rotation ..., elevation ...: meets all demands."; where a demand is missed, with every one
 * that is, strike risk first. */
void cli_offset_say_headline(const cli_offset *answer, char text[CLI_OFFSET_TEXT_MAX]);

/* The same in two lines of a terminal. */
void cli_offset_say_brief(const cli_offset *answer, char text[CLI_OFFSET_TEXT_MAX]);

/* Which demands are missed alike with every choice, so that no seconds cure it; empty if none. */
void cli_offset_say_incurable(const cli_offset *answer, char text[CLI_OFFSET_TEXT_MAX]);

/* Adds "rotation +0.00 s, elevation +2.00 s". */
void cli_offset_add_seconds(char text[CLI_OFFSET_TEXT_MAX], const double seconds[SLEW_AXES]);

/* "truck", "day", "deploy day". */
const char *cli_offset_of_word(const slew_dimension *drawn);

/* true: the axis varies by more than the digits that are told; false also without drivers. */
bool cli_offset_varies(const cli_offset *answer, int axis);

/* What drives an axis less than this share of its variance is not told one by one; how many are. */
extern const double cli_offset_least_total;
int cli_offset_told_drivers(const slew_drivers *drivers, int axis);

/* The share of all cases that the extremes of independent samples bound, at 95 % confidence; NaN
 * for samples that are not independent. */
double cli_offset_bounded(const cli_offset *answer);

/* ---- The ways of telling it, for cli_frame ---- */

void cli_offset_text(const void *what);
void cli_offset_document(cli_teller *teller, const void *what);
void cli_offset_table(FILE *stream, const void *what); /* one row for each choice */
bool cli_offset_fill(cli_plot *plot, const void *what);

/* What drives an axis, the greatest total at place 0. */
typedef struct cli_offset_rank {
    const slew_drivers *drivers;
    int axis, place;
} cli_offset_rank;

/* One row for each, from the place of the cli_offset_rank `what` on. */
void cli_offset_drivers_table(FILE *stream, const void *what);

#endif
