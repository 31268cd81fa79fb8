/* summary.h - figures of an ensemble boiled down. */
#ifndef SLEW_STUDY_SUMMARY_H
#define SLEW_STUDY_SUMMARY_H

#include "slewtime/study.h"

/* Figure `index` of the samples done that are not NaN, sorted into `values` (room for all of them).
 * Returns how many. */
long slew_sorted_figure(const slew_ensemble *ensemble, int index, double *values);

/* Of `count` sorted values; all NaN if there are none. */
slew_summary slew_summarise(const double *sorted, long count);

/* The mean of figure `index`, 0 or 1 in each sample, and its interval. NaN if no sample could run.
 */
slew_share slew_share_of(const slew_ensemble *ensemble, int index, const slew_sampling *sampling);

#endif
