/*
 * compared_runs.h - several scenarios, read and run, to stand side by side: one for each file, or
 * one file with the groups of assignments that --beside begins.
 */
#ifndef SLEW_CLI_COMPARE_COMPARED_RUNS_H
#define SLEW_CLI_COMPARE_COMPARED_RUNS_H

#include "single/single_run.h"
#include "slewtime/map.h"

enum {
    CLI_COLUMN_LETTERS = 60,
    CLI_COLUMN_NAME_MAX = 4 * CLI_COLUMN_LETTERS + 1,
    CLI_GIVEN_BY_MAX = 160
};

typedef struct cli_compared_run {
    char letter;                      /* 'A', 'B', ... */
    char name[CLI_COLUMN_NAME_MAX];   /* of the file without directory and ending, or of --beside */
    const char *path;                 /* of the scenario */
    cli_options options;              /* as if it were asked for alone */
    char (*origin)[CLI_GIVEN_BY_MAX]; /* of its own assignments, as errors name them */
    slew_scenario scenario;
    cli_single single;
    bool runs;        /* false: its point can't be taught, there is no result */
    slew_error error; /* why not, with the place of the key */
} cli_compared_run;

typedef struct cli_compared_runs {
    int count; /* 2 to CLI_COLUMNS_MAX */
    cli_compared_run column[CLI_COLUMNS_MAX];
} cli_compared_runs;

/* Reads and runs them all. A point that can't be taught is kept with its column, and told as a
 * warning unless quiet; only when no column runs is it an error. Returns an exit code, errors are
 * told on stderr; free the columns after any of them. */
int cli_compared_runs_run(cli_compared_runs *columns, const cli_options *options,
                          bool with_samples);
void cli_compared_runs_free(cli_compared_runs *columns);

/* What its run amounts to. */
slew_outcome cli_compared_run_outcome(const cli_compared_run *column);

/* true: some column that runs has the part, by cli_single_stows or cli_single_deploys. */
bool cli_compared_runs_have(const cli_compared_runs *columns,
                            bool (*has)(const cli_single *single));

#endif
