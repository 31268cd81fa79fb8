/* plan_together.h - changes that meet the demands together, where none does alone. */
#ifndef SLEW_STUDY_PLAN_TOGETHER_H
#define SLEW_STUDY_PLAN_TOGETHER_H

#include "study/plan/plan_stage.h"

/* Takes the change that leaves the smallest shortfall, on top of that the next, until nothing is
 * short or none helps; then confirms. */
slew_status slew_plan_combine(const slew_scenario *scenario, slew_plan_stages *stages,
                              slew_plan_together *out, slew_error *error);

#endif
