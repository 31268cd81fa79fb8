/* append.h - texts put together piece by piece. */
#ifndef SLEW_CLI_TELL_APPEND_H
#define SLEW_CLI_TELL_APPEND_H

#include <stddef.h>

/* Adds to a text that has room for `size` bytes; what does not fit is cut. */
void cli_append(char *text, size_t size, const char *format, ...);

#endif
