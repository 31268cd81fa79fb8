/* fit_quadratic.h - the readings about some figures, of times the reciprocals, as quadratic
 * functions of these: M12.4 */
#ifndef SLEW_STUDY_FIT_QUADRATIC_H
#define SLEW_STUDY_FIT_QUADRATIC_H

#include "study/fit/fit_trial.h"

typedef struct slew_quadratic {
    slew_trial *trial;
    const double *mode;            /* about which they are */
    const slew_information *about; /* each direction of it, over its sd, is a variable */
    int terms;                     /* 1, each variable, each product of two */
    double *term;                  /* [terms] */
    double *normal;                /* [terms * terms]: sums of products, then its lower factor */
    double *coefficient;           /* [readings * terms] */
} slew_quadratic;

/* Takes room for them, with nothing added. SLEW_ERROR_MEMORY. */
slew_status slew_quadratic_open(slew_quadratic *quadratic, slew_trial *trial, const double *mode,
                                const slew_information *about);

/* Frees it. */
void slew_quadratic_close(slew_quadratic *quadratic);

/* Adds a point: simulates it. false: it can't be simulated, and nothing is added. */
bool slew_quadratic_add(slew_quadratic *quadratic, const double *value);

/* By least squares through the points that were added. false: they do not tell. */
bool slew_quadratic_solve(slew_quadratic *quadratic);

/* Fills the trial's residuals, measured - simulated. */
void slew_quadratic_ask(slew_quadratic *quadratic, const double *value);

#endif
