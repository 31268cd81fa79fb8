/* event_words.h - an event in plain words. */
#ifndef SLEW_CLI_SINGLE_EVENT_WORDS_H
#define SLEW_CLI_SINGLE_EVENT_WORDS_H

#include "single_run.h"

enum { CLI_WORDS_MAX = 128 };

/* "home sensor closes", "meets the lower stop (0.53 J)". A done event says deployed in the deploy.
 */
void cli_event_words(const cli_single *single, const slew_event *event, bool is_deploy,
                     char words[CLI_WORDS_MAX]);

/* The same in two or three words, for a mark in a picture; empty: the event needs none. */
void cli_event_mark(const cli_single *single, const slew_event *event, char words[CLI_WORDS_MAX]);

/* "turning left", "raising"; direction -1 or +1. */
const char *cli_moving_word(int axis, int direction);

/* true: something goes wrong here. */
bool cli_event_is_trouble(slew_event_kind kind);

#endif
