/* verdict.h - what the controller says beside where the axes truly are, and what to mind. */
#ifndef SLEW_CLI_VERDICT_H
#define SLEW_CLI_VERDICT_H

#include "story.h"

/* Writes it to stdout, at most 100 columns wide. */
void cli_verdict(const cli_story *story);

#endif
