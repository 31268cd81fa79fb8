/* fit_prior.h - what is known of a figure before anything is read. M12.3 */
#ifndef SLEW_STUDY_FIT_PRIOR_H
#define SLEW_STUDY_FIT_PRIOR_H

#include "slewtime/fit.h"

/* Mean and standard deviation of a distribution. */
void slew_prior_moments(const slew_variation *variation, double *mean, double *sd);

/* Fills mean, before and from of a figure whose key and start are there. `tolerance` 0: none is
 * stated. */
void slew_prior_fill(const slew_scenario *scenario, double tolerance, slew_fit_figure *figure);

/* The lower factor of the correlations of what is known before, by figures: those of the scenario's
 * spread of both from the truck's spread. false: they contradict each other. */
bool slew_prior_factor(const slew_scenario *scenario, const slew_fit *fit,
                       double factor[SLEW_PARAMETERS_MAX][SLEW_PARAMETERS_MAX]);

#endif
