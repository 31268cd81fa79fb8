/* errors.h - filling a slew_error inside the motion room. */
#ifndef SLEW_MOTION_ERRORS_H
#define SLEW_MOTION_ERRORS_H

#include "slewtime/status.h"

/* Fills *error (unless it is NULL) and returns `status`. */
slew_status slew_motion_error(slew_error *error, slew_status status, const char *key,
                              const char *message, const char *expected);

#endif
