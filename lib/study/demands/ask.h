/* ask.h - the question which demands a sample misses. */
#ifndef SLEW_STUDY_DEMANDS_ASK_H
#define SLEW_STUDY_DEMANDS_ASK_H

#include "slewtime/demands.h"

typedef struct slew_demands_asking {
    const slew_scenario *scenario;
    slew_parts parts;
} slew_demands_asking;

/* One figure, of a slew_demands_asking: the demands missed, bit by bit. */
slew_question slew_demands_ask;

/* The same from the figure, which is NaN where the sample can't run. */
unsigned slew_demands_mask(const slew_demands_asking *asking, double figure);

#endif
