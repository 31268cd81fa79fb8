/* causes_information.c - what an observable would tell about the cause. M13.6 */
#include "study/causes/causes_bins.h"

double slew_entropy(const double *probability, int count, double total)
{
    double bits = 0;
    for (int i = 0; i < count; i++)
        if (probability[i] > 0)
            bits -= probability[i] / total * log2(probability[i] / total);
    return bits;
}

/* I = H(reading) - sum over the causes of share * H(reading | cause), should it be one of them */
double slew_causes_information(const slew_causes *causes, const slew_ranking *ranking,
                               int observable)
{
    if (causes == NULL || ranking == NULL || slew_observable_at(observable) == NULL)
        return NAN;
    const slew_bins bins = slew_bins_for(causes, observable);
    double whole[SLEW_BINS_MAX] = {0}, within = 0, one = 0;
    for (int c = 0; c < causes->count; c++)
        one += ranking->share[c];
    for (int c = 0; c < causes->count; c++) {
        double own[SLEW_BINS_MAX] = {0}, share = ranking->share[c];
        if (!(share > 0))
            continue;
        for (int64_t i = 0; i < causes->samples; i++) {
            double weight = ranking->weight[c * causes->samples + i];
            if (weight > 0)
                slew_bins_add(&bins, slew_causes_figures(causes, c, i)[observable], weight, own);
        }
        for (int k = 0; k < bins.count; k++)
            whole[k] += own[k];
        within += share / one * slew_entropy(own, bins.count, share);
    }
    return fmax(slew_entropy(whole, bins.count, one) - within, 0);
}
