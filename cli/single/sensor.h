/* sensor.h - warnings about home sensors whose magnet is not what they need. */
#ifndef SLEW_CLI_SINGLE_SENSOR_H
#define SLEW_CLI_SINGLE_SENSOR_H

#include "line/options.h"

/* Warns on stderr, unless quiet, of sensors that never close or never open, on each occasion, with
 * the place of the key. */
void cli_sensor_warn(const cli_options *options, const slew_scenario *scenario);

#endif
