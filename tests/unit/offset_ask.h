/*
 * offset_ask.h - spreads, samplings and answers that the tests of `offset` share.
 */
#ifndef TESTS_OFFSET_ASK_H
#define TESTS_OFFSET_ASK_H

#include "../support.h"

static const int R = SLEW_ROTATION, E = SLEW_ELEVATION;
static const char *const VOLTAGE = "supply.main.voltage";

static inline slew_variation uniform(double low, double high)
{
    return (slew_variation){.distribution = SLEW_UNIFORM, .low = low, .high = high};
}

static inline slew_variation normal(double mean, double sd)
{
    return (slew_variation){
        .distribution = SLEW_NORMAL, .mean = mean, .sd = sd, .low = -INFINITY, .high = INFINITY};
}

static inline void vary(slew_spread *spread, const char *path, slew_variation v)
{
    v.key = slew_key_find(path);
    spread->item[spread->count++] = v;
}

static inline slew_sampling samples(int64_t count)
{
    slew_sampling how = slew_sampling_default();
    how.samples = count;
    how.threads = 2;
    return how;
}

static inline void offer(slew_scenario *s, int axis, int count, double from, double step)
{
    s->deploy.choice_count[axis] = count;
    for (int i = 0; i < count; i++)
        s->deploy.choices[axis][i] = from + i * step;
}

static inline void aim(slew_scenario *s, int axis, double low, double high) /* [deg] */
{
    s->deploy.target[axis] = (slew_range){degrees(low), degrees(high)};
}

static inline slew_offset offset_of(const slew_scenario *s, const slew_sampling *how)
{
    slew_offset offset;
    slew_error error = {0};
    if (slew_offset_run(s, how, &offset, &error) != SLEW_OK)
        fail_msg("no offset: %s: %s", error.key, error.message);
    return offset;
}

#endif
