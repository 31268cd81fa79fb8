/* key_range.h - which values a key may have, in words. */
#ifndef SLEW_CLI_TELL_KEY_RANGE_H
#define SLEW_CLI_TELL_KEY_RANGE_H

#include <stdbool.h>

#include "slewtime/scenario.h"

enum { CLI_RANGE_MAX = sizeof((slew_error *)0)->expected };

/* What ranges are found by. */
typedef struct cli_key_trial {
    slew_scenario scratch; /* values are tried on it */
    bool short_of_memory;  /* while one was tried: the range is empty, and the answer not whole */
} cli_key_trial;

/* To be freed. NULL: memory is short. */
cli_key_trial *cli_key_trial_new(void);

/* Frees it. Returns `code`, or that of short memory, which is told, if memory was short before. */
int cli_key_trial_end(cli_key_trial *trial, int code);

/* "a length of 0 m or more": the words in which the library asks for a value, without the example.
 */
void cli_key_range(cli_key_trial *trial, const slew_key *key, char range[CLI_RANGE_MAX]);

#endif
