/* information.h - what a Jacobian tells about its parameters, by its singular values. */
#ifndef SLEW_STUDY_INFORMATION_H
#define SLEW_STUDY_INFORMATION_H

#include "slewtime/fit.h"

/* From `rows` derivatives of weighted residuals, [row * parameters + parameter], in units of the
 * scales. `fixed` may be NULL. Singular values below `noise` times the largest count as none.
 * false: memory is short. */
bool slew_information_of(const double *jacobian, int rows, int parameters, const bool *fixed,
                         double noise, slew_information *out);

/* The step that would bring the least sum if the residuals were linear: `step` of each parameter
 * [scale]. Returns by how much the sum would fall. */
double slew_information_step(const slew_information *information, const double *jacobian,
                             const double *residual, int rows, double *step);

#endif
