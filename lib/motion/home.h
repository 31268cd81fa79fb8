/* home.h - what makes a magnet of a home sensor. */
#ifndef SLEW_MOTION_HOME_H
#define SLEW_MOTION_HOME_H

#include "slewtime/scenario.h"

/* true: every figure is there, finite and above zero. */
bool slew_magnet_is_whole(const slew_magnet *magnet);

#endif
