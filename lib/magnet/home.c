/* home.c - where a home sensor closes and opens, from the magnet that passes it. */
#include "slewtime/magnet.h"

#include "motion/home.h"
#include "motion/illinois.h"

#define PI 3.14159265358979323846

enum { ROOT_STEPS_MAX = 60 };
/* a step of the root this short leaves an error that is shorter still */
static const double short_step = 1e-13; /* [rad] */

double slew_home_flux(const slew_magnet *m, double turned)
{
    if (m == NULL)
        return NAN;
    double chord = 2 * m->radius * sin(fabs(turned) / 2);
    return slew_magnet_axial(m->remanence, m->diameter, m->length, chord, m->length / 2 + m->gap);
}

/* how far the flux is above a level */
static double above(const slew_magnet *m, double level, double turned)
{
    return slew_home_flux(m, turned) - level;
}

/* the place inside the bracket at which the flux falls to the level */
static double root(const slew_magnet *m, double level, slew_illinois bracket)
{
    double at = bracket.low;
    for (int n = 0; n < ROOT_STEPS_MAX; n++) {
        double next = slew_illinois_next(&bracket);
        double f = above(m, level, next), step = fabs(next - at);
        at = next;
        if (f == 0 || step < short_step)
            return at;
        slew_illinois_take(&bracket, at, f);
    }
    return at;
}

/* The first angle beyond `from`, where it is above the level, at which the flux falls to it. Going
 * outwards the flux rises at most once (over a flat magnet), falls through zero once and stays
 * below: any bracket holds this one crossing. INFINITY: none within half a turn. */
static double falls_to(const slew_magnet *m, double level, double from)
{
    double step = fmin((m->gap + m->diameter / 2) / (4 * m->radius), PI / 8);
    double low = from, f_low = above(m, level, from);
    if (f_low <= 0)
        return from;
    for (; low < PI; step *= 2) {
        double high = fmin(low + step, PI), f_high = above(m, level, high);
        if (f_high <= 0)
            return root(m, level, (slew_illinois){low, f_low, high, f_high, 0});
        low = high, f_low = f_high;
    }
    return INFINITY;
}

slew_sight slew_home_resolve(slew_home *home)
{
    if (home == NULL)
        return SLEW_SIGHT_GIVEN;
    const slew_magnet *m = &home->magnet;
    if (!m->given)
        return SLEW_SIGHT_GIVEN;
    if (!slew_magnet_is_whole(m) || above(m, m->operate_flux, 0) < 0) {
        home->present = home->present && home->stuck;
        return SLEW_SIGHT_TOO_WEAK;
    }
    home->operate = falls_to(m, m->operate_flux, 0);
    home->release =
        isfinite(home->operate) ? falls_to(m, m->release_flux, home->operate) : INFINITY;
    return isinf(home->release) ? SLEW_SIGHT_NEVER_OPENS : SLEW_SIGHT_CLOSES;
}

slew_status slew_home_settle(slew_home *home, int axis, slew_error *error)
{
    (void)axis;
    (void)error;
    slew_home_resolve(home);
    return SLEW_OK;
}
