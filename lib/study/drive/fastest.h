/* fastest.h - how fast a timed travel can be at most. */
#ifndef SLEW_STUDY_FASTEST_H
#define SLEW_STUDY_FASTEST_H

#include "slewtime/timing.h"

/* Greatest speed [rad/s] that the axis of a row can have when the source stands at `voltage`. M12.6
 */
double slew_timing_fastest(const slew_setup *setup, const slew_timing *row, double voltage);

#endif
