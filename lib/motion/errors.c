/* errors.c - see errors.h. */
#include "motion/errors.h"

#include <stdio.h>
#include <string.h>

slew_status slew_motion_error(slew_error *error, slew_status status, const char *key,
                              const char *message, const char *expected)
{
    if (error) {
        memset(error, 0, sizeof *error);
        error->status = status;
        snprintf(error->key, sizeof error->key, "%s", key);
        snprintf(error->message, sizeof error->message, "%s", message);
        snprintf(error->expected, sizeof error->expected, "%s", expected);
    }
    return status;
}

slew_status slew_check_start(const slew_setup *setup, slew_error *error)
{
    static const char *const keys[SLEW_AXES] = {"rotation.start", "elevation.start"};
    for (int j = 0; j < SLEW_AXES; j++) {
        const slew_axis_setup *axis = &setup->axis[j];
        if (!(axis->start >= axis->stops.low && axis->start <= axis->stops.high))
            return slew_motion_error(error, SLEW_ERROR_INPUT, keys[j],
                                     "the start lies beyond a hard stop",
                                     "an angle between the stops of its axis");
    }
    return SLEW_OK;
}
