/* csv.h - records as the rows of a CSV table, which is also what pictures are drawn from. */
#ifndef SLEW_CLI_TELL_CSV_H
#define SLEW_CLI_TELL_CSV_H

#include <stdio.h>

#include "teller.h"

/* Writes the names of the record's figures as a line of header, or their values as a line. Numbers
 * have twelve digits, what there is not is empty. Lists are left out. */
void cli_csv_names(FILE *stream, cli_record *record, const void *what);
void cli_csv_values(FILE *stream, cli_record *record, const void *what);

/* The values; before those of the first row, the names. */
void cli_csv_row(FILE *stream, bool is_first, cli_record *record, const void *what);

#endif
