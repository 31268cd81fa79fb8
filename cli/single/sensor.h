/* sensor.h - home sensors whose magnet is not what they need. */
#ifndef SLEW_CLI_SINGLE_SENSOR_H
#define SLEW_CLI_SINGLE_SENSOR_H

#include "line/options.h"

/* true: a sensor that is there and not stuck never closes, for its magnet is too weak. */
bool cli_sensor_is_blind(const slew_setup *setup, int axis);

/* Warns on stderr, unless quiet, of sensors that never close or never open, on each occasion, with
 * the place of the key. */
void cli_sensor_warn(const cli_options *options, const slew_scenario *scenario);

#endif
