/* heading.h - what stands above the picture of one run. */
#ifndef SLEW_CLI_SINGLE_HEADING_H
#define SLEW_CLI_SINGLE_HEADING_H

#include "draw/plot.h"
#include "single_run.h"

/* Sets the script's heading_1 and heading_2, what was found (the second may be empty), and
 * heading_3, on what truck and under which conditions, and origin. */
void cli_heading_set(cli_plot *plot, const cli_single *single);

#endif
