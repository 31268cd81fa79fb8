/* travel_marks.h - the marked points of a travel picture, with their texts. */
#ifndef SLEW_CLI_TRAVEL_TRAVEL_MARKS_H
#define SLEW_CLI_TRAVEL_TRAVEL_MARKS_H

#include <stdio.h>

#include "bands.h"

/* Which points: all, or verdicts and trouble alone. */
typedef enum cli_marking { CLI_MARK_ALL, CLI_MARK_ENDS } cli_marking;

/* Writes the rows of one panel for marks.csv of plots/travel.gp: what happens at a point inside the
 * frame, and where its text finds room. false: memory is short. */
bool cli_travel_marks_write(FILE *stream, const cli_single *single, int panel,
                            const cli_panel *frame, cli_marking marking);

#endif
