/* error.h - an error as a value, filled in by whoever meets it. */
#ifndef SLEW_ERROR_ERROR_H
#define SLEW_ERROR_ERROR_H

#include "slewtime/status.h"

/* Fills *error (unless it is NULL) and returns `status`. */
slew_status slew_error_set(slew_error *error, slew_status status, const char *key,
                           const char *message, const char *expected);

/* An angle [rad] as messages tell it. */
double slew_in_degrees(double angle);

#endif
