/* causes_likelihood.c - see causes_likelihood.h; M13.2, M13.3. */
#include "study/causes/causes_likelihood.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_math.h>

static const double far_off = 8; /* standard deviations beyond which only a blunder counts */

static slew_sighting sighting_of(int observable, double value, double sd)
{
    const slew_observable *row = slew_observable_at(observable);
    const double odds = SLEW_BLUNDER / (1 - SLEW_BLUNDER);
    int words = slew_observable_words(observable);
    double blunder = words > 0 ? odds / (words - 1) : odds * sd * sqrt(2 * M_PI) / row->width;
    double any = words > 0 ? 1 / (words * (1 - SLEW_BLUNDER)) : blunder / SLEW_BLUNDER;
    return (slew_sighting){observable, words > 0, value, sd, blunder, any};
}

int slew_sightings_of(const slew_seen *seen, slew_sighting sightings[SLEW_OBSERVABLES])
{
    int count = 0;
    for (int i = 0; i < SLEW_OBSERVABLES; i++)
        if (!isnan(seen->value[i]))
            sightings[count++] = sighting_of(i, seen->value[i], seen->sd[i]);
    return count;
}

double slew_sighting_likelihood(const slew_sighting *s, double figure)
{
    if (s->is_word)
        return figure == s->value ? 1 : s->blunder;
    double z = (s->value - figure) / s->sd;
    return fabs(z) < far_off ? exp(-z * z / 2) + s->blunder : s->blunder; /* NaN: a blunder */
}

/* all of them together, of a sample's figures */
static double likelihood_of(const slew_sighting *sightings, int count, const double *figures)
{
    double product = 1;
    for (int i = 0; i < count; i++)
        product *= slew_sighting_likelihood(&sightings[i], figures[sightings[i].observable]);
    return product;
}

bool slew_is_possible(const double *figures)
{
    return !isnan(figures[SLEW_SEEN_STOW_SAYS]);
}

double slew_weigh(const slew_scales *s, int cause, int64_t left_out, double *each)
{
    double sum = 0;
    for (int64_t i = 0; i < s->causes->samples; i++) {
        const double *figures = slew_causes_figures(s->causes, cause, i);
        double own = slew_is_possible(figures) && i != left_out
                         ? likelihood_of(s->sighting, s->count, figures)
                         : 0;
        sum += own;
        if (each != NULL)
            each[i] = own;
    }
    return sum;
}

double slew_figure_read(int observable, double figure, double sd, double u)
{
    return slew_observable_words(observable) > 0 ? figure : figure + sd * gsl_cdf_ugaussian_Pinv(u);
}
