/* letters.h - what of a text is letters, and what a terminal might act on. */
#ifndef SLEW_CLI_LINE_LETTERS_H
#define SLEW_CLI_LINE_LETTERS_H

/* Bytes of the UTF-8 letter at `text` as RFC 3629 has it, neither overlong nor a surrogate; 0:
 * there is none. */
int cli_letter(const char *text);

/* Makes a text fit to be shown, in place: control characters, and what is no letter, become '?'. */
void cli_letters_clean(char *text);

#endif
