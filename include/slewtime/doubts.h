/*
 * doubts.h - values that a scenario may have, yet no truck has: a unit slipped, a figure stands
 * under the wrong key, or two values do not go together.
 */
#ifndef SLEWTIME_DOUBTS_H
#define SLEWTIME_DOUBTS_H

#include "slewtime/run.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { SLEW_DOUBTS_MAX = 32, SLEW_DOUBT_TEXT_MAX = 240 };

typedef struct slew_doubt {
    int key;
    slew_layer_id layer; /* that sets it */
    double usual;        /* a value that would be nothing to wonder at, in the key's SI unit; not
                            given: what is usual depends on too much */
    char message[SLEW_DOUBT_TEXT_MAX]; /* what is wrong with it, without the key */
} slew_doubt;

/* Finds them on each occasion that the scenario has, what explains a failure best first: values
 * that contradict each other, then single ones far from what is usual. Each key of a layer is told
 * once, and what only follows from another doubt is not (with memory short it is). Of a scenario
 * that was read and checked. Returns how many. */
SLEW_API int slew_scenario_doubts(const slew_scenario *scenario, slew_doubt list[SLEW_DOUBTS_MAX]);

/* Which of these alone is why the parts do not run to their end: with its usual value they do,
 * taught and without a fault. -1: none is, or nothing fails. Of a scenario that was read and
 * checked. */
SLEW_API int slew_doubts_cause(const slew_scenario *scenario, slew_parts parts,
                               const slew_doubt *list, int count);

#ifdef __cplusplus
}
#endif

#endif
