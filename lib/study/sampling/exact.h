/* exact.h - exact bounds of a share. */
#ifndef SLEW_STUDY_EXACT_H
#define SLEW_STUDY_EXACT_H

/* With this confidence the share is at most, at least that: `hits` of n independent samples, n > 0,
 * 0 <= hits <= n, neither of them necessarily whole. C. J. Clopper, E. S. Pearson, Biometrika 26
 * (1934) 404-413. */
double slew_exact_upper(double hits, double n, double confidence);
double slew_exact_lower(double hits, double n, double confidence);

#endif
