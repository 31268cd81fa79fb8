/* input.h - a stream read whole. */
#ifndef SLEW_CLI_LINE_INPUT_H
#define SLEW_CLI_LINE_INPUT_H

#include <stdio.h>

/* All that is left in it, as a text, to be freed. NULL: memory is short. */
char *cli_read_whole(FILE *stream);

#endif
