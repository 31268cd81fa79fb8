/* timing_row.h - a row's conditions, and how fast a timed travel can be at most. */
#ifndef SLEW_STUDY_TIMING_ROW_H
#define SLEW_STUDY_TIMING_ROW_H

#include "slewtime/timing.h"

/* Of which nothing is shown. */
slew_timed slew_timed_nothing(void);

/* Puts what a row is told of supply, water, temperature and its own motor into a resolved setup. */
void slew_timing_set_conditions(slew_setup *setup, const slew_timing *row);

/* Greatest speed [rad/s] that the axis of a row can have when the source stands at `voltage`. M12.6
 */
double slew_timing_fastest(const slew_setup *setup, const slew_timing *row, double voltage);

#endif
