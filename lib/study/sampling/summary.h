/* summary.h - figures of an ensemble boiled down. */
#ifndef SLEW_STUDY_SUMMARY_H
#define SLEW_STUDY_SUMMARY_H

#include "slewtime/study.h"

/* Figure `index` of the samples done that are not NaN, sorted into `values` (room for all of them).
 * Returns how many. */
int64_t slew_sorted_figure(const slew_ensemble *ensemble, int index, double *values);

/* Of `count` sorted values; all NaN if there are none. */
slew_summary slew_summarise(const double *sorted, int64_t count);

/* The mean of hit[0 .. done - 1], 0 or 1 for each sample of the ensemble and NaN where it can't
 * run, and its interval. NaN if no sample could run. */
slew_share slew_share_of(const slew_ensemble *ensemble, const double *hit,
                         const slew_sampling *sampling);

/* The mean of a difference of two such hits (-1, 0 or 1), and its interval: exact where fewer than
 * 40 samples differ, else Student's over the shifts or the normal one of independent samples. */
slew_share slew_difference_of(const slew_ensemble *ensemble, const double *difference,
                              const slew_sampling *sampling);

#endif
