/* untaught.h - an ensemble that is not taught by itself: each sample's question teaches it. */
#ifndef SLEW_STUDY_UNTAUGHT_H
#define SLEW_STUDY_UNTAUGHT_H

#include "slewtime/scenario.h"

/* Gives stored times, which nobody drives, so that no sample is taught before it is asked. */
static inline void slew_leave_untaught(slew_scenario *scenario)
{
    scenario->stow.has_times = true;
    for (int axis = 0; axis < SLEW_AXES; axis++)
        scenario->stow.times[axis] = 0;
}

#endif
