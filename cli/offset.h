/* offset.h - the answer of `slewtime offset` in text, JSON, CSV and as a picture. */
#ifndef SLEW_CLI_OFFSET_H
#define SLEW_CLI_OFFSET_H

#include <stdio.h>

#include "origin.h"
#include "slewtime/offset.h"

typedef struct cli_offset {
    const slew_scenario *scenario;
    const slew_offset *offset;
    const slew_finer *finer;     /* NULL: stopped before it was asked */
    const slew_drivers *drivers; /* NULL: there are none, and why_not says why */
    char why_not[120];
    double wanted; /* share of the samples that are to be inside */
    int advice_count;
    slew_advice advice[SLEW_ADVICE_MAX];
    const slew_sampling *sampling;
    char asked[CLI_ORIGIN_MAX];
} cli_offset;

enum { CLI_SENTENCE_MAX = 700, CLI_DRIVER_NAME_MAX = 160, CLI_FAULT_NAME_MAX = 80 };

/* ---- words ---- */

const slew_offset_choice *cli_offset_best(const cli_offset *answer);

/* What one piece of advice says, in a sentence or two. */
void cli_offset_say(const cli_offset *answer, const slew_advice *advice,
                    char text[CLI_SENTENCE_MAX]);

/* Why the best choice is the best: against the runner-up. */
void cli_offset_say_lead(const cli_offset *answer, char text[CLI_SENTENCE_MAX]);

/* "overload on elevation in the deploy" */
void cli_fault_name(const slew_usual_fault *fault, char name[CLI_FAULT_NAME_MAX]);

/* "supply.main.voltage, day of the deploy" */
void cli_driver_name(const slew_scenario *scenario, const slew_driver *driver,
                     char name[CLI_DRIVER_NAME_MAX]);

/* What could be done about a key that drives the spread: "a steadier supply voltage". */
const char *cli_driver_remedy(int key);

/* The numbers of the drivers of an axis, by their total index, the largest first. */
void cli_driver_order(const slew_drivers *drivers, int axis, int order[SLEW_DRIVERS_MAX]);

/* "half the steps" */
const char *cli_finer_words(slew_finer_step step);

/* ---- forms ---- */

void cli_offset_text(const void *answer);
int cli_offset_json(const void *answer);

/* One row for each choice; the drivers have no place in this table. */
void cli_offset_csv(FILE *stream, const void *answer);

/* Draws where an axis rests with each choice, and what drives it. Returns an exit code. */
int cli_offset_draw(const char *path, const void *answer);

#endif
