/*
 * illinois.h - the root of a function between two places where its signs differ: regula falsi, the
 * value of an end that stays halved (the Illinois rule: M. Dowell, P. Jarratt, BIT 11 (1971)
 * 168-174). Look at the function at each place it names, and tell what was found.
 */
#ifndef SLEW_MOTION_ILLINOIS_H
#define SLEW_MOTION_ILLINOIS_H

typedef struct slew_illinois {
    double low, f_low, high, f_high;
    int kept; /* the end that stayed last: +1 high, -1 low, 0 none yet */
} slew_illinois;

/* Where to look next. */
static inline double slew_illinois_next(const slew_illinois *b)
{
    return b->low + (b->high - b->low) * b->f_low / (b->f_low - b->f_high);
}

/* The function is `f` there. */
static inline void slew_illinois_take(slew_illinois *b, double at, double f)
{
    if (f * b->f_low > 0) {
        b->low = at, b->f_low = f;
        b->f_high = b->kept > 0 ? b->f_high / 2 : b->f_high;
        b->kept = 1;
    } else {
        b->high = at, b->f_high = f;
        b->f_low = b->kept < 0 ? b->f_low / 2 : b->f_low;
        b->kept = -1;
    }
}

#endif
