/* variation.h - how much of a distribution lies where. */
#ifndef SLEW_SCENARIO_VARIATION_H
#define SLEW_SCENARIO_VARIATION_H

#include "slewtime/scenario.h"

/* A normal without ends of its own may leave what a key allows in so many cases; beyond the key's
 * range it is then cut off. */
#define SLEW_TAIL_SHARE 1e-3

/* The share of a distribution that lies outside low to high, 0 to 1. */
double slew_variation_outside(const slew_variation *variation, slew_range range);

/* Least and greatest value that can be drawn; infinite where there is no end. */
slew_range slew_variation_extent(const slew_variation *variation);

#endif
