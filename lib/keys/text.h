/* text.h - small helpers on text: safe printing, blanks, and the C locale. */
#ifndef SLEW_KEYS_TEXT_H
#define SLEW_KEYS_TEXT_H

#include <stdbool.h>
#include <stddef.h>

/* Like snprintf; then what could harm a terminal (control characters, broken UTF-8) becomes '?'. */
void slew_say(char *out, size_t size, const char *format, ...);

/* An empty text, unless there is no room at all; returns 0, like snprintf. */
int slew_print_nothing(char *text, size_t size);

/* Makes a text fit to be shown, as above, in place. */
void slew_text_clean(char *text);

/* Bytes of the UTF-8 character at `text`, 1 to 4; 0: not UTF-8. */
size_t slew_utf8_length(const char *text, size_t left);

/* Number of characters in the first `length` bytes. */
int slew_utf8_count(const char *text, size_t length);

/* Copies `text` without blanks at its ends; false: it does not fit. */
bool slew_text_trim(const char *text, char *out, size_t size);

bool slew_is_blank(char c);
bool slew_is_digit(char c);
bool slew_is_letter(char c); /* of the Latin alphabet, whatever the locale */

/* strtod and "%.*g" with a decimal point, whatever the locale of the program. */
double slew_text_to_double(const char *text, char **end);
void slew_text_of_double(char *out, size_t size, int digits, double value);

#endif
