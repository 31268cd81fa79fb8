/* fit_trial.h - the parts of a fit: its readings, simulated with trial values of the keys. */
#ifndef SLEW_STUDY_FIT_TRIAL_H
#define SLEW_STUDY_FIT_TRIAL_H

#include "slewtime/fit.h"

enum { SLEW_FIT_MAX = SLEW_PARAMETERS_MAX };

/* residuals as a share: times of some ten seconds are located to 1e-9 s */
#define SLEW_FIT_PRECISION 1e-10

typedef struct slew_trial {
    const slew_fit_question *question;
    slew_scenario *work;       /* the scenario, with the values of the trial */
    slew_fit *out;             /* its figures and readings say what is fitted to what */
    double low[SLEW_FIT_MAX];  /* range of each figure [SI] */
    double high[SLEW_FIT_MAX]; /* may be infinite */
    slew_information at_start; /* what the readings tell near the scenario's own values */
} slew_trial;

/* Simulates every reading. SLEW_ERROR_INPUT with the reason where one can't be. */
slew_status slew_trial_simulate(slew_trial *trial, const double *value, double *simulated,
                                slew_error *error);

/* One reading of one row, bias included. */
slew_status slew_trial_reading(slew_trial *trial, const double *value, const slew_timing *row,
                               slew_measure measure, double *simulated, slew_error *error);

/* The residuals, as slew_least_squares asks for them; the context is the trial. */
bool slew_trial_ask(void *trial, const double *value, double *residual);

/* Fills the figures from the keys of the question: start, size, range. */
slew_status slew_trial_take_keys(slew_trial *trial, slew_error *error);

/* Fills the readings from the rows and what they tell at the start, and looks at what can't be: too
 * few, alike, too fast, a key on which none depends. */
slew_status slew_trial_take_rows(slew_trial *trial, slew_error *error);

/* Least squares, robust or not; fills weight and scatter of the answer. */
slew_status slew_trial_fit(slew_trial *trial, slew_least *least, slew_error *error);

/* The reading to take next. */
void slew_trial_propose(slew_trial *trial, const slew_least *least);

#endif
