/* causes_bins.h - an observable in bins as wide as its uncertainty. */
#ifndef SLEW_STUDY_CAUSES_BINS_H
#define SLEW_STUDY_CAUSES_BINS_H

#include "slewtime/causes.h"

enum { SLEW_BINS_MAX = 128 };

/* Bins 0 .. count - 2 are readings, the last is "there is no reading". */
typedef struct slew_bins {
    int observable;
    int count;
    double low, width; /* of a number [SI] */
} slew_bins;

/* Bins that hold every reading of the causes that count. */
slew_bins slew_bins_for(const slew_causes *causes, int observable);

/* The doubt [bit] in shares of a total. */
double slew_entropy(const double *share, int count, double total);

/* Adds a figure of that weight to the bins in which it may be read: words by the share of blunders,
 * numbers by their uncertainty. M13.6 */
void slew_bins_add(const slew_bins *bins, double figure, double weight, double *probability);

#endif
