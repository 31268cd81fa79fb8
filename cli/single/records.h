/* records.h - what a run came to, each figure told once: for JSON, CSV and tables. */
#ifndef SLEW_CLI_SINGLE_RECORDS_H
#define SLEW_CLI_SINGLE_RECORDS_H

#include "single_run.h"
#include "tell/teller.h"

/* Tells the result of a cli_single: stored times, both parts, supply and keep-outs. A row also has
 * how far the axes rest from where they should; a part that was not asked for or not begun is empty
 * in it. */
void cli_tell_result(cli_teller *teller, const void *single);

/* The name of a keep-out box; NULL: `box` is none. */
const char *cli_box_name(const cli_single *single, int box);

#endif
