/* window.h - what the two parts of the question of the window share. */
#ifndef SLEW_STUDY_WINDOW_H
#define SLEW_STUDY_WINDOW_H

#include "slewtime/window.h"

/* The values that the spread gives a key today; false: it does not vary it. Of a normal
 * distribution three standard deviations. */
bool slew_window_spread(const slew_scenario *scenario, int key, slew_range *range);

/* The key of a figure of an axis's magnet, and its place in a magnet. */
int slew_window_key(int axis, int figure);
double *slew_window_place(slew_magnet *magnet, int figure);

/* How the spread varies a key today; NULL: it does not. */
const slew_variation *slew_window_variation(const slew_scenario *scenario, int key);

/* The share of magnets and switches within the tolerances that never close; NaN without any. */
slew_share slew_window_chance(const slew_scenario *scenario, const slew_window_question *question,
                              const slew_magnet *own);

/* Lets the built-in controller search for home by every rule: fills in voltages, rows, rests and
 * their remarks. out->home must be there. */
slew_status slew_window_search(const slew_scenario *scenario, int axis, slew_window *out,
                               slew_error *error);

#endif
