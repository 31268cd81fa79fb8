/* travel_marks.h - the marked points of a travel picture, with their texts. */
#ifndef SLEW_CLI_TRAVEL_TRAVEL_MARKS_H
#define SLEW_CLI_TRAVEL_TRAVEL_MARKS_H

#include <stdio.h>

#include "bands.h"

/* Which points: all, verdicts and trouble alone, or verdicts. */
typedef enum cli_marking { CLI_MARK_ALL, CLI_MARK_ENDS, CLI_MARK_VERDICTS } cli_marking;

/* How far an axis rests outside of where it should after the stow or the deploy [rad]; 0: inside,
 * or nothing is given. */
double cli_travel_miss(const cli_single *single, bool is_deploy, int axis);

/* When the stow first passes the middle of a home window whose sensor is dead; NaN: never [s]. The
 * run has to have samples. */
double cli_travel_missed_home(const cli_single *single, int axis);

/* Begins marks.csv of plots/travel.gp with the names of its columns. */
void cli_travel_marks_begin(FILE *stream);

/* Writes its rows of one panel: what happens at a point inside the frame, and where its text finds
 * room. false: memory is short, which is told on stderr. */
bool cli_travel_marks_write(FILE *stream, const cli_single *single, int panel,
                            const cli_panel *frame, cli_marking marking);

#endif
