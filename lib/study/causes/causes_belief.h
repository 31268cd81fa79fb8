/* causes_belief.h - likelihoods into probabilities, with that it is none of the causes. */
#ifndef SLEW_STUDY_CAUSES_BELIEF_H
#define SLEW_STUDY_CAUSES_BELIEF_H

#include "study/causes/causes_likelihood.h"

/* Likelihood of what was seen should it be none of the causes. M13.7 */
double slew_none_likelihood(const slew_scales *scales, const slew_catalogue *catalogue);

/* Bayes' rule over the likelihoods [cause] and out->none_likelihood: fills share and none. M13.4 */
void slew_share_out(const slew_causes *causes, const slew_catalogue *catalogue,
                    const double *likelihood, slew_ranking *out);

/* The sampling errors share_sd and none_sd, from out->weight, in which the likelihood of each
 * sample stands yet; share and none are overwritten. M13.7 */
void slew_jackknife(const slew_causes *causes, const slew_catalogue *catalogue, slew_ranking *out);

#endif
