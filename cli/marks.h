/* marks.h - the marked points of a travel picture, with their texts. */
#ifndef SLEW_CLI_MARKS_H
#define SLEW_CLI_MARKS_H

#include <stdio.h>

#include "bands.h"

/* Writes the rows of one panel for marks.csv of plots/travel.gp: what happens at a point, and where
 * its text finds room. false: memory is short. */
bool cli_marks_write(FILE *stream, const cli_story *story, int panel, const cli_panel *frame);

#endif
