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
