/* eventwords.h - an event in plain words. */
#ifndef SLEW_CLI_EVENTWORDS_H
#define SLEW_CLI_EVENTWORDS_H

#include "story.h"

enum { CLI_WORDS_MAX = 128 };

/* "home sensor closes", "meets the lower stop (0.53 J)". A done event says deployed in the deploy.
 */
void cli_event_words(const cli_story *story, const slew_event *event, bool is_deploy,
                     char words[CLI_WORDS_MAX]);

/* The same in two or three words, for a mark in a picture; empty: the event needs none. */
void cli_event_mark(const cli_story *story, const slew_event *event, char words[CLI_WORDS_MAX]);

/* true: something goes wrong here. */
bool cli_event_is_trouble(slew_event_kind kind);

#endif
