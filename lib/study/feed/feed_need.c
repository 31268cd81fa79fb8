/* feed_need.c - the most resistance a feed may have, and what that means for conductor, length and
 * joints. */
#include "slewtime/feed.h"

#include "study/feed/feed_part.h"

static const double endless = 1e4;     /* as good as a feed that is cut off [ohm] */
static const double tolerance = 1e-13; /* of the bisection, relative */

void slew_feed_put_resistance(slew_setup *setup, double resistance)
{
    double factor = slew_copper_factor(setup->environment.temperature);
    setup->supply.feed = (slew_feed){.conductor = SLEW_CONDUCTOR_PER_LENGTH,
                                     .per_length = resistance / (2 * factor),
                                     .length = 1};
}

static double largest_drop(const slew_feed_figures *f, bool together)
{
    double most = fmax(f->running[SLEW_ROTATION].drop, f->running[SLEW_ELEVATION].drop);
    return together ? fmax(most, f->running[SLEW_FEED_BOTH].drop) : most;
}

static bool suffices(const slew_setup *setup, const slew_feed_wish *wish, double resistance)
{
    slew_setup tried = *setup;
    slew_feed_figures figures;
    slew_feed_put_resistance(&tried, resistance);
    if (slew_feed_ask(&tried, &figures, NULL) != SLEW_OK)
        return false;
    return wish->by_drop
               ? largest_drop(&figures, wish->together) <= wish->drop * setup->supply.system
               : slew_feed_keeps(&figures, wish->together, setup->supply.floor);
}

/* More resistance never gives a motor more voltage, so that one bisection finds the most. */
static double find_resistance(const slew_setup *setup, const slew_feed_wish *wish)
{
    double low = SLEW_FEED_NEARLY_NONE, high = 1e-3;
    if (!suffices(setup, wish, low))
        return -1;
    while (suffices(setup, wish, high)) {
        low = high;
        high *= 2;
        if (high > endless)
            return INFINITY;
    }
    while (high - low > tolerance * high) {
        double middle = low + (high - low) / 2;
        if (suffices(setup, wish, middle))
            low = middle;
        else
            high = middle;
    }
    return low;
}

/* `rest` is what a factor times the wanted figure may amount to */
static double shared_out(double rest, double factor)
{
    return rest < 0 ? -1 : factor > 0 ? rest / factor : (double)INFINITY;
}

slew_feed_need slew_feed_find_need(const slew_setup *setup, const slew_feed_wish *wish)
{
    if (setup == NULL || wish == NULL)
        return (slew_feed_need){NAN, {-1, -1, -1}, NAN, NAN};
    const slew_feed *feed = &setup->supply.feed;
    double factor = 2 * slew_copper_factor(setup->environment.temperature);
    slew_feed_need need = {.resistance = find_resistance(setup, wish)};
    double wire = need.resistance - slew_feed_joints(setup);
    double most = shared_out(wire, factor * feed->length);
    for (int i = 0; i < SLEW_LADDERS; i++)
        need.thinnest[i] = slew_ladder_thinnest((slew_ladder)i, feed->stranding, most);
    need.length = shared_out(wire, slew_feed_conductors(setup, 1));
    need.joint = feed->joints > 0
                     ? shared_out(need.resistance - slew_feed_metres(setup), feed->joints)
                     : NAN;
    return need;
}

void slew_feed_fit(slew_setup *setup, slew_ladder ladder, int index)
{
    if (setup == NULL || index < 0 || index >= slew_ladder_count(ladder))
        return;
    slew_feed *feed = &setup->supply.feed;
    if (ladder == SLEW_LADDER_AWG) {
        feed->conductor = SLEW_CONDUCTOR_GAUGE;
        feed->gauge = slew_ladder_size(ladder, index);
    } else {
        feed->conductor = SLEW_CONDUCTOR_PER_LENGTH;
        feed->per_length = slew_ladder_resistance(ladder, index, feed->stranding);
    }
}
