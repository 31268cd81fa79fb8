/* places.h - what a scenario is drawn with, and the places that belong together: stops, start,
 * home, point and boxes. */
#ifndef TESTS_RANDOM_PLACES_H
#define TESTS_RANDOM_PLACES_H

#include <math.h>
#include <stdint.h>

#include "slewtime/slewtime.h"

static const double DEGREE = 0.017453292519943295;

/* ---- dice: each draw of a scenario has a dimension of its own ---- */

typedef struct dice {
    uint64_t number;
    uint32_t thrown;
} dice;

static inline double draw(dice *d) /* 0 to 1 */
{
    return slew_random_unit(20260, d->number, d->thrown++);
}

static inline bool chance(dice *d, double share)
{
    return draw(d) < share;
}

static inline int pick(dice *d, int count) /* 0 to count - 1 */
{
    return (int)(draw(d) * count);
}

static inline double between(dice *d, double low, double high)
{
    return low + (high - low) * draw(d);
}

/* ---- how far a scenario goes ---- */

typedef enum depth {
    MILD, /* within half a decade of an example */
    WIDE, /* decades, ends of ranges */
    WILD  /* whatever a double can be */
} depth;

typedef struct temper {
    depth depth;
    double share; /* of the keys that leave their example */
    int alone;    /* the only one that does; -1: no such key */
} temper;

static inline void exchange(double *less, double *more)
{
    if (*less > *more) {
        const double kept = *less;
        *less = *more;
        *more = kept;
    }
}

/* Stops of an axis, and start, home and point between them. */
void random_place_axis(dice *d, const temper *t, slew_scenario *s, int axis);

/* Keep-out boxes, some with bounds where something else happens. */
void random_place_boxes(dice *d, slew_scenario *s);

#endif
