/* random.h - what the programs with random scenarios share: which one is under way, and what is
 * told of one that fails. */
#ifndef TESTS_RANDOM_RANDOM_H
#define TESTS_RANDOM_RANDOM_H

#include "generator.h"

#include <stdlib.h>

static uint64_t random_number;              /* of the scenario */
static const slew_scenario *random_current; /* it has not been judged yet; NULL: it has */

static inline void random_begin(slew_scenario *out)
{
    random_scenario(random_number, out);
    random_current = out;
}

static inline void random_end(void)
{
    random_current = NULL;
}

static inline int random_tell_failed(void **state)
{
    (void)state;
    if (random_current == NULL)
        return 0;
    fprintf(stderr,
            "scenario %llu: with SLEW_RANDOM_FIRST=%llu SLEW_RANDOM_N=1 "
            "SLEW_RANDOM_COMPARED=1 it comes first\n",
            (unsigned long long)random_number, (unsigned long long)random_number);
    random_write(stderr, random_current);
    return 0;
}

/* a number of the environment */
static inline long random_asked(const char *name, long otherwise)
{
    const char *text = getenv(name);
    return text ? strtol(text, NULL, 10) : otherwise;
}

#endif
