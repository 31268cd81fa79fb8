/*
 * answer.h - what `slewtime report` puts together: the answers and pictures of the other commands,
 * and a hundred simulated days.
 *
 * Each part is asked as anybody would ask it, by a command with --json and --plot: the report says
 * nothing that the command does not say, and names the command.
 */
#ifndef SLEW_CLI_REPORT_ANSWER_H
#define SLEW_CLI_REPORT_ANSWER_H

#include <jansson.h>
#include <stdio.h>

#include "line/command.h"
#include "slewtime/demands.h"

enum { CLI_REPORT_DAYS = 100, CLI_REPORT_WORDS_MAX = 48, CLI_REPORT_WARNINGS_MAX = 4000 };

/* The commands that are asked. */
typedef enum cli_report_part {
    CLI_REPORT_PLAN,
    CLI_REPORT_RUN,
    CLI_REPORT_MARGIN,
    CLI_REPORT_OFFSET,
    CLI_REPORT_FEED,
    CLI_REPORT_MAP,
    CLI_REPORT_CAUSES,
    CLI_REPORT_CARD,
    CLI_REPORT_PARTS
} cli_report_part;

/* What one of them said. */
typedef struct cli_report_answer {
    char *word[CLI_REPORT_WORDS_MAX]; /* the command line, without the picture; owned */
    int words;
    json_t *said;  /* NULL: it gave no answer */
    char *picture; /* SVG; NULL: none; owned */
    char *why_not; /* what it said on stderr instead of an answer; owned */
} cli_report_answer;

/* What a day came to: the worst of it. */
typedef struct cli_report_days {
    int worst[CLI_REPORT_DAYS];                /* a slew_demand; SLEW_DEMAND_COUNT: all is well */
    double coldest, warmest, weakest, highest; /* today: temperatures [K], voltages of the main
                                                  source [V] */
} cli_report_days;

typedef struct cli_report {
    const slew_scenario *scenario;
    const cli_options *options;
    const cli_command *const *asked; /* the command of each part */
    cli_report_days days;
    cli_report_answer part[CLI_REPORT_PARTS];
    char warnings[CLI_REPORT_WARNINGS_MAX]; /* of the scenario, a line each */
} cli_report;

/* Simulates a hundred days of the scenario. */
slew_status cli_report_simulate_days(const slew_scenario *scenario, const cli_options *options,
                                     cli_report_days *days, slew_error *error);

/* Asks every command, one after the other. Returns an exit code; what failed outside is told on
 * stderr, and what a command refuses stands in its part. */
int cli_report_ask(cli_report *report);

void cli_report_free(cli_report *report);

/* ---- Reading answers: a path goes through objects, "demands.hard_stop.missed.share" ---- */

const json_t *cli_report_at(const json_t *from, const char *path); /* NULL: not there */
double cli_report_number(const json_t *from, const char *path);    /* NaN: not there */
const char *cli_report_text(const json_t *from, const char *path); /* "": not there */
bool cli_report_is(const json_t *from, const char *path, const char *word);

/* ---- Writing ---- */

/* The picture of a part, with a caption; nothing if it has none. */
void cli_report_picture(FILE *html, const cli_report *report, cli_report_part part,
                        const char *caption);

/* Says why a part has no answer. true: it has one. */
bool cli_report_has(FILE *html, const cli_report *report, cli_report_part part);

/* The parts of the page, in their order. */
void cli_report_page_one(FILE *html, const cli_report *report);
void cli_report_sections(FILE *html, const cli_report *report);
void cli_report_trouble(FILE *html, const cli_report *report);
void cli_report_card(FILE *html, const cli_report *report);
void cli_report_appendix(FILE *html, const cli_report *report);

/* The whole page. false: its style sheet is not found, which is told on stderr. */
bool cli_report_page(FILE *html, const cli_report *report);

#endif
