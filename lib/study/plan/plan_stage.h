/* plan_stage.h - the steps of a plan: searched with few samples, then confirmed with fresh ones. */
#ifndef SLEW_STUDY_PLAN_STAGE_H
#define SLEW_STUDY_PLAN_STAGE_H

#include "slewtime/plan.h"

enum { SLEW_PLAN_SCREENED = 256 };

/* Several questions as one. */
typedef struct slew_plan_stages {
    const slew_sampling *sampling; /* the caller's, which is told of progress */
    int done, all;
} slew_plan_stages;

/* Sampling with at most so many samples, that tells the caller of the stages' progress. */
slew_sampling slew_plan_staged(slew_plan_stages *stages, int64_t samples);

/* The set number k of samples that has nothing to do with the others. */
slew_sampling slew_plan_fresh(const slew_sampling *sampling, int k);

/* Searches the best point and seconds with the row's change on top of the scenario. */
slew_status slew_plan_screen_row(const slew_scenario *scenario, slew_plan_stages *stages,
                                 slew_plan_row *row, slew_error *error);

/* Likewise, and confirms what it finds. */
slew_status slew_plan_confirm_row(const slew_scenario *scenario, slew_plan_stages *stages,
                                  slew_plan_row *row, slew_error *error);

#endif
