/* output.h - results leave the program whole or not at all. */
#ifndef SLEW_CLI_LINE_OUTPUT_H
#define SLEW_CLI_LINE_OUTPUT_H

#include <signal.h>
#include <stdbool.h>
#include <stdio.h>

/*
 * A file being written. The text goes to a temporary file beside the target, which takes the
 * target's place on commit; until then the target is as it was. A target that exists and is no
 * regular file (a device, a pipe) is written directly. Interrupts (ctrl-C) are held back from open
 * to close, so that none leaves a temporary file behind.
 */
typedef struct cli_file {
    FILE *stream;
    char *target;    /* as the user calls it */
    char *place;     /* the same with symbolic links followed */
    char *temporary; /* NULL: written directly */
    sigset_t before; /* signal mask before the interrupts were held back */
} cli_file;

/* Opens it. Returns an exit code; a failure is told on stderr and leaves nothing behind. */
int cli_file_open(cli_file *file, const char *target);

/* Closes it and, while `code` is CLI_OK, puts it in the target's place; otherwise removes it.
 * Returns `code`, or the exit code of its own failure, which is told on stderr. */
int cli_file_close(cli_file *file, int code);

/* The signals that would end the process with something left to clean up: ctrl-C, SIGTERM and
 * others. */
void cli_interrupts(sigset_t *set);

/* Holds them back, and says in *before what was held before. */
void cli_hold_interrupts(sigset_t *before);

/* true: one of them waits to be let through. Who holds them back gives up then, and cleans up. */
bool cli_interrupt_pending(void);

/* Makes a directory for temporary files, below TMPDIR or else /tmp, and puts its path into `path`.
 * Returns an exit code; a failure is told on stderr. */
int cli_temporary_directory(char *path, size_t size);

/* Why an earlier write to it failed, as an errno. What it writes to is lost: one byte more is
 * written, which does no harm, to see it fail again. */
int cli_write_error(FILE *stream);

/* Closes stdout. Returns `code`, or CLI_OUTSIDE when not everything could be written. A reader who
 * has gone away (a broken pipe) is a quiet end. */
int cli_close_stdout(int code);

/* Keeps files that are opened later from taking the place of a closed stdin, stdout or stderr. */
void cli_guard_streams(void);

#endif
