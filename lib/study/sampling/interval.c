/* interval.c - how sure a figure is. */
#include "slewtime/study.h"

#include <gsl/gsl_cdf.h>

/* that fewer than `few` of n independent cases lie in the share 1 - `share` of all */
static double chance_of_fewer(int64_t n, int few, double share)
{
    double term = pow(share, (double)n), sum = 0;
    for (int i = 0; i < few && share > 0; i++) {
        sum += term;
        term *= (double)(n - i) / (i + 1) * (1 - share) / share;
    }
    return sum;
}

/* By halving: GSL's quantile of the beta distribution does not converge for many n above 20000, and
 * ends the process then. */
double slew_wilks_coverage(int64_t n, int sides, double confidence)
{
    if ((sides != 1 && sides != 2) || n < sides || !(confidence > 0 && confidence < 1))
        return (double)NAN;
    double low = 0, high = 1;
    for (double middle = 0.5; middle > low && middle < high; middle = low + (high - low) / 2)
        *(chance_of_fewer(n, sides, middle) < 1 - confidence ? &low : &high) = middle;
    return low;
}

slew_interval slew_mean_interval(const double *values, int n, double confidence)
{
    double mean = 0, square = 0;
    if (values == NULL || n < 2 || !(confidence > 0 && confidence < 1)) /* GSL ends the process */
        return (slew_interval){NAN, NAN};
    for (int i = 0; i < n; i++)
        mean += values[i] / n;
    for (int i = 0; i < n; i++)
        square += (values[i] - mean) * (values[i] - mean);
    double t = gsl_cdf_tdist_Pinv(0.5 + confidence / 2, n - 1);
    double half = t * sqrt(square / (n - 1) / n);
    return (slew_interval){mean - half, mean + half};
}
