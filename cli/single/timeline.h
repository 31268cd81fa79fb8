/* timeline.h - a run as a text to read: conditions, what happens when, and the verdict. */
#ifndef SLEW_CLI_SINGLE_TIMELINE_H
#define SLEW_CLI_SINGLE_TIMELINE_H

#include "single_run.h"

/* Writes a cli_single to stdout, at most 100 columns wide. */
void cli_timeline(const void *single);

/* Its end: what the controller says beside where the axes truly are, and what to mind. */
void cli_verdict(const cli_single *single);

#endif
