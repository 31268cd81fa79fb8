/* correlation.h - keys that vary together. */
#ifndef SLEW_SCENARIO_CORRELATION_H
#define SLEW_SCENARIO_CORRELATION_H

#include "slewtime/scenario.h"

enum { SLEW_FACTOR_MAX = SLEW_VARIATIONS_MAX * SLEW_VARIATIONS_MAX };

/* true if the spread varies both keys. */
bool slew_correlation_applies(const slew_spread *spread, const slew_correlation *correlation);

/* The lower Cholesky factor of the spread's correlation matrix, factor[row * count + column]; it is
 * the unit matrix where nothing goes together. false: the coefficients contradict each other (the
 * matrix is not positive definite). */
bool slew_correlation_factor(const slew_spread *spread, const slew_correlations *correlations,
                             double factor[SLEW_FACTOR_MAX]);

#endif
