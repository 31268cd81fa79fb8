/* feed_part.h - the resistance of a feed by its parts, and a feed of one resistance. */
#ifndef SLEW_STUDY_FEED_PART_H
#define SLEW_STUDY_FEED_PART_H

#include "motion/feed_loop.h"

/* Of both conductors, metre by metre [ohm]: what a longer feed shares out. */
static inline double slew_feed_metres(const slew_setup *setup)
{
    return slew_feed_conductors(setup, 1) * setup->supply.feed.length;
}

/* As good as no feed at all [ohm]. */
#define SLEW_FEED_NEARLY_NONE 1e-9

/* Makes conductors and joints one resistance [ohm] at the setup's temperature. */
void slew_feed_put_resistance(slew_setup *setup, double resistance);

#endif
