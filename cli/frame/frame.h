/*
 * frame.h - what commands have in common: a scenario is read, a question asked of it, and the
 * answer told as text, JSON, CSV or a picture.
 */
#ifndef SLEW_CLI_FRAME_FRAME_H
#define SLEW_CLI_FRAME_FRAME_H

#include <stdio.h>

#include "draw/plot.h"
#include "line/command.h"
#include "tell/teller.h"

/* The ways of telling an answer. */
typedef struct cli_frame {
    const void *what; /* handed to each of these */
    void (*text)(const void *what);
    cli_record *document;                          /* as JSON */
    void (*table)(FILE *stream, const void *what); /* as CSV */
    const char *script;                            /* of the picture */
    const char *shows;                             /* what it shows */
    cli_plot_fill *fill;                           /* with the picture's data and variables */
} cli_frame;

/* Says what is wrong with --json, --csv, --plot and --pose together. Returns an exit code. */
int cli_frame_check(const cli_options *options, const char *command);

/* Checks as above, reads the scenario (without an operand: a fresh one), makes an answer of `size`
 * bytes, asks, and releases both. Returns an exit code. */
int cli_frame_ask(const cli_options *options, const char *command, size_t size, cli_question *ask);

/* Answers as the options ask. The picture first: while it fails nothing is on stdout. Returns an
 * exit code. */
int cli_frame_tell(const cli_options *options, const cli_frame *frame);

/* What a question of many runs came to. */
typedef struct cli_sampled {
    slew_status status;
    slew_error *error;
    int64_t asked, done, refused; /* samples */
    const slew_error *first_refusal;
} cli_sampled;

/* The same for such a question: says what stopped it or failed, warns of samples that can't run,
 * and answers with what is done. Returns an exit code. */
int cli_frame_tell_sampled(const cli_options *options, const cli_frame *frame,
                           const cli_sampled *sampled);

/* Warns, unless quiet, of samples that can't run, with the reason of the first. */
void cli_warn_of_refused(const cli_options *options, int64_t refused, const slew_error *first);

#endif
