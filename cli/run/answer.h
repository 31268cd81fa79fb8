/* answer.h - the answer of `slewtime run` for other software. */
#ifndef SLEW_CLI_RUN_ANSWER_H
#define SLEW_CLI_RUN_ANSWER_H

#include <stdio.h>

#include "tell/teller.h"

/* Ways of telling a cli_single, for cli_frame. */
void cli_run_document(cli_teller *teller, const void *single);
void cli_run_table(FILE *stream, const void *single); /* one row for each event */

#endif
