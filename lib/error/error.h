/* error.h - an error as a value, filled in by whoever meets it. */
#ifndef SLEW_ERROR_ERROR_H
#define SLEW_ERROR_ERROR_H

#include "slewtime/status.h"

/* Fills *error (unless it is NULL) and returns `status`. */
slew_status slew_error_set(slew_error *error, slew_status status, const char *key,
                           const char *message, const char *expected);

/* The same for input that is wrong. Returns SLEW_ERROR_INPUT. */
slew_status slew_refuse(slew_error *error, const char *key, const char *message,
                        const char *expected);

/* The same for a pointer that is NULL and must not be, and for an argument that is out of its
 * range. Both return SLEW_ERROR_INPUT. */
slew_status slew_no_argument(slew_error *error);
slew_status slew_no_number(slew_error *error);

/* The same where memory is short. Returns SLEW_ERROR_MEMORY. */
slew_status slew_no_memory(slew_error *error);

/* An angle [rad] as messages tell it. */
double slew_in_degrees(double angle);

#endif
