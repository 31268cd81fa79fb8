/* errors.h - what the motion room refuses, as errors. */
#ifndef SLEW_MOTION_ERRORS_H
#define SLEW_MOTION_ERRORS_H

#include "slewtime/scenario.h"

/* Says in an error on which occasion it came up, and which of its layers the key's value is from.
 * Returns `status`. */
slew_status slew_blame_occasion(slew_error *error, slew_status status,
                                const slew_scenario *scenario, slew_occasion occasion);

/* What is wrong, and what is expected, with SLEW_ERROR_PIECES. */
extern const char slew_too_many_pieces[], slew_fewer_pieces[];

/* The controller has times it can work with, and the start angles lie within the stops. */
slew_status slew_check_setup(const slew_setup *setup, slew_error *error);

#endif
