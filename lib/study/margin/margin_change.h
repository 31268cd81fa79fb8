/* margin_change.h - one thing about a scenario changed, to see how the clearance moves. */
#ifndef SLEW_STUDY_MARGIN_CHANGE_H
#define SLEW_STUDY_MARGIN_CHANGE_H

#include "slewtime/margin.h"

/* Applies the change, for this axis, to the file and to each layer that says it too. false: it is
 * like that already, or not possible. */
bool slew_margin_apply(slew_scenario *scenario, slew_margin_change change, int axis);

#endif
