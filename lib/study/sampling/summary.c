/* summary.c - see summary.h. */
#include "study/sampling/summary.h"

#include "study/sampling/exact.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>

enum { SHIFTS_MAX = 64 };
enum { FEW = 40 }; /* of fewer hits or misses, or samples that differ, shifts tell too little */
static const double confidence = 0.95;

int64_t slew_sorted_figure(const slew_ensemble *e, int index, double *values)
{
    int64_t count = 0;
    for (int64_t i = 0; i < e->done; i++) {
        double value = e->figure[i * e->count + index];
        if (!isnan(value))
            values[count++] = value;
    }
    gsl_sort(values, 1, (size_t)count);
    return count;
}

slew_summary slew_summarise(const double *sorted, int64_t count)
{
    if (count == 0)
        return (slew_summary){NAN, NAN, NAN, NAN, NAN};
    size_t n = (size_t)count;
    return (slew_summary){sorted[0], gsl_stats_quantile_from_sorted_data(sorted, 1, n, 0.05),
                          gsl_stats_quantile_from_sorted_data(sorted, 1, n, 0.5),
                          gsl_stats_quantile_from_sorted_data(sorted, 1, n, 0.95), sorted[n - 1]};
}

/* the mean in each shift of the Sobol points; false: a shift has no sample */
static bool means_by_shift(const slew_ensemble *e, const double *value, int shifts, double *mean)
{
    double sum[SHIFTS_MAX] = {0}, count[SHIFTS_MAX] = {0};
    for (int64_t i = 0; i < e->done; i++) {
        if (isnan(value[i]))
            continue;
        sum[i % shifts] += value[i];
        count[i % shifts]++;
    }
    for (int s = 0; s < shifts; s++) {
        if (!(count[s] > 0))
            return false;
        mean[s] = sum[s] / count[s];
    }
    return true;
}

static bool all_alike(const double *mean, int count)
{
    for (int i = 1; i < count; i++)
        if (mean[i] != mean[0])
            return false;
    return true;
}

/* the interval that the shifts tell; false: they tell none */
static bool interval_of_shifts(const slew_ensemble *e, const double *value,
                               const slew_sampling *how, slew_interval *out)
{
    double mean[SHIFTS_MAX];
    bool shifted = how->points == SLEW_SOBOL && how->shifts > 1 && how->shifts <= SHIFTS_MAX &&
                   e->dimensions > 0 && means_by_shift(e, value, how->shifts, mean);
    if (!shifted || all_alike(mean, how->shifts))
        return false;
    *out = slew_mean_interval(mean, how->shifts, confidence);
    return true;
}

typedef struct tally {
    double count, sum, square;
} tally;

static tally tally_of(const slew_ensemble *e, const double *value)
{
    tally t = {0, 0, 0};
    for (int64_t i = 0; i < e->done; i++)
        if (!isnan(value[i])) {
            t.count++;
            t.sum += value[i];
            t.square += value[i] * value[i];
        }
    return t;
}

slew_share slew_share_of(const slew_ensemble *e, const double *hit, const slew_sampling *how)
{
    tally t = tally_of(e, hit);
    if (!(t.count > 0))
        return (slew_share){NAN, NAN, NAN};
    slew_share exact = slew_exact_share((int64_t)t.sum, (int64_t)t.count, confidence);
    slew_interval interval;
    if (fmin(t.sum, t.count - t.sum) < FEW || !interval_of_shifts(e, hit, how, &interval))
        return exact;
    return (slew_share){exact.value, fmax(interval.low, 0), fmin(interval.high, 1)};
}

slew_share slew_difference_of(const slew_ensemble *e, const double *difference,
                              const slew_sampling *how)
{
    tally t = tally_of(e, difference);
    if (!(t.count > 1))
        return (slew_share){NAN, NAN, NAN};
    if (e->dimensions > 0 && t.square < FEW)
        return slew_exact_difference((int64_t)(t.square + t.sum) / 2,
                                     (int64_t)(t.square - t.sum) / 2, (int64_t)t.count, confidence);
    double mean = t.sum / t.count, variance = (t.square / t.count - mean * mean) / (t.count - 1);
    double half = gsl_cdf_ugaussian_Pinv(0.5 + confidence / 2) * sqrt(fmax(variance, 0));
    slew_interval interval = {mean - half, mean + half};
    interval_of_shifts(e, difference, how, &interval);
    return (slew_share){mean, fmax(interval.low, -1), fmin(interval.high, 1)};
}
