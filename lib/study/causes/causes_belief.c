/* causes_belief.c - see causes_belief.h; M13.4, M13.7. */
#include "study/causes/causes_belief.h"

/* ---- none of them ---- */

/* likelihood of one thing seen, on average over samples of a cause */
static double mean_of(const slew_causes *causes, int cause, const slew_sighting *sighting)
{
    double sum = 0;
    for (int64_t i = 0; i < causes->samples; i++) {
        const double *figures = slew_causes_figures(causes, cause, i);
        if (slew_is_possible(figures))
            sum += slew_sighting_likelihood(sighting, figures[sighting->observable]);
    }
    return sum / (double)causes->state[cause].possible;
}

static double commonness_of_all(const slew_causes *causes, const slew_catalogue *catalogue)
{
    double sum = 0;
    for (int c = 0; c < causes->count; c++)
        sum += slew_causes_counts(causes, c) ? catalogue->cause[c].commonness : 0;
    return sum;
}

double slew_none_likelihood(const slew_scales *s, const slew_catalogue *catalogue)
{
    double product = 1, all = commonness_of_all(s->causes, catalogue);
    for (int k = 0; k < s->count; k++) {
        double pooled = 0;
        for (int c = 0; c < s->causes->count; c++)
            if (slew_causes_counts(s->causes, c))
                pooled +=
                    catalogue->cause[c].commonness * mean_of(s->causes, c, &s->sighting[k]) / all;
        product *= (1 - SLEW_BROAD) * pooled + SLEW_BROAD * s->sighting[k].any;
    }
    return product;
}

/* ---- probabilities ---- */

void slew_share_out(const slew_causes *causes, const slew_catalogue *catalogue,
                    const double *likelihood, slew_ranking *out)
{
    double all = commonness_of_all(causes, catalogue);
    double total = out->none = catalogue->none * out->none_likelihood;
    for (int c = 0; c < causes->count; c++) {
        double before = (1 - catalogue->none) * catalogue->cause[c].commonness / all;
        out->share[c] = slew_causes_counts(causes, c) ? before * likelihood[c] : 0;
        total += out->share[c];
    }
    out->none /= total;
    for (int c = 0; c < causes->count; c++)
        out->share[c] /= total;
}

/* ---- their sampling error ---- */

/* mean likelihood of a cause over all samples but those of a group */
static double mean_without(const slew_causes *causes, const double *likelihood, int cause,
                           int group)
{
    double sum = 0;
    int64_t count = 0;
    for (int64_t i = 0; i < causes->samples; i++) {
        const double *figures = slew_causes_figures(causes, cause, i);
        if (i % causes->groups == group || !slew_is_possible(figures))
            continue;
        sum += likelihood[i];
        count++;
    }
    return count > 0 ? sum / (double)count : 0;
}

/* adds up mean and mean square of a share as they grow: Welford, Technometrics 4 (1962) 419 */
static void note(double value, int number, double *mean, double *squares)
{
    double step = value - *mean;
    *mean += step / number;
    *squares += step * (value - *mean);
}

void slew_jackknife(const slew_causes *causes, const slew_catalogue *catalogue, slew_ranking *out)
{
    int groups = causes->groups;
    double likelihood[SLEW_CAUSES_MAX] = {0}, mean[SLEW_CAUSES_MAX + 1] = {0};
    out->none_sd = 0;
    for (int g = 0; g < groups; g++) {
        for (int c = 0; c < causes->count; c++)
            if (slew_causes_counts(causes, c))
                likelihood[c] = mean_without(causes, out->weight + c * causes->samples, c, g);
        slew_share_out(causes, catalogue, likelihood, out);
        note(out->none, g + 1, &mean[causes->count], &out->none_sd);
        for (int c = 0; c < causes->count; c++)
            note(out->share[c], g + 1, &mean[c], &out->share_sd[c]);
    }
    for (int c = 0; c < causes->count; c++)
        out->share_sd[c] = sqrt(out->share_sd[c] * (groups - 1) / groups);
    out->none_sd = sqrt(out->none_sd * (groups - 1) / groups);
}
