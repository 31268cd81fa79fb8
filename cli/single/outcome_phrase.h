/* outcome_phrase.h - the outcome of a run as what follows a name: "B faults: hard_stop of
 * elevation". */
#ifndef SLEW_CLI_SINGLE_OUTCOME_PHRASE_H
#define SLEW_CLI_SINGLE_OUTCOME_PHRASE_H

#include "single_run.h"

enum { CLI_PHRASE_MAX = 320 };

/* "is stowed on target, elevation 1.2 deg clear of the lower stop; deploys on target". */
void cli_outcome_phrase(const cli_single *single, char text[CLI_PHRASE_MAX]);

/* The same in a line of a terminal: "stows elevation 2.1° off its point; deploys inside; low
 * voltage". */
void cli_outcome_brief(const cli_single *single, char text[CLI_PHRASE_MAX]);

#endif
