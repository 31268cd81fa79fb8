/* travel.h - the picture of a run: travel of both axes against time, current, voltage. */
#ifndef SLEW_CLI_TRAVEL_TRAVEL_H
#define SLEW_CLI_TRAVEL_TRAVEL_H

#include "single/single_run.h"

/* Draws it (plots/travel.gp) to a file, whole or not at all, or for "-" to stdout. The single has
 * to have samples. Returns an exit code. */
int cli_travel_picture(const char *path, const cli_single *single);

#endif
