/* exact.c - see exact.h. */
#include "study/sampling/exact.h"

#include <gsl/gsl_cdf.h>

/* The quantile of the beta distribution by halving: GSL's own does not converge for many large
 * parameters, and ends the process then. */
static double beta_quantile(double p, double a, double b)
{
    double low = 0, high = 1;
    for (double middle = 0.5; middle > low && middle < high; middle = low + (high - low) / 2)
        *(gsl_cdf_beta_P(middle, a, b) < p ? &low : &high) = middle;
    return high;
}

double slew_exact_upper(double hits, double n, double confidence)
{
    return hits >= n ? 1 : beta_quantile(confidence, hits + 1, n - hits);
}

double slew_exact_lower(double hits, double n, double confidence)
{
    return hits <= 0 ? 0 : beta_quantile(1 - confidence, hits, n - hits + 1);
}

slew_share slew_exact_share(int64_t hits, int64_t samples, double confidence)
{
    if (hits < 0 || samples < 1 || hits > samples || !(confidence > 0 && confidence < 1))
        return (slew_share){NAN, NAN, NAN}; /* GSL ends the process over some of these */
    double k = (double)hits, n = (double)samples, each = (1 + confidence) / 2;
    return (slew_share){k / n, slew_exact_lower(k, n, each), slew_exact_upper(k, n, each)};
}

/* the end of "a share that differs, times what is left of it" towards which `part` points */
static double reach(double part, double towards, double back)
{
    double left = 2 * part - 1; /* the first one's part less the second one's */
    return left * (left > 0 ? towards : back);
}

slew_share slew_exact_difference(int64_t more, int64_t fewer, int64_t n, double confidence)
{
    int64_t differ = more + fewer;
    double each = (1 + confidence) / 2; /* half the doubt */
    slew_share often = slew_exact_share(differ, n, each);
    slew_share part = differ > 0 ? slew_exact_share(more, differ, each) : (slew_share){0.5, 0, 1};
    return (slew_share){(double)(more - fewer) / (double)n, reach(part.low, often.low, often.high),
                        reach(part.high, often.high, often.low)};
}
