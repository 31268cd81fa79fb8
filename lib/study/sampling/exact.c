/* exact.c - see exact.h. */
#include "study/sampling/exact.h"

#include "slewtime/study.h"

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
