/* verdict.h - what the controller says beside where the axes truly are, and what to mind. */
#ifndef SLEW_CLI_SINGLE_VERDICT_H
#define SLEW_CLI_SINGLE_VERDICT_H

#include "single_run.h"

/* Writes it to stdout, at most 100 columns wide. */
void cli_verdict(const cli_single *single);

#endif
