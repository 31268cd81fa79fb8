/* csv.h - the events of `run` as CSV: one row per event, header names with units; fields of any
 * CSV.
 */
#ifndef SLEW_CLI_OLD_CSV_H
#define SLEW_CLI_OLD_CSV_H

#include <stdio.h>

#include "single_run.h"
#include "tell/csv.h"

/* Writes one line of header and one line per event. */
void cli_csv_events(FILE *stream, const cli_single *single);

/* Writes a comma and the number to nine digits, nothing behind it where it is not finite. */
void cli_csv_number(FILE *stream, double value);

#endif
