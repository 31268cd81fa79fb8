/* plan_change.h - the single changes that a plan asks about. */
#ifndef SLEW_STUDY_PLAN_CHANGE_H
#define SLEW_STUDY_PLAN_CHANGE_H

#include "slewtime/plan.h"

/* Every change that a scenario allows and does not have yet. Returns how many. */
int slew_plan_changes(const slew_scenario *scenario, slew_plan_change out[SLEW_PLAN_CHANGES_MAX]);

#endif
