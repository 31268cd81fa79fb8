/* feed_loop.h - what the loop of a feed has: two conductors and its joints. */
#ifndef SLEW_STUDY_FEED_LOOP_H
#define SLEW_STUDY_FEED_LOOP_H

#include "slewtime/plant.h"

#include "slewtime/physics.h"

/* Resistance [ohm] of both conductors at the setup's temperature, for each metre one way. M1.3 */
static inline double slew_feed_per_metre(const slew_setup *setup)
{
    return 2 * slew_feed_per_length(&setup->supply.feed) *
           slew_copper_factor(setup->environment.temperature);
}

/* Of both conductors [ohm]. */
static inline double slew_feed_conductors(const slew_setup *setup)
{
    return slew_feed_per_metre(setup) * setup->supply.feed.length;
}

/* Of all joints together [ohm]. */
static inline double slew_feed_joints(const slew_setup *setup)
{
    return setup->supply.feed.joints * setup->supply.feed.joint_resistance;
}

/* As good as no feed at all [ohm]. */
#define SLEW_FEED_NEARLY_NONE 1e-9

/* Makes conductors and joints one resistance [ohm] at the setup's temperature. */
void slew_feed_put_resistance(slew_setup *setup, double resistance);

#endif
