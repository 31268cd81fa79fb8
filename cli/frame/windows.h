/* windows.h - home windows in place of the magnets that give them, for what goes without magnets.
 */
#ifndef SLEW_CLI_FRAME_WINDOWS_H
#define SLEW_CLI_FRAME_WINDOWS_H

#include "slewtime/scenario.h"

/* The scenario with the windows that follow from its magnets, on every occasion. */
void cli_without_magnets(const slew_scenario *scenario, slew_scenario *plain);

#endif
