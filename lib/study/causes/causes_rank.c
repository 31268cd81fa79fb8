/* causes_rank.c - which causes agree with what was seen, and how well. M13 */
#include "study/causes/causes_belief.h"
#include "study/causes/causes_bins.h"
#include "study/causes/causes_likelihood.h"

#include "error/error.h"

#include <gsl/gsl_statistics_double.h>
#include <stdlib.h>

/* ---- weighing ---- */

/* the weight of each sample adds up to the probability of its cause */
static void weigh_all(const slew_scales *s, const slew_catalogue *catalogue, slew_ranking *out)
{
    int64_t n = s->causes->samples;
    for (int c = 0; c < s->causes->count; c++)
        out->likelihood[c] =
            slew_causes_counts(s->causes, c)
                ? slew_weigh(s, c, -1, out->weight + c * n) / (double)s->causes->state[c].possible
                : 0;
    out->none_likelihood = slew_none_likelihood(s, catalogue);
    slew_jackknife(s->causes, catalogue, out);
    slew_share_out(s->causes, catalogue, out->likelihood, out);
    for (int c = 0; c < s->causes->count; c++) {
        double sum = out->likelihood[c] * (double)s->causes->state[c].possible;
        for (int64_t i = 0; i < n && sum > 0; i++)
            out->weight[c * n + i] *= out->share[c] / sum;
    }
}

static void put_in_order(const slew_causes *causes, slew_ranking *out)
{
    out->count = 0;
    for (int c = 0; c < causes->count; c++) {
        if (!slew_causes_counts(causes, c))
            continue;
        int at = out->count++;
        for (; at > 0 && out->share[out->order[at - 1]] < out->share[c]; at--)
            out->order[at] = out->order[at - 1];
        out->order[at] = c;
    }
}

/* ---- what can be weighed at all ---- */

static bool is_readable(const slew_causes *causes, int observable)
{
    for (int c = 0; c < causes->count; c++)
        for (int64_t i = 0; i < causes->samples; i++)
            if (!isnan(slew_causes_figures(causes, c, i)[observable]))
                return true;
    return false;
}

static bool any_counts(const slew_causes *causes)
{
    for (int c = 0; c < causes->count; c++)
        if (slew_causes_counts(causes, c))
            return true;
    return false;
}

static slew_status refuse_unreadable(int observable, const slew_seen *seen, slew_error *error)
{
    slew_status status = slew_refuse(error, slew_observable_at(observable)->key.path,
                                     "can't be seen on this scenario under any cause", "");
    if (error != NULL) {
        error->line = seen->line[observable];
        error->column = seen->column[observable];
    }
    return status;
}

static slew_status check(const slew_scales *s, const slew_seen *seen, slew_error *error)
{
    if (!any_counts(s->causes))
        return slew_refuse(error, "causes", "none of the causes can be on this scenario", "");
    if (s->count == 0)
        return slew_refuse(error, "", "nothing was seen", "stow: {says: fault, seconds: 12.9 s}");
    for (int i = 0; i < s->count; i++)
        if (!is_readable(s->causes, s->sighting[i].observable))
            return refuse_unreadable(s->sighting[i].observable, seen, error);
    return SLEW_OK;
}

static double sum_of(const double *values, int count)
{
    double sum = 0;
    for (int i = 0; i < count; i++)
        sum += values[i];
    return sum;
}

slew_status slew_causes_rank(const slew_causes *causes, const slew_catalogue *catalogue,
                             const slew_seen *seen, slew_ranking *out, slew_error *error)
{
    if (causes == NULL || catalogue == NULL || seen == NULL || out == NULL)
        return slew_no_argument(error);
    slew_scales s = {.causes = causes};
    *out = (slew_ranking){0};
    s.count = slew_sightings_of(seen, s.sighting);
    slew_status status = check(&s, seen, error);
    if (status != SLEW_OK)
        return status;
    size_t count = (size_t)causes->count;
    out->order = calloc(count, sizeof *out->order);
    out->share = calloc(count, sizeof *out->share);
    out->share_sd = calloc(count, sizeof *out->share_sd);
    out->likelihood = calloc(count, sizeof *out->likelihood);
    out->weight = calloc(count * (size_t)causes->samples, sizeof *out->weight);
    if (out->order == NULL || out->share == NULL || out->share_sd == NULL ||
        out->likelihood == NULL || out->weight == NULL) {
        slew_ranking_free(out);
        return slew_no_memory(error);
    }
    weigh_all(&s, catalogue, out);
    put_in_order(causes, out);
    out->bits = slew_entropy(out->share, causes->count, sum_of(out->share, causes->count));
    return SLEW_OK;
}

void slew_ranking_free(slew_ranking *ranking)
{
    if (ranking == NULL)
        return;
    free(ranking->order);
    free(ranking->share);
    free(ranking->share_sd);
    free(ranking->likelihood);
    free(ranking->weight);
    *ranking = (slew_ranking){0};
}

double slew_ranking_effective(const slew_causes *causes, const slew_ranking *ranking, int cause)
{
    if (causes == NULL || ranking == NULL || cause < 0 || cause >= causes->count)
        return NAN;
    double sum = 0, squares = 0;
    for (int64_t i = 0; i < causes->samples; i++) {
        double w = ranking->weight[cause * causes->samples + i];
        sum += w;
        squares += w * w;
    }
    return squares > 0 ? sum * sum / squares : 0;
}

double slew_ranking_factor(const slew_causes *causes, const slew_ranking *ranking, int cause)
{
    if (causes == NULL || ranking == NULL || cause < -1 || cause >= causes->count)
        return NAN;
    double best = cause >= 0 && ranking->none > 0 ? ranking->none_likelihood : 0;
    for (int c = 0; c < causes->count; c++)
        if (c != cause)
            best = fmax(best, ranking->likelihood[c]);
    return (cause < 0 ? ranking->none_likelihood : ranking->likelihood[cause]) / best;
}

/* ---- how well it fits ---- */

/* the n-th sample in which the cause can be; there are more than n */
static int64_t possible_sample(const slew_causes *causes, int cause, int64_t n)
{
    int64_t i = 0;
    while (!slew_is_possible(slew_causes_figures(causes, cause, i)) || n-- > 0)
        i++;
    return i;
}

static void make_up(const slew_scales *s, int cause, int64_t sample, uint64_t seed, uint64_t number,
                    slew_scales *out)
{
    const double *figures = slew_causes_figures(s->causes, cause, sample);
    *out = *s;
    for (int i = 0; i < s->count; i++) {
        slew_sighting *own = &out->sighting[i];
        double u = slew_random_unit(seed, number, (uint32_t)own->observable + 1);
        own->value = slew_figure_read(own->observable, figures[own->observable], own->sd, u);
    }
}

double slew_causes_fit(const slew_causes *causes, const slew_seen *seen, int cause, uint64_t seed,
                       int trials)
{
    if (causes == NULL || seen == NULL || cause < 0 || cause >= causes->count || trials < 1)
        return NAN;
    slew_scales s = {.causes = causes}, made;
    int64_t possible = causes->state[cause].possible, odder = 0;
    s.count = slew_sightings_of(seen, s.sighting);
    if (possible == 0)
        return 0;
    double own = slew_weigh(&s, cause, -1, NULL) / (double)possible;
    double others = possible > 1 ? (double)(possible - 1) : 1;
    for (int t = 0; t < trials; t++) {
        double u = slew_random_unit(seed, (uint64_t)t, 0);
        int64_t sample = possible_sample(causes, cause, (int64_t)(u * (double)possible));
        make_up(&s, cause, sample, seed, (uint64_t)t, &made);
        odder += slew_weigh(&made, cause, possible > 1 ? sample : -1, NULL) / others <= own;
    }
    return (double)(1 + odder) / (double)(1 + trials);
}

int slew_causes_against(const slew_causes *causes, const slew_seen *seen, int cause)
{
    if (causes == NULL || seen == NULL || cause < 0 || cause >= causes->count)
        return -1;
    slew_sighting sighting[SLEW_OBSERVABLES];
    int count = slew_sightings_of(seen, sighting), worst = -1;
    double least = 0.1; /* beside the best that the observable can give */
    for (int k = 0; k < count; k++) {
        double sum = 0;
        for (int64_t i = 0; i < causes->samples; i++) {
            const double *figures = slew_causes_figures(causes, cause, i);
            if (slew_is_possible(figures))
                sum += slew_sighting_likelihood(&sighting[k], figures[sighting[k].observable]);
        }
        if (sum < least * (double)causes->state[cause].possible) {
            least = sum / (double)causes->state[cause].possible;
            worst = sighting[k].observable;
        }
    }
    return worst;
}

/* ---- drawing one ---- */

void slew_causes_observe(const slew_causes *causes, int cause, int64_t sample, uint64_t seed,
                         slew_seen *out)
{
    const double *figures = slew_causes_figures(causes, cause, sample);
    slew_seen_init(out);
    if (figures == NULL || out == NULL)
        return;
    for (int i = 0; i < SLEW_OBSERVABLES; i++)
        out->value[i] = slew_figure_read(i, figures[i], out->sd[i],
                                         slew_random_unit(seed, (uint64_t)sample, (uint32_t)i));
}
