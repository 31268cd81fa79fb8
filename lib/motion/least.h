/* least.h - the smaller and the larger of two numbers, inline where fmin and fmax are calls. */
#ifndef SLEW_MOTION_LEAST_H
#define SLEW_MOTION_LEAST_H

static inline double slew_smaller(double a, double b)
{
    return a < b ? a : b;
}

static inline double slew_larger(double a, double b)
{
    return a > b ? a : b;
}

#endif
