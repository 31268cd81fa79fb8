/* fit_trial.h - the parts of a fit: its readings, simulated with trial values of the figures. */
#ifndef SLEW_STUDY_FIT_TRIAL_H
#define SLEW_STUDY_FIT_TRIAL_H

#include "slewtime/fit.h"

enum { SLEW_FIT_MAX = SLEW_PARAMETERS_MAX };

/* residuals as a share: times of some ten seconds are located to 1e-9 s */
#define SLEW_FIT_PRECISION 1e-10

/* An assumed sd is worth so many readings: the variance has an inverse gamma distribution about it,
 * whose scatter has a standard deviation of a factor of 1.9. */
#define SLEW_SCATTER_WORTH 2.0

/* How one row's readings are weighed together: errors of its conditions reach all of them. */
typedef struct slew_fit_whitening {
    double inverse[SLEW_MEASURE_COUNT]; /* the reading's row of the inverse of the lower factor of
                                           its row's covariance: up to itself */
} slew_fit_whitening;

typedef struct slew_trial {
    const slew_fit_question *question;
    slew_scenario *work;        /* the scenario, with the values of the trial */
    slew_fit *out;              /* its figures and readings say what is fitted to what */
    double low[SLEW_FIT_MAX];   /* range of each figure [SI] */
    double high[SLEW_FIT_MAX];  /* may be infinite */
    double start[SLEW_FIT_MAX]; /* where the search begins: every row can be made there */
    double factor[SLEW_FIT_MAX][SLEW_FIT_MAX]; /* of the correlations of what was known before */
    double scatter[SLEW_INSTRUMENTS];
    /* covariance of each reading with those of its row, by errors of the row's conditions: of a
     * supply that was read, with the voltmeter's scatter, and of the others */
    double by_supply[SLEW_READINGS_MAX][SLEW_MEASURE_COUNT];
    double by_others[SLEW_READINGS_MAX][SLEW_MEASURE_COUNT];
    slew_fit_whitening whitening[SLEW_READINGS_MAX];
    double residual[SLEW_READINGS_MAX]; /* measured - simulated, as asked for last */
} slew_trial;

/* ---- simulating ---- */

/* Simulates one row; what a stored time is, is taught. Offsets of instruments are in it.
 * SLEW_ERROR_INPUT with the reason where it can't be. */
slew_status slew_trial_row(slew_trial *trial, const double *value, const slew_timing *row,
                           slew_timed *out, slew_error *error);

/* Simulates one row that the controller makes, with the trial's values in `work`: where a deploy
 * rests; a stored time, and if it was read where that stow rests. Errors as above. */
slew_status slew_trial_run(slew_trial *trial, const slew_timing *row, slew_timed *out,
                           slew_error *error);

/* Simulates every reading. */
slew_status slew_trial_simulate(slew_trial *trial, const double *value, double *simulated,
                                slew_error *error);

/* How many residuals there are: one for each reading and one for each figure, what was known. */
int slew_trial_residuals(const slew_trial *trial);

/* The residuals, whitened, as slew_least_squares asks for them; the context is the trial. */
bool slew_trial_ask(void *trial, const double *value, double *residual);

/* The same, whitened as it is now, from the trial's `residual` as it is. */
void slew_trial_whitened(slew_trial *trial, const double *value, double *residual);

/* One number for each reading, `stride` apart, as it is whitened now. */
void slew_trial_whiten_column(const slew_trial *trial, const double *from, int stride, double *to);

/* The logarithm of how dense the readings lie with the present whitening, where they are as the
 * figures have them; a reading counts as much as its weight. */
double slew_trial_density(const slew_trial *trial);

/* Which instrument a reading is of. */
int slew_trial_instrument(const slew_trial *trial, const slew_fit_reading *reading);

/* The first reading of the same row. */
int slew_trial_first(const slew_fit *fit, int reading);

/* ---- filling it ---- */

/* true if the key can be fitted; else *error says why not. */
bool slew_trial_can_be(const slew_trial *trial, int key, slew_error *error);

/* Fills the figures from the keys of the question. */
slew_status slew_trial_take_keys(slew_trial *trial, slew_error *error);

/* What bears on where an axis rests, by the paths of its keys: the taught point, and the home
 * sensor from which its stored time counts. */
extern const char *const slew_trial_point[SLEW_AXES], *const slew_trial_home[SLEW_AXES];

/* Adds the figures that float: offsets of the instruments, currents of the sheets, taught points.
 */
void slew_trial_float(slew_trial *trial);

/* Fills the readings from the rows, adds the figures that float, and looks at what can't be: too
 * fast, a key on which no reading depends. */
slew_status slew_trial_take_rows(slew_trial *trial, slew_error *error);

/* ---- weighing ---- */

/* How well the temperature is known, the same error in all rows [K]. */
double slew_trial_temperature_sd(const slew_trial *trial);

/* What errors of the rows' other conditions come to, at these values: fills `by_supply` and
 * `by_others`. */
void slew_trial_conditions(slew_trial *trial, const double *value);

/* Covariance of a reading with the `k`th of its row by errors of the row's conditions, with the
 * present scatter. */
double slew_trial_condition(const slew_trial *trial, int reading, int k);

/* Fills the whitening from these covariances, scatter and weights. */
void slew_trial_whiten(slew_trial *trial);

/* ---- the answer ---- */

/* Least squares, robust or not; fills weights and scatters, at last the whitening and, [residuals *
 * figures by sd before], the derivatives. */
slew_status slew_trial_fit(slew_trial *trial, slew_least *least, double *jacobian,
                           slew_error *error);

/* How many degrees of freedom the standard error of each figure has. */
void slew_trial_freedom(const slew_trial *trial, const slew_information *information,
                        const double *jacobian, double freedom[SLEW_FIT_MAX]);

/* What is known of the figures, over all that they and the scatters may be: from the derivatives at
 * those that are most likely, and what these alone tell, to `known` with the scatters', and the
 * intervals from samples. Where few samples count the intervals are only made wider by them, not
 * narrower. SLEW_ERROR_MEMORY. */
slew_status slew_trial_posterior(slew_trial *trial, const double *mode, const double *jacobian,
                                 slew_information *known);

/* The key, held until now, that explains most of what is left. SLEW_ERROR_MEMORY. */
slew_status slew_trial_accuse(slew_trial *trial, const slew_least *least);

/* The reading to take next. */
void slew_trial_propose(slew_trial *trial, const slew_least *least);

#endif
