/* error.c - see error.h. */
#include "error/error.h"

#include <stdio.h>
#include <string.h>

slew_status slew_error_set(slew_error *error, slew_status status, const char *key,
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

slew_status slew_refuse(slew_error *error, const char *key, const char *message,
                        const char *expected)
{
    return slew_error_set(error, SLEW_ERROR_INPUT, key, message, expected);
}

slew_status slew_no_argument(slew_error *error)
{
    return slew_refuse(error, "", "an argument that is needed is missing (NULL)", "");
}

slew_status slew_no_number(slew_error *error)
{
    return slew_refuse(error, "", "an argument of the call is out of its range", "");
}

slew_status slew_no_memory(slew_error *error)
{
    return slew_error_set(error, SLEW_ERROR_MEMORY, "", "memory is short", "");
}

double slew_in_degrees(double angle)
{
    return angle * (180 / 3.14159265358979323846);
}
