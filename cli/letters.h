/* letters.h - UTF-8 texts cut to a number of letters. */
#ifndef SLEW_CLI_LETTERS_H
#define SLEW_CLI_LETTERS_H

/* Bytes of the first `letters` letters of a text, or of all of it: for "%.*s". */
int cli_letters(const char *text, int letters);

#endif
