/* errors.h - what the motion room refuses, as errors. */
#ifndef SLEW_MOTION_ERRORS_H
#define SLEW_MOTION_ERRORS_H

#include "slewtime/scenario.h"

/* Fills *error (unless it is NULL) and returns `status`. */
slew_status slew_motion_error(slew_error *error, slew_status status, const char *key,
                              const char *message, const char *expected);

/* The start angles must lie within the stops. */
slew_status slew_check_start(const slew_setup *setup, slew_error *error);

#endif
