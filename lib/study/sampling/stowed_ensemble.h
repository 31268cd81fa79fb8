/*
 * stowed_ensemble.h - an ensemble asked what follows each sample's stow.
 *
 * What samples have in common is done once: a truck like the one before is not taught again, and a
 * stow like the one before it not run again. No digit depends on it.
 */
#ifndef SLEW_STUDY_STOWED_ENSEMBLE_H
#define SLEW_STUDY_STOWED_ENSEMBLE_H

#include "motion/stowed.h"
#include "slewtime/study.h"

/* Asked once for each sample, like a slew_question. */
typedef void slew_stowed_question(void *context, const slew_scenario *drawn,
                                  const slew_prepared *prepared, const slew_stowed *stowed,
                                  double *figures);

typedef struct slew_stowed_asking {
    slew_stowed_question *question;
    void *context;
    int count;            /* figures for one sample */
    const double *points; /* as of slew_ensemble_run_at; NULL: drawn */
    /* The stored times of each sample, [sample * SLEW_AXES + axis], NaN: not known yet. Those that
     * are known are used, others filled in. NULL: nobody keeps them. */
    double *stored;
} slew_stowed_asking;

/* slew_ensemble_run of a stow and a deploy, or slew_ensemble_run_at where points are given. */
slew_status slew_stowed_ensemble_run(const slew_scenario *scenario, const slew_sampling *sampling,
                                     const slew_stowed_asking *asking, slew_ensemble *out,
                                     slew_error *error);

/* Room for the stored times of `samples`, rounded up as in the ensemble; none is known. NULL:
 * memory is short. */
double *slew_stowed_ensemble_times(const slew_sampling *sampling);

#endif
