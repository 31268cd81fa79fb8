/* plan_change.h - the single changes that a plan asks about. */
#ifndef SLEW_STUDY_PLAN_CHANGE_H
#define SLEW_STUDY_PLAN_CHANGE_H

#include "slewtime/plan.h"

/* Every change that a scenario allows and does not have yet. Returns how many. */
int slew_plan_changes(const slew_scenario *scenario, slew_plan_change out[SLEW_PLAN_CHANGES_MAX]);

/* Moves the stow point [rad], and with it what is not known of it after a fit: its place in the
 * truck's spread. */
void slew_plan_move(slew_scenario *scenario, const double point[SLEW_AXES]);

#endif
