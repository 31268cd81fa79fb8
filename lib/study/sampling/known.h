/* known.h - what of a day is left to draw, and how its keys go together. */
#ifndef SLEW_STUDY_SAMPLING_KNOWN_H
#define SLEW_STUDY_SAMPLING_KNOWN_H

#include "scenario/correlation.h"
#include "slewtime/study.h"

/* Keys that are drawn together: their normal scores are lead + factor times independent ones. */
typedef struct slew_drawn {
    slew_spread spread;
    double lead[SLEW_VARIATIONS_MAX]; /* where they are to be expected, by what is known */
    double factor[SLEW_FACTOR_MAX];   /* lower triangle, [row * count + column] */
} slew_drawn;

/* spread.day without the keys that are known on the occasion. */
slew_spread slew_day_left(const slew_scenario *scenario, slew_occasion occasion);

/* Fills in factor and lead of the keys in `drawn`. `known`: keys of which the occasion's setup says
 * the value, conditioned on (M9.1). false: see slew_correlation_factor. */
bool slew_drawn_together(const slew_scenario *scenario, const slew_spread *known,
                         const slew_setup *setup, slew_drawn *drawn);

/* The keys of spread.day whose values on the occasion the layers say. */
slew_spread slew_day_known(const slew_scenario *scenario, slew_occasion occasion);

#endif
