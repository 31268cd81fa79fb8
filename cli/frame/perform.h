/* perform.h - one command with the words that follow it. */
#ifndef SLEW_CLI_FRAME_PERFORM_H
#define SLEW_CLI_FRAME_PERFORM_H

#include "line/command.h"

/* Reads the words, checks them and does what the command does. Returns an exit code; what is wrong
 * is told on stderr. */
int cli_perform(const cli_command *command, int count, char **words);

#endif
