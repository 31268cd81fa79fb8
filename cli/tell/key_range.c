/* key_range.c - see key_range.h. */
#include "key_range.h"

#include <string.h>

#include "slewtime/slewtime.h"

static void keep_expected(void *context, const slew_error *error)
{
    strcpy(context, error->expected);
}

bool cli_key_range(slew_scenario *scratch, const slew_key *key, char range[CLI_RANGE_MAX])
{
    range[0] = '\0';
    slew_status status = slew_scenario_set(scratch, SLEW_LAYER_FILE, key->path, "?",
                                           (slew_error_sink){keep_expected, range});
    char *example = strstr(range, "for example");
    if (example != NULL)
        *example = '\0';
    size_t length = strlen(range);
    while (length > 0 && strchr(", ", range[length - 1]) != NULL)
        range[--length] = '\0';
    return status != SLEW_ERROR_MEMORY;
}
