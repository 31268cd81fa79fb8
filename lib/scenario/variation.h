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

/* The standard normal score that a value of the key has among what is drawn: Phi^-1 of the share
 * below it, of one of a table's values of the middle of its own share. Where the distribution has
 * an end within 5 sd (all but a whole normal have), a share is 0.1 to 99.9 %: a value at an end, or
 * beyond it, is as odd as the oddest 0.1 %, not infinitely odd. */
double slew_variation_score(const slew_variation *variation, double value);

#endif
