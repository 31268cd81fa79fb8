/* generator.h - scenarios drawn over the table of keys, each known by its number alone. */
#ifndef TESTS_RANDOM_GENERATOR_H
#define TESTS_RANDOM_GENERATOR_H

#include <stdint.h>
#include <stdio.h>

#include "slewtime/slewtime.h"

/* Fills in scenario `number`: the same on every machine and in every run. It may be one that the
 * checks refuse: values are drawn key by key. */
void random_scenario(uint64_t number, slew_scenario *out);

/* true: all values of it lie within three times and a third of an example's; so a general solver
 * gets along with it. */
bool random_is_mild(uint64_t number);

/* Writes a scenario as a file that can be read again, with all digits. */
void random_write(FILE *out, const slew_scenario *scenario);

#endif
