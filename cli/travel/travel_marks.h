/* travel_marks.h - the marked points of a travel picture, with their texts. */
#ifndef SLEW_CLI_TRAVEL_TRAVEL_MARKS_H
#define SLEW_CLI_TRAVEL_TRAVEL_MARKS_H

#include <stdio.h>

#include "bands.h"

/* Which points: all, or verdicts and trouble alone. */
typedef enum cli_marking { CLI_MARK_ALL, CLI_MARK_ENDS } cli_marking;

/* Begins marks.csv of plots/travel.gp with the names of its columns. */
void cli_travel_marks_begin(FILE *stream);

/* Writes its rows of one panel: what happens at a point inside the frame, and where its text finds
 * room. false: memory is short, which is told on stderr. */
bool cli_travel_marks_write(FILE *stream, const cli_single *single, int panel,
                            const cli_panel *frame, cli_marking marking);

#endif
