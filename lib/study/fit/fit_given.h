/* fit_given.h - the figures where the scatters of the instruments are given: M12.4 */
#ifndef SLEW_STUDY_FIT_GIVEN_H
#define SLEW_STUDY_FIT_GIVEN_H

#include "study/fit/fit_trial.h"

/* So many scatters are drawn; the most likely ones are none of them. */
enum { SLEW_GIVEN_MODE = -1, SLEW_GIVEN_DRAWS = 128 };

typedef struct slew_given {
    slew_trial *trial; /* has the present scatters, and is whitened with them */
    int rows, figures;
    const double *mode;               /* the figures that are most likely */
    double scatter[SLEW_INSTRUMENTS]; /* the scatters that are */
    slew_information about;           /* what is known there */
    double middle[SLEW_FIT_MAX];      /* the most likely figures with the present scatters */
    slew_information information;     /* what is known with them */
    double *jacobian, *residual;      /* whitened with them, [rows * figures] and [rows] */
    double *derivative;               /* of the readings, not whitened, and of what was known */
    double *at_mode;                  /* residuals at the mode, not whitened */
} slew_given;

/* From the derivatives at the mode, whitened with the trial's scatters, and what they tell.
 * SLEW_ERROR_MEMORY; to be closed in any case. */
slew_status slew_given_open(slew_given *given, slew_trial *trial, const double *mode,
                            const double *jacobian, const slew_information *about);

/* Gives the trial its scatters back, and frees. */
void slew_given_close(slew_given *given);

/* Draws the `i`th scatters, or SLEW_GIVEN_MODE. The derivatives are those at the mode. false:
 * memory is short. *weight: logarithm of what was known of these scatters before, over the density
 * that they are drawn with. */
bool slew_given_draw(slew_given *given, int i, double *weight);

/* The logarithm of how likely the readings are with these scatters, whatever the figures. */
double slew_given_evidence(const slew_given *given);

#endif
