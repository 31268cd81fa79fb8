/* sound.h - whether a scenario that somebody else's program has filled in can be worked with. */
#ifndef SLEW_KEYS_SOUND_H
#define SLEW_KEYS_SOUND_H

#include "slewtime/scenario.h"

/* false, with the reason in *error (which may be NULL): there is no scenario, a count of it is
 * beyond its array, or an index is none of the key table. */
bool slew_has_shape(const slew_scenario *scenario, slew_error *error);

/* The same, and that coefficients, times and points that are given are numbers. Whether its values
 * make sense otherwise is for slew_scenario_check. */
bool slew_is_sound(const slew_scenario *scenario, slew_error *error);

#endif
