/* known.h - what the scenario says of a day, so that it is not drawn. */
#ifndef SLEW_CLI_TELL_KNOWN_H
#define SLEW_CLI_TELL_KNOWN_H

#include "slewtime/study.h"
#include "teller.h"

enum { CLI_KNOWN_MAX = 2 * SLEW_VARIATIONS_MAX, CLI_KNOWN_WORDS_MAX = 1000 };

/* A key of spread.day that is not drawn, by the layer that says it. */
typedef struct cli_known {
    slew_layer_id layer;
    int key;
} cli_known;

/* All of them, in the order of the spread. Returns how many. */
int cli_known_of(const slew_scenario *scenario, cli_known known[CLI_KNOWN_MAX]);

/* "battery voltage today 11.8 V; outside temperature on the deploy day 23 °F"; "" where nothing
 * of the spread is known. */
void cli_known_words(const slew_scenario *scenario, char *text, size_t size);

/* Tells the list "known": ["today.supply.main.voltage"]. */
void cli_tell_known(cli_teller *teller, const slew_scenario *scenario);

#endif
