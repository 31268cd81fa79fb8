/* seconds_that_land.h - the deploy seconds for which an axis lands inside its target, in one
 * sample. */
#ifndef SLEW_STUDY_SECONDS_THAT_LAND_H
#define SLEW_STUDY_SECONDS_THAT_LAND_H

#include "motion/stowed.h"

/* From the least to the most seconds (commanded, signed), to a millisecond or so, found by
 * `deploys` with `seconds` for the other axis, beginning with those of this one. The
 * resting angle is taken to grow with the seconds, and a fault of this axis to lie beyond every
 * angle. low > high: no seconds up to the move limit land it there. */
slew_range slew_seconds_that_land(slew_deploys *deploys, const double seconds[SLEW_AXES], int axis);

#endif
