/*
 * columns.h - several scenarios, read and run, to stand side by side: one for each file, or one
 * file with the groups of assignments that --beside begins.
 */
#ifndef SLEW_CLI_COLUMNS_H
#define SLEW_CLI_COLUMNS_H

#include "slewtime/map.h"
#include "story.h"

enum {
    CLI_COLUMN_LETTERS = 60,
    CLI_COLUMN_NAME_MAX = 4 * CLI_COLUMN_LETTERS + 1,
    CLI_GIVEN_BY_MAX = 160
};

typedef struct cli_column {
    char letter;                      /* 'A', 'B', ... */
    char name[CLI_COLUMN_NAME_MAX];   /* of the file without directory and ending, or of --beside */
    const char *path;                 /* of the scenario */
    cli_options options;              /* as if it were asked for alone */
    char (*origin)[CLI_GIVEN_BY_MAX]; /* of its own assignments, as errors name them */
    cli_story *story;
    bool runs;        /* false: its point can't be taught, there is no result */
    slew_error error; /* why not, with the place of the key */
} cli_column;

typedef struct cli_columns {
    int count; /* 2 to CLI_COLUMNS_MAX */
    cli_column column[CLI_COLUMNS_MAX];
} cli_columns;

/* Reads and runs them all. A point that can't be taught is kept with its column, and told as a
 * warning unless quiet; only when no column runs is it an error. Returns an exit code, errors are
 * told on stderr; free the columns after any of them. */
int cli_columns_run(cli_columns *columns, const cli_options *options, bool with_samples);
void cli_columns_free(cli_columns *columns);

/* What its run amounts to. */
slew_outcome cli_column_outcome(const cli_column *column);

/* true: the part was asked for, and some column that runs has it. */
bool cli_columns_stow(const cli_columns *columns);
bool cli_columns_deploy(const cli_columns *columns);

#endif
