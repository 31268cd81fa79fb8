/* clock.h - time as the benchmarks take it. */
#ifndef SLEW_BENCH_CLOCK_H
#define SLEW_BENCH_CLOCK_H

#include <time.h>

/* [s], from somewhere */
static inline double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

#endif
