/* weighted.h - a share of samples that do not count alike. */
#ifndef SLEW_STUDY_WEIGHTED_H
#define SLEW_STUDY_WEIGHTED_H

#include "slewtime/study.h"

/* Sums over independent samples; a weight is how much more often the sample is in nature than it
 * was drawn [any unit]. */
typedef struct slew_weighted {
    double hits, hits_square;   /* of the weights of those that are hit, and of their squares */
    double whole, whole_square; /* of all */
    double next; /* the largest weight that one more hit could reasonably have; hits are as heavy */
} slew_weighted;

/* Counts one more sample. Leaves `next` alone. */
void slew_weighted_add(slew_weighted *sums, double weight, bool hit);

/* The share of hits, and the bounds that it keeps to with the confidence `each` on either side
 * (M9.5): exact (exact.h) for equal weights. NaN without samples. */
slew_share slew_weighted_share(const slew_weighted *sums, double each);

#endif
