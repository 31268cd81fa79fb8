/* causes_made.h - made-up figures of two causes, for the tests that weigh them. */
#ifndef TESTS_CAUSES_MADE_H
#define TESTS_CAUSES_MADE_H

#include <gsl/gsl_cdf.h>
#include <stdlib.h>

#include "../support.h"

enum { A, B };

/* made-up figures of two causes: every sample is possible, nothing can be seen until it is set */
static inline slew_causes two_causes(int64_t samples)
{
    slew_causes c = {.count = 2, .samples = samples, .groups = 2};
    c.state = calloc(2, sizeof *c.state);
    c.figure = malloc((size_t)samples * 3 * SLEW_OBSERVABLES * sizeof *c.figure);
    assert_true(c.state != NULL && c.figure != NULL);
    c.state[A].possible = c.state[B].possible = samples;
    for (int64_t i = 0; i < samples * 3 * SLEW_OBSERVABLES; i++)
        c.figure[i] = i % SLEW_OBSERVABLES == SLEW_SEEN_STOW_SAYS ? 0.0 : (double)NAN;
    return c;
}

static inline void set(slew_causes *c, int cause, int64_t sample, int observable, double value)
{
    c->figure[(sample * 3 + cause) * SLEW_OBSERVABLES + observable] = value;
}

static inline void set_all(slew_causes *c, int cause, int observable, double value)
{
    for (int64_t i = 0; i < c->samples; i++)
        set(c, cause, i, observable, value);
}

/* evenly spread over a normal distribution */
static inline void set_normal(slew_causes *c, int cause, int observable, double mean, double sd)
{
    for (int64_t i = 0; i < c->samples; i++) {
        double u = ((double)i + 0.5) / (double)c->samples;
        set(c, cause, i, observable, mean + sd * gsl_cdf_ugaussian_Pinv(u));
    }
}

static inline slew_catalogue *two_names(double commonness_of_b)
{
    static slew_catalogue catalogue;
    catalogue.count = 2;
    catalogue.none = 0;
    catalogue.cause[A] = (slew_cause){.name = "a", .commonness = 1};
    catalogue.cause[B] = (slew_cause){.name = "b", .commonness = commonness_of_b};
    return &catalogue;
}

/* alike common, or with this probability none of them */
static inline slew_catalogue *two_or_none(double none)
{
    slew_catalogue *catalogue = two_names(1);
    catalogue->none = none;
    return catalogue;
}

static inline slew_seen seen(int observable, double value)
{
    slew_seen s;
    slew_seen_init(&s);
    s.value[observable] = value;
    return s;
}

static inline slew_ranking ranked(const slew_causes *c, const slew_seen *s, double commonness_of_b)
{
    slew_ranking r;
    slew_error error;
    if (slew_causes_rank(c, two_names(commonness_of_b), s, &r, &error) != SLEW_OK)
        fail_msg("%s: %s", error.key, error.message);
    return r;
}

#endif
