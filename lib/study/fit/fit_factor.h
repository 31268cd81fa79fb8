/* fit_factor.h - Cholesky's lower factor, in place. GSL's ends the process over a matrix that has
 * none. */
#ifndef SLEW_STUDY_FIT_FACTOR_H
#define SLEW_STUDY_FIT_FACTOR_H

#include <stdbool.h>

/* The lower triangle of a symmetric matrix, `n` rows that are `stride` apart, becomes its factor.
 * false: there is none, or no more than a share `least` of a diagonal element is left. */
bool slew_lower_factor(double *matrix, int n, int stride, double least);

/* `x`, `n` numbers that are `step` apart, becomes the factor's inverse times it. */
void slew_lower_divide(const double *lower, int n, int stride, double *x, int step);

#endif
