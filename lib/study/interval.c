/* interval.c - how sure a figure is. */
#include "slewtime/study.h"

#include <gsl/gsl_cdf.h>

slew_interval slew_wilson(double k, double n, double confidence)
{
    double z = gsl_cdf_ugaussian_Pinv(0.5 + confidence / 2), share = k / n, z2 = z * z / n;
    double centre = (share + z2 / 2) / (1 + z2);
    double half = z / (1 + z2) * sqrt(share * (1 - share) / n + z2 / (4 * n));
    return (slew_interval){k == 0 ? 0 : fmax(centre - half, 0),
                           k == n ? 1 : fmin(centre + half, 1)};
}

double slew_wilks_coverage(long n, int sides, double confidence)
{
    return gsl_cdf_beta_Pinv(1 - confidence, (double)(n + 1 - sides), sides);
}

long slew_wilks_samples(double coverage, int sides, double confidence)
{
    long few = sides - 1, enough = sides; /* few is too few */
    while (slew_wilks_coverage(enough, sides, confidence) < coverage) {
        few = enough;
        enough *= 2;
    }
    while (enough - few > 1) {
        long middle = few + (enough - few) / 2;
        bool does = slew_wilks_coverage(middle, sides, confidence) >= coverage;
        *(does ? &enough : &few) = middle;
    }
    return enough;
}

slew_interval slew_mean_interval(const double *values, int n, double confidence)
{
    double mean = 0, square = 0;
    for (int i = 0; i < n; i++)
        mean += values[i] / n;
    for (int i = 0; i < n; i++)
        square += (values[i] - mean) * (values[i] - mean);
    double t = gsl_cdf_tdist_Pinv(0.5 + confidence / 2, n - 1);
    double half = t * sqrt(square / (n - 1) / n);
    return (slew_interval){mean - half, mean + half};
}
