/* utf8.h - UTF-8 texts cut to a number of letters, and broken into lines. */
#ifndef SLEW_CLI_TELL_UTF8_H
#define SLEW_CLI_TELL_UTF8_H

#include <stdbool.h>

/* Bytes of the first `letters` letters of a text, or of all of it: for "%.*s". */
int cli_utf8_cut(const char *text, int letters);

/* Bytes of the first line of a text that is broken between words into lines of `letters`; a longer
 * word is cut. The next line begins after these and the blanks that follow. */
int cli_utf8_line(const char *text, int letters);

/* How many such lines the text has. */
int cli_utf8_lines(const char *text, int letters);

/* The letters for cli_print_wrapped of what stands first in an answer: in 80 columns. */
enum { CLI_ANSWER_LETTERS = 78 };

/* Prints a text on stdout in lines of `letters` and two, all but the first indented by two. */
void cli_print_wrapped(const char *text, int letters);

/* Prints a label of `indent` columns and, behind it, the text in lines that end by column 100. */
void cli_paragraph(const char *label, int indent, const char *text);

/* true: the whole text is UTF-8 as RFC 3629 has it, neither overlong nor a surrogate. */
bool cli_utf8_is(const char *text);

/* How many letters a text has. */
int cli_utf8_count(const char *text);

#endif
