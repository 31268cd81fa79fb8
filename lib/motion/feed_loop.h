/* feed_loop.h - what the loop of a feed has: two conductors and its joints. M1.3 */
#ifndef SLEW_MOTION_FEED_LOOP_H
#define SLEW_MOTION_FEED_LOOP_H

#include "slewtime/physics.h"
#include "slewtime/plant.h"

/* Resistance [ohm] of both conductors, `length` [m] one way, at the setup's temperature. */
static inline double slew_feed_conductors(const slew_setup *setup, double length)
{
    return 2 * length * slew_feed_per_length(&setup->supply.feed) *
           slew_copper_factor(setup->environment.temperature);
}

/* Of all joints together [ohm]. */
static inline double slew_feed_joints(const slew_setup *setup)
{
    return setup->supply.feed.joints * setup->supply.feed.joint_resistance;
}

#endif
