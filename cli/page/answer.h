/* answer.h - what `slewtime page` hands over to the page, as numbers and texts. */
#ifndef SLEW_CLI_PAGE_ANSWER_H
#define SLEW_CLI_PAGE_ANSWER_H

#include "frame/windows.h"
#include "slewtime/causes.h"
#include "tell/teller.h"

enum { CLI_PAGE_DAYS = 100, CLI_PAGE_CASES = 4, CLI_PAGE_DAY_KEYS = 128, CLI_PAGE_WORDS = 128 };

/* One key of one layer. */
typedef struct cli_page_key {
    slew_layer_id layer;
    int key;
    double value; /* [SI] */
} cli_page_key;

/* One drawn day: what it sets beside the scenario. */
typedef struct cli_page_day {
    bool fits; /* false: it can't be run */
    int count;
    cli_page_key item[CLI_PAGE_DAY_KEYS];
} cli_page_day;

/* The faults that a page can hide: of each what means, proves and cures it, what is seen and
 * measured in some cases, and what it mostly reads. */
typedef struct cli_page_exercise {
    slew_catalogue catalogue;
    slew_causes causes;
    slew_sampling sampling;
    double *likeness;          /* owned */
    cli_page_day *motion;      /* owned, [cause * samples + sample]: what that run sets */
    slew_signature *signature; /* owned, [cause * SLEW_OBSERVABLES + observable] */
} cli_page_exercise;

/* What each word of each choice stands for, by the number of its key. */
typedef struct cli_page_word {
    int key;
    double value;
} cli_page_word;

typedef struct cli_page_words {
    cli_page_word word[CLI_PAGE_WORDS];
    int count;
} cli_page_words;

typedef struct cli_page {
    const slew_scenario *scenario;
    slew_scenario plain; /* with windows in place of magnets */
    const char *file;    /* as the command line names it */
    slew_sampling days_asked;
    cli_page_day day[CLI_PAGE_DAYS];
    cli_page_exercise exercise;
    cli_page_words words;
} cli_page;

/* Draws the days of the scenario's spread. */
slew_status cli_page_draw_days(const slew_scenario *scenario, cli_page *page, slew_error *error);

/* What `drawn` sets in its layers otherwise than `plain`, put to the day's keys. */
void cli_page_day_layers(cli_page_day *day, const slew_scenario *drawn, const slew_scenario *plain);

/* The same of every number of the file. */
void cli_page_day_file(cli_page_day *day, const slew_scenario *drawn, const slew_scenario *plain);

/* A day as a list: layer, key, value, layer, key, value, ...; null: it can't be run. */
void cli_page_tell_day(cli_teller *teller, const cli_page_day *day);

/* Simulates every cause of the built-in catalogue; `plain` is the scenario without magnets. */
slew_status cli_page_exercise_run(const slew_scenario *scenario, const slew_scenario *plain,
                                  cli_page_exercise *exercise, slew_error *error);
void cli_page_exercise_free(cli_page_exercise *exercise);
void cli_page_tell_exercise(cli_teller *teller, const cli_page_exercise *exercise);

/* SLEW_ERROR_MEMORY. */
slew_status cli_page_read_words(cli_page_words *words);

/* All of it; `what` is a cli_page. */
void cli_page_document(cli_teller *teller, const void *what);

/* The page itself as `make page` builds it, to be freed; `out` must be another file. Returns an
 * exit code; why it is not there is said on stderr. */
int cli_page_template(const char *out, char **text);

#endif
