/* timeline.h - a run as a text to read: conditions, what happens when, and the verdict. */
#ifndef SLEW_CLI_SINGLE_TIMELINE_H
#define SLEW_CLI_SINGLE_TIMELINE_H

#include "single_run.h"

/* Writes a cli_single to stdout, at most 100 columns wide. */
void cli_timeline(const void *single);

/* Its beginning: what stow and deploy came to, and what to mind. */
void cli_answer(const cli_single *single);

/* Its end: what the controller reports beside where the axes truly are, and the supply. */
void cli_verdict(const cli_single *single);

#endif
