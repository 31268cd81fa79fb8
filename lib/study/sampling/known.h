/* known.h - what of a day is left to draw. */
#ifndef SLEW_STUDY_SAMPLING_KNOWN_H
#define SLEW_STUDY_SAMPLING_KNOWN_H

#include "slewtime/study.h"

/* spread.day without the keys that are known on the occasion. */
slew_spread slew_day_left(const slew_scenario *scenario, slew_occasion occasion);

#endif
