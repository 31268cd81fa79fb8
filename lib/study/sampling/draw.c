/* draw.c - one number out of a distribution. */
#include "slewtime/study.h"

#include <gsl/gsl_cdf.h>

/* The standard normal cut off at low and high: u of the probability between them, from the tail
 * that keeps its digits (each tail is small where the other rounds to 1). */
static double quantile_cut(double low, double high, double u)
{
    if (low > 0)
        return -quantile_cut(-high, -low, 1 - u);
    double below = gsl_cdf_ugaussian_P(low), above = gsl_cdf_ugaussian_Q(high);
    double p = below + u * (1 - above - below);
    if (high < 0)
        p = below + u * (gsl_cdf_ugaussian_P(high) - below);
    return p <= 0.5 ? gsl_cdf_ugaussian_Pinv(p)
                    : gsl_cdf_ugaussian_Qinv(above + (1 - u) * (1 - below - above));
}

static double quantile_normal(const slew_variation *v, double u)
{
    double value = quantile_cut((v->low - v->mean) / v->sd, (v->high - v->mean) / v->sd, u);
    return fmin(fmax(v->mean + v->sd * value, v->low), v->high);
}

static double quantile_triangular(const slew_variation *v, double u)
{
    double width = v->high - v->low, rise = v->mode - v->low;
    if (!(width > 0))
        return v->low;
    if (u * width < rise)
        return v->low + sqrt(u * width * rise);
    return v->high - sqrt((1 - u) * width * (width - rise));
}

static double quantile_table(const slew_variation *v, double u)
{
    double total = 0, sum = 0;
    for (int i = 0; i < v->count; i++)
        total += v->weight[i];
    for (int i = 0; i < v->count; i++) {
        sum += v->weight[i];
        if (u * total < sum)
            return v->value[i];
    }
    return v->value[v->count - 1];
}

double slew_variation_quantile(const slew_variation *v, double u)
{
    if (v == NULL || !(u > 0 && u < 1))
        return NAN;
    switch (v->distribution) {
    case SLEW_NORMAL:
        return quantile_normal(v, u);
    case SLEW_TRIANGULAR:
        return quantile_triangular(v, u);
    case SLEW_TABLE:
        return quantile_table(v, u);
    default:
        return v->low + u * (v->high - v->low);
    }
}

/* the finaliser of SplitMix64: G. L. Steele, D. Lea, C. H. Flood, OOPSLA 2014 */
static uint64_t mix(uint64_t x)
{
    x += 0x9e3779b97f4a7c15u;
    x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9u;
    x = (x ^ (x >> 27)) * 0x94d049bb133111ebu;
    return x ^ (x >> 31);
}

double slew_random_unit(uint64_t seed, uint64_t sample, uint32_t dimension)
{
    uint64_t bits = mix(mix(mix(seed) ^ sample) ^ dimension);
    return ((double)(bits >> 12) + 0.5) * 0x1p-52;
}
