/* plan_search.h - the stow point and deploy seconds with which a scenario does best. */
#ifndef SLEW_STUDY_PLAN_SEARCH_H
#define SLEW_STUDY_PLAN_SEARCH_H

#include "slewtime/plan.h"

enum { SLEW_PLAN_CANDIDATES = 4 };

typedef struct slew_plan_candidates {
    int count; /* the best first */
    slew_plan_setting of[SLEW_PLAN_CANDIDATES];
} slew_plan_candidates;

/* Searches with few samples, drawn like those of `sampling`. Errors: those of slew_ensemble_run but
 * SLEW_ERROR_TEACH. */
slew_status slew_plan_search(const slew_scenario *scenario, const slew_sampling *sampling,
                             slew_plan_candidates *out, slew_error *error);

/* What the scenario with that setting comes to with these samples; a truck that can't be taught
 * misses what it can. */
slew_status slew_plan_judge(const slew_scenario *scenario, const slew_sampling *sampling,
                            slew_plan_setting *setting, slew_error *error);

/* The setting of the scenario itself. */
slew_plan_setting slew_plan_own(const slew_scenario *scenario);

/* How far the point has moved, both axes together [rad]. */
double slew_plan_distance(const slew_plan_setting *setting);

#endif
