/* csv.h - fields of any CSV. */
#ifndef SLEW_CLI_OLD_CSV_H
#define SLEW_CLI_OLD_CSV_H

#include <stdio.h>

#include "single_run.h"
#include "tell/csv.h"

/* Writes a comma and the number to nine digits, nothing behind it where it is not finite. */
void cli_csv_number(FILE *stream, double value);

#endif
