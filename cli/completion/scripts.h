/* scripts.h - what the shells are told: which words may come next on a command line. */
#ifndef SLEW_CLI_COMPLETION_SCRIPTS_H
#define SLEW_CLI_COMPLETION_SCRIPTS_H

#include <stdbool.h>

#include "line/command.h"

/* ---- words of the tables, each after a blank ---- */

void cli_completion_commands(void);
void cli_completion_keys(void);

/* What may stand for a command's operand besides a file: "1|3|5", or all commands for COMMAND.
 * false: it takes files, and nothing is written. */
bool cli_completion_operands(const cli_command *command);

/* The words of "stow|deploy". */
void cli_completion_words(const char *words);

/* true: the option's value begins with a key's path. */
bool cli_completion_has_key(const cli_option *option);

/* NULL at the end. */
const cli_command *cli_completion_command_at(int index);

/* ---- the scripts, on stdout ---- */

void cli_completion_bash(void);
void cli_completion_zsh(void);

#endif
