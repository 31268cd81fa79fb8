/* places.c - see places.h. */
#include "places.h"

#include <stdio.h>

static slew_range stops_of(dice *d, const temper *t)
{
    const double low = between(d, -190, 0) * DEGREE;
    switch (pick(d, t->depth == MILD ? 3 : 6)) {
    case 0:
        return (slew_range){-20 * DEGREE, 90 * DEGREE};
    case 1:
        return (slew_range){-170 * DEGREE, 170 * DEGREE};
    case 2:
        return (slew_range){low, low + between(d, 15, 200) * DEGREE};
    case 3:
        return (slew_range){low, low + pow(10, between(d, -9, 1)) * DEGREE};
    case 4:
        return (slew_range){-3600 * DEGREE, 3600 * DEGREE};
    default:
        return (slew_range){low, nextafter(low, INFINITY)};
    }
}

/* between stops, and on or next to them */
static double place_in(dice *d, slew_range r, double least)
{
    switch (pick(d, 8)) {
    case 0:
        return r.low + least;
    case 1:
        return r.high - least;
    case 2:
        return r.low + (r.high - r.low) / 2;
    case 3:
        return least > 0 ? r.low + least / 3 : nextafter(r.low, r.high);
    default:
        return between(d, r.low + least, r.high - least);
    }
}

static double home_in(dice *d, slew_range r)
{
    if (chance(d, 0.15))
        return r.low - between(d, 0, 10) * DEGREE;
    return place_in(d, r, 0);
}

void random_place_axis(dice *d, const temper *t, slew_scenario *s, int j)
{
    slew_axis_setup *a = &s->setup.axis[j];
    a->stops = stops_of(d, t);
    a->start = place_in(d, a->stops, 0);
    a->home.angle = home_in(d, a->stops);
    if (s->stow.has_point)
        s->stow.point[j] = place_in(d, a->stops, t->depth == MILD ? DEGREE / 20 : 1e-12);
}

/* a bound of a box: anywhere, and where something else happens */
static double bound_of(dice *d, const slew_axis_setup *a)
{
    switch (pick(d, 8)) {
    case 0:
        return a->stops.low;
    case 1:
        return a->stops.high;
    case 2:
        return a->home.angle + a->home.operate;
    case 3:
        return a->start;
    default:
        return between(d, a->stops.low - 5 * DEGREE, a->stops.high + 5 * DEGREE);
    }
}

static slew_range side_of(dice *d, const slew_axis_setup *a)
{
    if (chance(d, 0.25))
        return (slew_range){-INFINITY, INFINITY};
    slew_range r = {.low = bound_of(d, a)};
    r.high = chance(d, 0.1) ? r.low : bound_of(d, a);
    exchange(&r.low, &r.high);
    return r;
}

void random_place_boxes(dice *d, slew_scenario *s)
{
    s->keepout.count = chance(d, 0.9) ? 1 + pick(d, 3) : SLEW_KEEPOUT_MAX;
    for (int i = 0; i < s->keepout.count; i++) {
        slew_keepout_box *box = &s->keepout.box[i];
        snprintf(box->name, SLEW_NAME_MAX, "box %d", i + 1);
        for (int j = 0; j < SLEW_AXES; j++)
            box->axis[j] = side_of(d, &s->setup.axis[j]);
        if (isinf(box->axis[0].low) && isinf(box->axis[1].low)) /* all would be no box */
            box->axis[1] = s->setup.axis[1].stops;
    }
}
