/* timing.h - a row of timed travels, under the names of the columns that `slewtime fit` reads. */
#ifndef SLEW_CLI_TELL_TIMING_H
#define SLEW_CLI_TELL_TIMING_H

#include "slewtime/timing.h"
#include "teller.h"

/* The record of a slew_timing: each field as slew_timing_format writes it. A document goes without
 * those that are not given, in a CSV they are empty. */
void cli_tell_timing(cli_teller *teller, const void *row);

#endif
