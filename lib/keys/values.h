/*
 * values.h - the text of one value, as in a file or in --set, into the SI number of a key.
 *
 * What is wrong is written into key, message, expected and nearest of a slew_error; where it stands
 * is for the caller to add.
 */
#ifndef SLEW_KEYS_VALUES_H
#define SLEW_KEYS_VALUES_H

#include "keys/keys.h"
#include "keys/units.h"
#include "slewtime/status.h"

/* Reads the value of a key of kind number, yes/no, choice or list (one item of it). */
bool slew_value_read(slew_units *units, const slew_key_row *row, const char *text, double *value,
                     slew_error *error);

/* Reads a difference of two values of a key: no zero point of its own, any range. */
bool slew_difference_read(slew_units *units, const slew_key_row *row, const char *text,
                          double *value, slew_error *error);

/* true if the key may hold the number. */
bool slew_value_allowed(const slew_key_row *row, double value);

/* "a length of 0 m or more, for example 9 m". */
void slew_value_expected(const slew_key_row *row, char *text, size_t size);

/* A number in the key's print unit, with the unit: "9 m". To ten digits, or to as many as wanted.
 */
void slew_value_print(const slew_key_row *row, double value, char *text, size_t size);
void slew_value_print_digits(const slew_key_row *row, double value, int digits, char *text,
                             size_t size);

/* A difference of two values in the key's print unit, of temperatures in K: "12 K". Not of gauges.
 */
void slew_difference_print(const slew_key_row *row, double difference, int digits, char *text,
                           size_t size);

#endif
