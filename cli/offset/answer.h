/* answer.h - the answer of `slewtime offset`, and how it is told. */
#ifndef SLEW_CLI_OFFSET_ANSWER_H
#define SLEW_CLI_OFFSET_ANSWER_H

#include <stdio.h>

#include "slewtime/offset.h"
#include "tell/provenance.h"

typedef struct cli_offset {
    const slew_scenario *scenario;
    const slew_offset *offset;
    const slew_finer *finer;     /* NULL: it was stopped before */
    const slew_drivers *drivers; /* of the best choice; NULL: there are none, see no_drivers */
    const char *no_drivers;      /* why not */
    const slew_sampling *sampling;
    double wanted; /* share inside the target */
    slew_advice advice[SLEW_ADVICE_MAX];
    int advice_count;
    char asked[CLI_PROVENANCE_MAX];
} cli_offset;

/* ---- Words ---- */

enum { CLI_OFFSET_TEXT_MAX = 800 };

/* A piece of advice as a sentence or two. */
void cli_offset_say(const cli_offset *answer, const slew_advice *advice,
                    char text[CLI_OFFSET_TEXT_MAX]);

/* Why the best choice is the best: against the runner-up, and whether the two can be told apart. */
void cli_offset_say_why(const cli_offset *answer, char text[CLI_OFFSET_TEXT_MAX]);

/* true: the best choice is inside as often as wanted. */
bool cli_offset_is_enough(const cli_offset *answer);

/* "truck", "day", "deploy day". */
const char *cli_offset_of_word(const slew_dimension *drawn);

/* true: the axis varies by more than the digits that are told. */
bool cli_offset_varies(const slew_drivers *drivers, int axis);

/* Numbers of the drivers of an axis, the greatest total first. */
void cli_offset_rank(const slew_drivers *drivers, int axis, int order[SLEW_DRIVERS_MAX]);

/* The share of all cases that the extremes of independent samples bound, at 95 % confidence; NaN
 * for samples that are not independent. */
double cli_offset_bounded(const cli_offset *answer);

/* ---- Outputs ---- */

void cli_offset_print(const void *answer);
int cli_offset_json(const void *answer);
void cli_offset_csv(FILE *stream, const void *answer);
int cli_offset_draw(const char *path, const void *answer);

#endif
