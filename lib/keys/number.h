/* number.h - a decimal number at the start of a text, and wire gauges. */
#ifndef SLEW_KEYS_NUMBER_H
#define SLEW_KEYS_NUMBER_H

#include <stdbool.h>

/* Reads a number; *rest is what follows it. Returns NULL, or what is wrong with it in a few words:
 * NaN, infinity, hexadecimal, grouped digits, decimal comma, too large. */
const char *slew_number_read(const char *text, double *value, const char **rest);

/* Reads a gauge: "8 AWG", "AWG 8", "4/0 AWG", "0000 AWG"; 0, 00, 000, 0000 are 0, -1, -2, -3.
 * Returns NULL, or what is wrong with it. */
const char *slew_gauge_read(const char *text, double *value);

#endif
