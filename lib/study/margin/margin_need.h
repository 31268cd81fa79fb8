/* margin_need.h - the clearance that one side of one scenario needs. */
#ifndef SLEW_STUDY_MARGIN_NEED_H
#define SLEW_STUDY_MARGIN_NEED_H

#include "study/margin/margin_tail.h"
#include "study/margin/margin_trial.h"

/* What all of one run of `margin` is asked with. */
typedef struct slew_margin_asking {
    const slew_margin_question *question;
    const slew_sampling *sampling;
    slew_margin *out;
    slew_error *error;
} slew_margin_asking;

/* Samples with their figures and weights. */
typedef struct slew_margin_samples {
    slew_ensemble ensemble;
    double *score;  /* [sample * dimensions + d] */
    double *weight; /* [sample] */
} slew_margin_samples;

/* Asks `count` samples drawn from the parts of `tail`; the first ones are the same whatever their
 * number. Errors: those of slew_ensemble_run. To be freed by slew_margin_samples_free whatever it
 * returns. */
slew_status slew_margin_ask(const slew_margin_asking *asking, slew_margin_case *c,
                            const slew_tail *tail, uint64_t seed, int64_t count,
                            slew_question *question, int figures, slew_margin_samples *out);
void slew_margin_samples_free(slew_margin_samples *samples);

/* false: stopped before a sample was done, or an error */
bool slew_margin_has_samples(slew_status status, const slew_margin_samples *samples);

/* Finds where the tail is, going on from what `tail` says of it, and then the clearance from
 * `count` fresh samples, which are left in `samples`. */
slew_status slew_margin_find_need(const slew_margin_asking *asking, slew_margin_case *c,
                                  slew_tail *tail, int64_t count, slew_margin_samples *samples,
                                  slew_margin_need *out);

/* The share of samples that need more than `clearance` [grid steps], and its bounds. */
slew_share slew_margin_share_beyond(const slew_margin_samples *needs, double clearance,
                                    double each);

#endif
