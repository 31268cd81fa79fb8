/* landing.h - how one pair of deploy seconds ends in one sample, and in all of them. */
#ifndef SLEW_STUDY_LANDING_H
#define SLEW_STUDY_LANDING_H

#include "motion/stowed.h"
#include "slewtime/offset.h"

/* Figures of one run. SLEW_LANDING_END tells how it ended, the masks what happened on the way. */
enum {
    SLEW_LANDING_ANGLE, /* of each axis [rad] */
    SLEW_LANDING_END = SLEW_LANDING_ANGLE + SLEW_AXES,
    SLEW_LANDING_BOXES,  /* bit of each keep-out box that was entered */
    SLEW_LANDING_MOVED,  /* bit j: axis j moved; bit SLEW_AXES + j: it moved in the deploy; the bit
                            above these: the stow says stowed and holds, so that the deploy begins */
    SLEW_LANDING_MISSED, /* bit of each demand that is missed */
    SLEW_LANDING_FIGURES
};

/* Values of SLEW_LANDING_END. */
enum { SLEW_LANDED_INSIDE, SLEW_LANDED_OUTSIDE, SLEW_LANDED_NOWHERE, SLEW_LANDED_FAULTED };

/* Runs the deploy of these seconds, and fills in the figures. */
void slew_landing_run(slew_deploys *deploys, const double seconds[SLEW_AXES], double *figures);

/* true: it has deployed, inside the target on this axis. */
bool slew_landing_is_inside(const slew_scenario *scenario, const double *figures, int axis);

/* All but the seconds of *out, from the figures at `first` of every sample. `room` has place for
 * one number for each. */
void slew_landing_conclude(const slew_scenario *scenario, const slew_ensemble *ensemble, int first,
                           const slew_sampling *sampling, double *room, slew_offset_choice *out);

#endif
