/* variation.c - how much of a distribution lies where. */
#include "scenario/variation.h"

#include <gsl/gsl_cdf.h>

/* P(value < x) of a standard normal cut off at low and high */
static double normal_below(const slew_variation *v, double x)
{
    double low = gsl_cdf_ugaussian_P((v->low - v->mean) / v->sd);
    double high = gsl_cdf_ugaussian_P((v->high - v->mean) / v->sd);
    double at = gsl_cdf_ugaussian_P((x - v->mean) / v->sd);
    return fmin(fmax((at - low) / (high - low), 0), 1);
}

static double triangular_below(const slew_variation *v, double x)
{
    double width = v->high - v->low;
    if (x <= v->low || x >= v->high)
        return x > v->low;
    return x <= v->mode ? (x - v->low) * (x - v->low) / (width * (v->mode - v->low))
                        : 1 - (v->high - x) * (v->high - x) / (width * (v->high - v->mode));
}

static double uniform_below(const slew_variation *v, double x)
{
    return fmin(fmax((x - v->low) / (v->high - v->low), 0), 1);
}

/* of the table's weights: those of values below x, or above it */
static double table_share(const slew_variation *v, double x, bool above)
{
    double total = 0, share = 0;
    for (int i = 0; i < v->count; i++) {
        total += v->weight[i];
        share += (above ? v->value[i] > x : v->value[i] < x) ? v->weight[i] : 0;
    }
    return share / total;
}

static double below(const slew_variation *v, double x)
{
    switch (v->distribution) {
    case SLEW_NORMAL:
        return normal_below(v, x);
    case SLEW_TRIANGULAR:
        return triangular_below(v, x);
    case SLEW_UNIFORM:
        return uniform_below(v, x);
    default:
        return table_share(v, x, false);
    }
}

double slew_variation_outside(const slew_variation *v, slew_range range)
{
    double above =
        v->distribution == SLEW_TABLE ? table_share(v, range.high, true) : 1 - below(v, range.high);
    return below(v, range.low) + above;
}

slew_range slew_variation_extent(const slew_variation *v)
{
    slew_range range = {v->low, v->high};
    for (int i = 0; v->distribution == SLEW_TABLE && i < v->count; i++) {
        range.low = i == 0 ? v->value[i] : fmin(range.low, v->value[i]);
        range.high = i == 0 ? v->value[i] : fmax(range.high, v->value[i]);
    }
    return range;
}

/* a normal whose ends are too far off to matter: cut off there is less than 1e-6 */
static bool is_whole(const slew_variation *v)
{
    const double far = 5;
    return v->distribution == SLEW_NORMAL && v->mean - v->low > far * v->sd &&
           v->high - v->mean > far * v->sd;
}

double slew_variation_score(const slew_variation *v, double value)
{
    if (is_whole(v))
        return (value - v->mean) / v->sd;
    double to = 1 - slew_variation_outside(v, (slew_range){-INFINITY, value});
    double middle = (below(v, value) + to) / 2;
    return gsl_cdf_ugaussian_Pinv(fmin(fmax(middle, SLEW_TAIL_SHARE), 1 - SLEW_TAIL_SHARE));
}
