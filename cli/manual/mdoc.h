/* mdoc.h - texts as manual pages have them, in the mdoc language of mandoc and groff. */
#ifndef SLEW_CLI_MANUAL_MDOC_H
#define SLEW_CLI_MANUAL_MDOC_H

/* The head of a page: "slewtime", 1, and what it is in one line. */
void cli_mdoc_begin(const char *name, int section, const char *what);

/* A text of one line as running text or as the arguments of a macro: nothing in it is a command. */
void cli_mdoc_words(const char *text);

/* Lines as the help has them: a paragraph after an empty one; as they stand if they begin with a
 * blank. */
void cli_mdoc_lines(const char *lines);

#endif
