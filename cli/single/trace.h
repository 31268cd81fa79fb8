/*
 * trace.h - the dense course of a run as CSV: every 10 ms, and just before and just after every
 * jump, so that it is exact at the events.
 */
#ifndef SLEW_CLI_SINGLE_TRACE_H
#define SLEW_CLI_SINGLE_TRACE_H

#include <stdio.h>

#include "single_run.h"

/* Writes the names of its columns and a line for each sample of a cli_single. */
void cli_trace(FILE *stream, const void *single);

/* Runs once more what cli_single_run has run, and writes the same into a file as it goes, whole or
 * not at all: of a long run nothing is kept in memory. Returns an exit code. */
int cli_trace_file(const char *path, const cli_single *single);

#endif
