/* source.h - the bytes of a file: reading them, and what they must be to be a text. */
#ifndef SLEW_SCENARIO_SOURCE_H
#define SLEW_SCENARIO_SOURCE_H

#include "scenario/report.h"

enum { SLEW_SOURCE_MAX = 1 << 20 }; /* 1 MiB */

/* Reads a regular file of at most SLEW_SOURCE_MAX bytes. The text is the caller's to free. NULL:
 * said in *error. */
char *slew_source_read(const char *path, size_t *length, slew_error *error);

/* The text behind a byte order mark, if it begins with one; *length becomes shorter with it. */
const char *slew_source_skip_mark(const char *text, size_t *length);

/* Looks for what no text has: NUL and other control characters, broken UTF-8, no line at all.
 * true: it is a text. Otherwise *mark and *error say what and where. */
bool slew_source_is_text(const char *text, size_t length, slew_mark *mark, slew_error *error);

/* Start of line number `line` (from 1) as YAML counts lines, *length its bytes; NULL: none. */
const char *slew_source_line(const char *text, size_t length, int line, size_t *line_length);

#endif
