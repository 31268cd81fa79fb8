/* answer.h - what the texts, JSON, CSV and picture of `feed` are made of. */
#ifndef SLEW_CLI_FEED_ANSWER_H
#define SLEW_CLI_FEED_ANSWER_H

#include <stdbool.h>
#include <stdio.h>

#include "slewtime/feed.h"

typedef enum cli_feed_measured {
    CLI_FEED_NOTHING,
    CLI_FEED_DROP,
    CLI_FEED_VOLTAGE
} cli_feed_measured;

typedef struct cli_feed {
    const slew_scenario *scenario;
    const slew_feed_answer *answer;
    slew_feed_question question;
    slew_ladder metric; /* SLEW_LADDER_CLASS_2 or SLEW_LADDER_CLASS_5 */
    cli_feed_measured measured;
    int axis;              /* that ran while it was measured */
    slew_feed_joint joint; /* what the measurement tells */
} cli_feed;

enum { CLI_FEED_TEXT_MAX = 400 };

/* "8 AWG", "4/0 AWG", "2.5 mm2". */
void cli_feed_size(const cli_feed *a, slew_ladder ladder, int index, char text[40]);

/* The size in the scenario: "8 AWG", "6 mm2", "2.1 ohm/km". */
void cli_feed_own_size(const cli_feed *a, char text[40]);

/* How a size is set: "supply.feed.gauge=8 AWG", or by its resistance "supply.feed.per_length=...".
 */
void cli_feed_setting(const cli_feed *a, slew_ladder ladder, int index, char text[100]);

/* "4 AWG or 25 mm2"; false: neither ladder has one. */
bool cli_feed_thinnest(const cli_feed *a, const slew_feed_need *need, char text[100]);

/* The need of the worst of the temperatures: none if one of them has none. */
slew_feed_need cli_feed_worst_floor(const slew_feed_answer *answer);

/* "rotation", "elevation", "both axes". */
const char *cli_feed_drives(int drives);

/* The drives that count, with the least voltage while running. */
int cli_feed_lowest_drives(const slew_feed_figures *figures, bool together);

/* What was found, in a sentence or two. Returns its second line, "" if there is none. */
const char *cli_feed_finding(const cli_feed *a, char text[CLI_FEED_TEXT_MAX]);

/* The ways of telling it; for cli_answer. */
void cli_feed_text(const void *what);
int cli_feed_json(const void *what);
void cli_feed_csv(FILE *stream, const void *what);
int cli_feed_draw(const char *path, const void *what);

#endif
