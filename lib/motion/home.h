/*
 * home.h - the window of a home sensor, which a run takes as it is.
 *
 * Where it follows from a magnet, motion has it worked out by those who know the field of one: the
 * room magnet. The core goes without that room, and lib/core answers in its place.
 */
#ifndef SLEW_MOTION_HOME_H
#define SLEW_MOTION_HOME_H

#include "slewtime/scenario.h"

/* true: every figure is there, finite and above zero. */
bool slew_magnet_is_whole(const slew_magnet *magnet);

/* A magnet that is given is whole, and its switch does not open at more than it closes at. */
slew_status slew_magnet_check(const slew_magnet *magnet, int axis, slew_error *error);

/* Replaces operate and release of a sensor with a magnet by the angles that follow from it.
 * SLEW_ERROR_MAGNET: nobody here knows how. */
slew_status slew_home_settle(slew_home *home, int axis, slew_error *error);

#endif
