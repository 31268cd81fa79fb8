/* causes_apply.h - the changes of a cause put into a drawn scenario. */
#ifndef SLEW_STUDY_CAUSES_APPLY_H
#define SLEW_STUDY_CAUSES_APPLY_H

#include "slewtime/causes.h"

/* A drawn scenario and its conditions before any cause changes them. */
typedef struct slew_before {
    const slew_scenario *scenario;
    slew_setup setup[3]; /* by slew_occasion */
} slew_before;

void slew_before_fill(slew_before *before, const slew_scenario *scenario);

/* Changes *trial, which is as before->scenario, for the drawn amounts u[change] (0 < u < 1). false:
 * the cause can't be here; said in *error. */
bool slew_cause_apply(const slew_cause *cause, const slew_before *before, const double *u,
                      slew_scenario *trial, slew_error *error);

/* true: the cause is there while the point is taught, or changes what is taught. */
bool slew_cause_teaches(const slew_cause *cause);

#endif
