/* pose_terminal.h - one dial of the pose picture in letters, for the terminal. */
#ifndef SLEW_CLI_POSE_POSE_TERMINAL_H
#define SLEW_CLI_POSE_POSE_TERMINAL_H

#include <stdio.h>

#include "fan.h"
#include "pose_dial.h"

/* Begins letters.csv of plots/pose.gp with the names of its columns. */
void cli_letters_begin(FILE *stream);

/* Writes its rows; what comes later lies above. `fan` may be NULL. false: memory is short, which is
 * told on stderr. */
bool cli_letters_write(FILE *stream, const cli_dial *dial, const cli_fan *fan);

#endif
