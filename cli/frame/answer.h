/* answer.h - how commands answer that do not use frame.h yet. */
#ifndef SLEW_CLI_FRAME_ANSWER_H
#define SLEW_CLI_FRAME_ANSWER_H

#include "frame.h"

typedef struct cli_answer {
    const void *what; /* handed to each of these */
    int (*draw)(const char *path, const void *what);
    int (*json)(const void *what);
    void (*csv)(FILE *stream, const void *what);
    void (*text)(const void *what);
} cli_answer;

/* Answers as the options ask. The picture first: while it fails nothing is on stdout. Returns an
 * exit code. */
int cli_answer_tell(const cli_options *options, const cli_answer *answer);

#endif
