/* near.h - a number compared with what is expected of it; says both when it fails. */
#ifndef TESTS_NEAR_H
#define TESTS_NEAR_H

static inline void near(const char *what, double value, double expected, double tolerance)
{
    if (!(fabs(value - expected) <= tolerance))
        fail_msg("%s: %.15g is not within %.3g of %.15g", what, value, tolerance, expected);
}

#endif
