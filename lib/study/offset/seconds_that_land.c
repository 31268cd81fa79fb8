/* seconds_that_land.c - see seconds_that_land.h. */
#include "study/offset/seconds_that_land.h"

#include <string.h>

static const double exact_time = 1e-3, exact_angle = 1e-4; /* [s], [rad] */
static const double first_step = 0.1, furthest_step = 2;   /* at least [s], at most [rad] */
static const double beyond = 10;                           /* than any angle [rad] */
enum { ROUNDS_MAX = 60 };

/* Seconds are counted in the true + direction from here on. */
typedef struct search {
    slew_deploys *deploys;
    double seconds[SLEW_AXES]; /* of the other axis; those of this one are tried */
    int axis, sense;           /* sense: -1 for a motor that is reversed */
    double limit;              /* of the seconds */
    double speed;              /* of the output, roughly [rad/s] */
    bool hopeless;             /* no seconds of this axis help */
} search;

typedef struct point {
    double seconds, angle;
} point;

static point at(search *s, double seconds)
{
    slew_result r;
    s->seconds[s->axis] = s->sense * seconds;
    slew_deploys_run(s->deploys, s->seconds, &r);
    const slew_part *deploy = &r.deploy;
    double angle = deploy->angle[s->axis];
    if (deploy->says == SLEW_DEPLOYED && deploy->holds)
        return (point){seconds, angle};
    if (r.stow.says != SLEW_STOWED || seconds == 0 || deploy->axis == !s->axis)
        s->hopeless = true;
    return (point){seconds, seconds > 0 ? angle + beyond : angle - beyond};
}

/* goes on from `from` until the angle has passed `bound`; false: it does not */
static bool bracket(search *s, double bound, point *from, point *to)
{
    double direction = from->angle < bound ? 1 : -1;
    double way = fmin(fabs(bound - from->angle), furthest_step);
    double step = fmax(1.1 * way / s->speed, first_step);
    for (; !s->hopeless; step *= 2) {
        double next = from->seconds + direction * step;
        *to = at(s, fmin(fmax(next, -s->limit), s->limit));
        if ((to->angle < bound) != (from->angle < bound))
            return true;
        if (fabs(to->seconds) >= s->limit)
            return false;
        *from = *to;
    }
    return false;
}

/* false position; halving every third time, and across a fault, where angles say nothing */
static double between(const point *a, const point *b, double bound, int round)
{
    bool halve = round % 3 == 2 || fabs(b->angle - a->angle) > beyond / 2;
    double share = halve ? 0.5 : (bound - a->angle) / (b->angle - a->angle);
    return a->seconds + fmin(fmax(share, 0.01), 0.99) * (b->seconds - a->seconds);
}

/* the seconds at which the angle passes `bound`; infinite if it never does */
static double crossing(search *s, double bound, point start)
{
    point a = start, b = {NAN, NAN};
    if (!bracket(s, bound, &a, &b))
        return a.angle < bound ? INFINITY : -INFINITY;
    for (int round = 0; round < ROUNDS_MAX && fabs(b.seconds - a.seconds) > exact_time; round++) {
        point c = at(s, between(&a, &b, bound, round));
        if (fabs(c.angle - bound) < exact_angle)
            return c.seconds;
        if ((c.angle < bound) == (a.angle < bound))
            a = c;
        else
            b = c;
    }
    return (a.seconds + b.seconds) / 2;
}

static search begin(slew_deploys *deploys, int axis)
{
    const slew_setup *setup = &deploys->prepared->deploy_setup;
    const slew_axis_setup *a = &setup->axis[axis];
    return (search){.deploys = deploys,
                    .axis = axis,
                    .sense = a->reversed ? -1 : 1,
                    .limit = setup->controller.move_limit,
                    .speed = a->motor.no_load_speed / a->gear.ratio};
}

slew_range slew_seconds_that_land(slew_deploys *deploys, const double seconds[SLEW_AXES], int axis)
{
    search s = begin(deploys, axis);
    const slew_range *target = &deploys->scenario->deploy.target[axis];
    memcpy(s.seconds, seconds, sizeof s.seconds);
    point start = at(&s, s.sense * seconds[axis]);
    double low = crossing(&s, target->low, start), high = crossing(&s, target->high, start);
    low = fmax(low, -s.limit);
    high = fmin(high, s.limit);
    if (s.hopeless || !(high - low > 2 * exact_time))
        return (slew_range){INFINITY, -INFINITY};
    return s.sense > 0 ? (slew_range){low, high} : (slew_range){-high, -low};
}
