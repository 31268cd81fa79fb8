/* tables.h - the tables in the text of `feed`. */
#ifndef SLEW_CLI_FEED_TABLES_H
#define SLEW_CLI_FEED_TABLES_H

#include "answer.h"

/* Voltages and needs when it is cold, as it is, and hot. */
void cli_feed_climates(const cli_feed *a);

/* Each conductor, and one other thing changed at a time. */
void cli_feed_tables(const cli_feed *a);

#endif
