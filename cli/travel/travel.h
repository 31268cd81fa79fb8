/* travel.h - the picture of a run: travel of both axes against time, current, voltage. */
#ifndef SLEW_CLI_TRAVEL_TRAVEL_H
#define SLEW_CLI_TRAVEL_TRAVEL_H

#include "draw/plot.h"

/* Fills plots/travel.gp with a cli_single, which has to have samples. */
bool cli_travel_fill(cli_plot *plot, const void *single);

#endif
