/* answer.h - the answer of `slewtime feed`, and how it is told. */
#ifndef SLEW_CLI_FEED_ANSWER_H
#define SLEW_CLI_FEED_ANSWER_H

#include <stdio.h>

#include "draw/plot.h"
#include "slewtime/feed.h"
#include "tell/teller.h"

enum { CLI_FEED_LADDERS = 2, CLI_FEED_TEXT_MAX = 600 };

typedef enum cli_feed_measured {
    CLI_FEED_NOTHING,
    CLI_FEED_DROP,
    CLI_FEED_VOLTAGE
} cli_feed_measured;

typedef struct cli_feed {
    const slew_scenario *scenario;
    slew_feed_question question;
    slew_feed_answer answer;
    bool all;                             /* every row of the tables */
    slew_ladder ladder[CLI_FEED_LADDERS]; /* shown: gauges, and class 2 or 5 in mm2 */
    slew_feed_sweep sweep;                /* for a table or picture */
    char lacking[400];      /* keys that a run lacks: there is no work then; empty: none */
    slew_feed_work work;    /* whole days on each conductor */
    slew_sampling sampling; /* of these */
    cli_feed_measured measured;
    int axis;              /* that ran while it was measured */
    slew_feed_joint joint; /* what the measurement tells */
} cli_feed;

/* ---- Words ---- */

/* "8 AWG", "4/0 AWG", "2.5 mm2". */
void cli_feed_size(slew_ladder ladder, int index, char text[40]);

/* The size in the scenario: "8 AWG", "6 mm2", "2.1 ohm/km". */
void cli_feed_own_size(const cli_feed *a, char text[40]);

/* "AWG", "class 2", "class 5". */
const char *cli_feed_ladder(slew_ladder ladder);

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

/* What was found, in a sentence or two. */
void cli_feed_finding(const cli_feed *a, char text[CLI_FEED_TEXT_MAX]);

/* The same in two lines. Returns the second, "" if there is none. */
const char *cli_feed_finding_lines(const cli_feed *a, char text[CLI_FEED_TEXT_MAX]);

/* ---- The whole work ---- */

/* Said beside every size that is named. */
extern const char cli_feed_not_checked[];

/* The thinnest gauge (k 0) or size in mm2 (1) that does most of what is asked, into `size`; -1:
 * none runs. */
int cli_feed_named(const slew_feed_work *work, int k);

/* "10 AWG or 6 mm2 is the thinnest that ...": what the whole days say. */
void cli_feed_say_work(const cli_feed *a, char text[CLI_FEED_TEXT_MAX]);

/* The same as the title of a picture. */
void cli_feed_title(const cli_feed *a, char text[CLI_FEED_TEXT_MAX]);

/* What the scenario's own size, and the next thinner gauge, fail of. */
void cli_feed_say_thinner(const cli_feed *a, char text[CLI_FEED_TEXT_MAX]);

/* ---- The text ---- */

/* One axis where its load holds it back most: "elevation up at 0.0°". */
void cli_feed_place(const slew_feed_place *place, int axis, char text[CLI_FEED_TEXT_MAX]);

/* What a measurement tells, the answer first. */
void cli_feed_measurement(const cli_feed *a);
void cli_feed_measured_how(const cli_feed *a);

/* Voltages and needs when it is cold, as it is, and hot. */
void cli_feed_climates(const cli_feed *a);

/* The conductors near the one that is named, or all. */
void cli_feed_conductors(const cli_feed *a);

/* One other thing changed at a time. */
void cli_feed_changes(const cli_feed *a);

/* ---- The ways of telling it, for cli_frame ---- */

void cli_feed_text(const void *what);
void cli_feed_document(cli_teller *teller, const void *what);
void cli_feed_table(FILE *stream, const void *what); /* one row for each conductor and length */
bool cli_feed_fill(cli_plot *plot, const void *what);

#endif
