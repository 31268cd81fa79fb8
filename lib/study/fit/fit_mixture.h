/* fit_mixture.h - what is known of the figures over all that the scatters may be: M12.4 */
#ifndef SLEW_STUDY_FIT_MIXTURE_H
#define SLEW_STUDY_FIT_MIXTURE_H

#include "study/fit/fit_given.h"

/* Weighted second moments of the figures about those that are most likely. */
typedef struct slew_mixture {
    double most;                               /* the logarithm of the greatest weight */
    double sum;                                /* of the weights, over the greatest */
    double moment[SLEW_FIT_MAX][SLEW_FIT_MAX]; /* along the directions of `about`, over its sds */
} slew_mixture;

/* Nothing added. */
slew_mixture slew_mixture_none(void);

/* Adds the figures as they are with the present scatters; `weight` is a logarithm. */
void slew_mixture_add(slew_mixture *mixture, const slew_given *given, double weight);

/* What has these moments; as it was where nothing counts. false: memory is short. */
bool slew_mixture_take(const slew_mixture *mixture, const slew_given *given,
                       slew_information *information);

#endif
