/* map_probe.h - one point of a map after the other, teaching again only where teaching changes. */
#ifndef SLEW_STUDY_MAP_PROBE_H
#define SLEW_STUDY_MAP_PROBE_H

#include "slewtime/map.h"

/* Holds a copy of the scenario: one for each thread. */
typedef struct slew_map_probe {
    const slew_scenario *scenario;
    const slew_vary *vary;
    int count;
    bool unchecked; /* the points asked next are known to pass slew_scenario_check */
    slew_scenario trial;
    slew_prepared prepared;
    bool taught;                        /* the next three hold */
    double taught_value[SLEW_VARY_MAX]; /* of the keys that teaching depends on */
    slew_status taught_status;
    double stored[SLEW_AXES];
    slew_error taught_error;
} slew_map_probe;

/* SLEW_OK, or SLEW_ERROR_INPUT: no sound scenario, or one of `count` keys is not varied between two
 * numbers, the lower one first, in steps within their range. */
slew_status slew_map_check(const slew_scenario *scenario, const slew_vary *vary, int count,
                           slew_error *error);

/* NULL: memory is short. Freed by free. */
slew_map_probe *slew_map_probe_new(const slew_scenario *scenario, const slew_vary *vary, int count);

/* The outcome does not depend on what was asked before. `error` may be NULL. */
slew_map_point slew_map_probe_ask(slew_map_probe *probe, const double *value, slew_error *error);

/* Tells the probe that it is asked along one line now, where only key `along` changes and `value`
 * has the other one. What the scenario's check allows of a single key is one interval: with both
 * ends of the line allowed its points need not be checked one by one. */
void slew_map_probe_line(slew_map_probe *probe, int along, const double *value);

/* Fills *error (unless it is NULL) for SLEW_ERROR_MEMORY and SLEW_ERROR_STOPPED. Returns `status`.
 */
slew_status slew_map_end(slew_status status, slew_error *error);

/* true: the stored times depend on the key. */
bool slew_vary_teaches(const slew_vary *vary);

#endif
