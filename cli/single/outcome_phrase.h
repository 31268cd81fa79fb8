/* outcome_phrase.h - the outcome of a run as what follows a name: "B faults: hard_stop of
 * elevation". */
#ifndef SLEW_CLI_SINGLE_OUTCOME_PHRASE_H
#define SLEW_CLI_SINGLE_OUTCOME_PHRASE_H

#include "single_run.h"

enum { CLI_PHRASE_MAX = 320 };

/* "is stowed on target, elevation 1.2 deg clear of the lower stop; deploys on target". `degree` is
 * how a degree is written: " deg" or a sign. */
void cli_outcome_phrase(const cli_single *single, const char *degree, char text[CLI_PHRASE_MAX]);

#endif
