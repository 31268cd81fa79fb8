/* exact.h - exact bounds of a share. */
#ifndef SLEW_STUDY_EXACT_H
#define SLEW_STUDY_EXACT_H

#include "slewtime/study.h"

/* With this confidence the share is at most, at least that: `hits` of n independent samples, n > 0,
 * 0 <= hits <= n, neither of them necessarily whole. C. J. Clopper, E. S. Pearson, Biometrika 26
 * (1934) 404-413. */
double slew_exact_upper(double hits, double n, double confidence);
double slew_exact_lower(double hits, double n, double confidence);

/* How much more often one of two things happens than the other in the same n independent samples:
 * `more` had the first alone, `fewer` the second alone, the rest both or neither; more + fewer <=
 * n, n > 0. The interval joins those of the share of samples that differ and of the first one's
 * part of them, each with half the doubt (Bonferroni), so it covers at least as often as it says.
 */
slew_share slew_exact_difference(int64_t more, int64_t fewer, int64_t n, double confidence);

#endif
