/* causes_bins.c - see causes_bins.h. */
#include "study/causes/causes_bins.h"

#include <gsl/gsl_cdf.h>

static const double reach = 4; /* of an uncertainty, in standard deviations */
enum { READING_BINS = 100 };   /* of a number, without its reach */

static void find_range(const slew_causes *causes, int observable, double *low, double *high)
{
    *low = INFINITY;
    *high = -INFINITY;
    for (int c = 0; c < causes->count; c++)
        for (int64_t i = 0; i < causes->samples && slew_causes_counts(causes, c); i++) {
            double figure = slew_causes_figures(causes, c, i)[observable];
            if (isfinite(figure)) {
                *low = fmin(*low, figure);
                *high = fmax(*high, figure);
            }
        }
}

slew_bins slew_bins_for(const slew_causes *causes, int observable)
{
    slew_bins bins = {.observable = observable, .count = slew_observable_words(observable) + 1};
    double low, high, sd = slew_observable_at(observable)->sd;
    if (bins.count > 1)
        return bins;
    find_range(causes, observable, &low, &high);
    if (!(low <= high))
        return bins;
    bins.width = fmax(sd / 2, (high - low) / READING_BINS);
    bins.low = low - reach * sd;
    bins.count = (int)ceil((high - low + 2 * reach * sd) / bins.width) + 1;
    return bins;
}

static void add_word(const slew_bins *bins, double figure, double weight, double *probability)
{
    int words = bins->count - 1;
    for (int i = 0; i < words; i++)
        probability[i] +=
            weight * (i == (int)figure ? 1 - SLEW_BLUNDER : SLEW_BLUNDER / (words - 1));
}

static void add_number(const slew_bins *bins, double figure, double weight, double *probability)
{
    double sd = slew_observable_at(bins->observable)->sd, readings = bins->count - 1;
    int first = (int)((figure - reach * sd - bins->low) / bins->width);
    int last = (int)((figure + reach * sd - bins->low) / bins->width);
    double below = 0;
    for (int i = first < 0 ? 0 : first; i <= last && i < bins->count - 1; i++) {
        double edge = bins->low + (i + 1) * bins->width;
        bool end = i == last || i == bins->count - 2;
        double upto = end ? 1 : gsl_cdf_ugaussian_P((edge - figure) / sd);
        probability[i] += weight * (1 - SLEW_BLUNDER) * (upto - below);
        below = upto;
    }
    for (int i = 0; i < bins->count - 1; i++)
        probability[i] += weight * SLEW_BLUNDER / readings;
}

void slew_bins_add(const slew_bins *bins, double figure, double weight, double *probability)
{
    if (isnan(figure))
        probability[bins->count - 1] += weight;
    else if (slew_observable_words(bins->observable) > 0)
        add_word(bins, figure, weight, probability);
    else
        add_number(bins, figure, weight, probability);
}
