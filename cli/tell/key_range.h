/* key_range.h - which values a key may have, in words. */
#ifndef SLEW_CLI_TELL_KEY_RANGE_H
#define SLEW_CLI_TELL_KEY_RANGE_H

#include <stdbool.h>

#include "slewtime/scenario.h"

enum { CLI_RANGE_MAX = sizeof((slew_error *)0)->expected };

/* "a length of 0 m or more": the words in which the library asks for a value, without the example.
 * `scratch` is a scenario on which one is tried. false: memory was short, and the range is empty.
 */
bool cli_key_range(slew_scenario *scratch, const slew_key *key, char range[CLI_RANGE_MAX]);

#endif
