/* frame.h - what commands have in common that answer in text, JSON, CSV and a picture. */
#ifndef SLEW_CLI_FRAME_FRAME_H
#define SLEW_CLI_FRAME_FRAME_H

#include <stdio.h>

#include "line/options.h"
#include "slewtime/scenario.h"

typedef struct cli_answer {
    const void *what; /* handed to each of these */
    int (*draw)(const char *path, const void *what);
    int (*json)(const void *what);
    void (*csv)(FILE *stream, const void *what);
    void (*text)(const void *what);
} cli_answer;

/* Says what is wrong with --json, --csv, --plot and --pose together. Returns an exit code. */
int cli_answer_check(const cli_options *options, const char *command);

/* What a command asks of a scenario that is read; `answer` is its own and begins zeroed. Returns an
 * exit code. */
typedef int cli_question(const cli_options *options, const slew_scenario *scenario, void *answer);

/* Checks as above, reads the scenario, makes an answer of `size` bytes, asks, and releases both.
 * Returns an exit code. */
int cli_answer_question(const cli_options *options, const char *command, size_t size,
                        cli_question *ask);

/* Answers as the options ask. The picture first: while it fails nothing is on stdout. Returns an
 * exit code. */
int cli_answer_tell(const cli_options *options, const cli_answer *answer);

/* Warns, unless quiet, of samples that can't run, with the reason of the first. */
void cli_warn_of_refused(const cli_options *options, int64_t refused, const slew_error *first);

#endif
