/* target.h - a target window that no deploy can meet. */
#ifndef SLEW_STUDY_TARGET_H
#define SLEW_STUDY_TARGET_H

#include "slewtime/scenario.h"

/* SLEW_ERROR_INPUT if it is certain, whatever the spread draws, that no angle between the hard
 * stops of the deploy lies inside the target of an axis. */
slew_status slew_target_check(const slew_scenario *scenario, slew_error *error);

#endif
