/* help.h - the help texts, made of the tables of commands and options. */
#ifndef SLEW_CLI_LINE_HELP_H
#define SLEW_CLI_LINE_HELP_H

#include "command.h"

/* The commands and how to go on; on stdout. */
void cli_help(const cli_command *const *commands, int count);

/* One command: usage, what it answers, options, exit codes, cautions; on stdout. */
void cli_help_command(const cli_command *command);

#endif
