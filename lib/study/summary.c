/* summary.c - see summary.h. */
#include "study/summary.h"

#include <gsl/gsl_statistics_double.h>
#include <stdlib.h>

enum { SHIFTS_MAX = 64 };
static const double confidence = 0.95;

static int compare(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

long slew_sorted_figure(const slew_ensemble *e, int index, double *values)
{
    long count = 0;
    for (long i = 0; i < e->done; i++) {
        double value = e->figure[i * e->count + index];
        if (!isnan(value))
            values[count++] = value;
    }
    qsort(values, (size_t)count, sizeof *values, compare);
    return count;
}

slew_summary slew_summarise(const double *sorted, long count)
{
    if (count == 0)
        return (slew_summary){NAN, NAN, NAN, NAN, NAN};
    size_t n = (size_t)count;
    return (slew_summary){sorted[0], gsl_stats_quantile_from_sorted_data(sorted, 1, n, 0.05),
                          gsl_stats_quantile_from_sorted_data(sorted, 1, n, 0.5),
                          gsl_stats_quantile_from_sorted_data(sorted, 1, n, 0.95), sorted[n - 1]};
}

/* the share in each shift of the Sobol points; false: a shift has no sample */
static bool share_by_shift(const slew_ensemble *e, int index, int shifts, double *share)
{
    double sum[SHIFTS_MAX] = {0}, count[SHIFTS_MAX] = {0};
    for (long i = 0; i < e->done; i++) {
        double value = e->figure[i * e->count + index];
        if (isnan(value))
            continue;
        sum[i % shifts] += value;
        count[i % shifts]++;
    }
    for (int s = 0; s < shifts; s++) {
        if (!(count[s] > 0))
            return false;
        share[s] = sum[s] / count[s];
    }
    return true;
}

static bool all_alike(const double *share, int count)
{
    for (int i = 1; i < count; i++)
        if (share[i] != share[0])
            return false;
    return true;
}

slew_share slew_share_of(const slew_ensemble *e, int index, const slew_sampling *how)
{
    double hits = 0, trials = 0, share[SHIFTS_MAX];
    for (long i = 0; i < e->done; i++) {
        double value = e->figure[i * e->count + index];
        if (isnan(value))
            continue;
        hits += value;
        trials++;
    }
    if (!(trials > 0))
        return (slew_share){NAN, NAN, NAN};
    slew_interval interval = slew_wilson(hits, trials, confidence);
    bool shifted = how->points == SLEW_SOBOL && how->shifts > 1 && how->shifts <= SHIFTS_MAX &&
                   e->dimensions > 0 && share_by_shift(e, index, how->shifts, share);
    if (shifted && !all_alike(share, how->shifts))
        interval = slew_mean_interval(share, how->shifts, confidence);
    return (slew_share){hits / trials, fmax(interval.low, 0), fmin(interval.high, 1)};
}
