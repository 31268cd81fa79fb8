/* timeline.h - a run as a text to read: conditions, what happens when, and the verdict. */
#ifndef SLEW_CLI_TIMELINE_H
#define SLEW_CLI_TIMELINE_H

#include "story.h"

/* Writes it to stdout, at most 100 columns wide. */
void cli_timeline(const cli_story *story);

#endif
