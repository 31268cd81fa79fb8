/* key_range.c - see key_range.h. */
#include "key_range.h"

#include <stdlib.h>
#include <string.h>

#include "line/exit_code.h"
#include "line/report.h"
#include "slewtime/slewtime.h"

cli_key_trial *cli_key_trial_new(void)
{
    cli_key_trial *trial = calloc(1, sizeof *trial);
    if (trial != NULL)
        slew_scenario_init(&trial->scratch);
    return trial;
}

int cli_key_trial_end(cli_key_trial *trial, int code)
{
    bool is_short = trial->short_of_memory;
    free(trial);
    return code == CLI_OK && is_short ? cli_no_memory() : code;
}

static void keep_expected(void *context, const slew_error *error)
{
    strcpy(context, error->expected);
}

void cli_key_range(cli_key_trial *trial, const slew_key *key, char range[CLI_RANGE_MAX])
{
    range[0] = '\0';
    slew_status status = slew_scenario_set(&trial->scratch, SLEW_LAYER_FILE, key->path, "?",
                                           (slew_error_sink){keep_expected, range});
    char *example = strstr(range, "for example");
    if (example != NULL)
        *example = '\0';
    size_t length = strlen(range);
    while (length > 0 && strchr(", ", range[length - 1]) != NULL)
        range[--length] = '\0';
    trial->short_of_memory = trial->short_of_memory || status == SLEW_ERROR_MEMORY;
}
