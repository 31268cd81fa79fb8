/* card_band.c - see card_band.h. */
#include "study/card/card_band.h"

#include <gsl/gsl_cdf.h>

/* what errors of readings are drawn by, whatever the samples are */
enum { ERRORS = 20251 };

/* halved down */
double slew_card_quantile(const double *sorted, size_t n, double sd, double share)
{
    double low = sorted[0] - 9 * sd, high = sorted[n - 1] + 9 * sd;
    while (high - low > 1e-3 * sd) {
        double middle = (low + high) / 2, below = 0;
        for (size_t i = 0; i < n; i++)
            below += gsl_cdf_ugaussian_P((middle - sorted[i]) / sd);
        *(below < share * (double)n ? &low : &high) = middle;
    }
    return (low + high) / 2;
}

double slew_card_lowest(slew_card_read read)
{
    return read == SLEW_CARD_SECONDS || read == SLEW_CARD_CURRENT ? 0 : -INFINITY;
}

double slew_card_shown(double value, double sd, slew_card_read read, int64_t sample, int figure)
{
    double u = slew_random_unit(ERRORS, (uint64_t)sample, (uint32_t)figure);
    return fmax(value + sd * gsl_cdf_ugaussian_Pinv(u), slew_card_lowest(read));
}
