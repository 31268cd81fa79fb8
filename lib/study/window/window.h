/* window.h - what the two parts of the question of the window share. */
#ifndef SLEW_STUDY_WINDOW_H
#define SLEW_STUDY_WINDOW_H

#include "slewtime/window.h"

/* The values that the spread gives a key today; false: it does not vary it. Of a normal
 * distribution three standard deviations. */
bool slew_window_spread(const slew_scenario *scenario, int key, slew_range *range);

/* Lets the built-in controller search for home by every rule: fills in voltages, rows, rests and
 * their remarks. out->home must be there. */
slew_status slew_window_search(const slew_scenario *scenario, int axis, slew_window *out,
                               slew_error *error);

#endif
