/* outputs.h - the files that a command line names: none is written over one that is read. */
#ifndef SLEW_CLI_LINE_OUTPUTS_H
#define SLEW_CLI_LINE_OUTPUTS_H

#include "options.h"

/* Refuses an output that is an input, by whatever name, two outputs into one file, and a picture on
 * stdout beside JSON or CSV. Returns an exit code; what is wrong is told on stderr. */
int cli_outputs_check(const cli_options *options, const char *command);

/* Refuses --out where it is a file that the command reads without being told of it. The same. */
int cli_outputs_spare(const char *out, const char *read, const char *command);

#endif
