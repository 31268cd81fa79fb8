/* causes_signature.c - one observable under one cause, and causes that look alike. M13.5 */
#include "study/causes/causes_bins.h"
#include "study/causes/causes_likelihood.h"

#include <stdlib.h>
#include <string.h>

enum {
    OBSERVATIONS = 60, /* made up of each cause of a pair */
    DAYS = 1000        /* at most, on which they are weighed: pairs are many */
};
static const uint64_t alike_seed = 1;

/* ---- signatures ---- */

typedef struct weighed {
    double value, weight;
} weighed;

static int compare(const void *left, const void *right)
{
    double a = ((const weighed *)left)->value, b = ((const weighed *)right)->value;
    return (a > b) - (a < b);
}

/* the first value at which a share p of the weight is reached */
static double quantile(const weighed *sorted, int64_t count, double total, double p)
{
    int64_t i = 0;
    double sum = sorted[0].weight;
    while (sum < p * total && i + 1 < count)
        sum += sorted[++i].weight;
    return sorted[i].value;
}

static void summarise_number(weighed *values, int64_t count, double total, slew_signature *out)
{
    if (count == 0)
        return;
    qsort(values, (size_t)count, sizeof *values, compare);
    out->low = quantile(values, count, total, 0.05);
    out->mid = quantile(values, count, total, 0.5);
    out->high = quantile(values, count, total, 0.95);
}

static void summarise_word(const weighed *values, int64_t count, double total, int words,
                           slew_signature *out)
{
    for (int k = 0; k < words && count > 0; k++) {
        double sum = 0;
        for (int64_t i = 0; i < count; i++)
            sum += (int)values[i].value == k ? values[i].weight : 0;
        if (out->word < 0 || sum / total > out->share) {
            out->word = k;
            out->share = sum / total;
        }
    }
}

slew_status slew_causes_signature(const slew_causes *causes, const double *weight, int cause,
                                  int observable, slew_signature *out)
{
    if (causes == NULL || out == NULL || slew_observable_at(observable) == NULL || cause < 0 ||
        cause > causes->count)
        return SLEW_ERROR_INPUT;
    weighed *values = malloc((size_t)causes->samples * sizeof *values);
    int words = slew_observable_words(observable);
    double all = 0, total = 0;
    int64_t count = 0;
    *out = (slew_signature){.low = NAN, .mid = NAN, .high = NAN, .word = -1};
    if (values == NULL)
        return SLEW_ERROR_MEMORY;
    for (int64_t i = 0; i < causes->samples; i++) {
        const double *figures = slew_causes_figures(causes, cause, i);
        double own = !slew_is_possible(figures) ? 0 : weight != NULL ? weight[i] : 1;
        all += own;
        if (!(own > 0) || isnan(figures[observable]))
            continue;
        values[count++] = (weighed){figures[observable], own};
        total += own;
    }
    out->readable = all > 0 ? total / all : 0;
    if (words > 0)
        summarise_word(values, count, total, words, out);
    else
        summarise_number(values, count, total, out);
    free(values);
    return SLEW_OK;
}

slew_status slew_causes_signatures(const slew_causes *causes, const double *weight,
                                   slew_signature *out)
{
    if (causes == NULL || out == NULL)
        return SLEW_ERROR_INPUT;
    slew_status status = SLEW_OK;
    for (int c = 0; c < causes->count; c++)
        for (int o = 0; o < SLEW_OBSERVABLES && status == SLEW_OK; o++)
            status =
                slew_causes_signature(causes, weight != NULL ? weight + c * causes->samples : NULL,
                                      c, o, &out[c * SLEW_OBSERVABLES + o]);
    return status;
}

/* ---- likeness by one observable ---- */

static void spread_out(const slew_causes *causes, int cause, const slew_bins *bins,
                       double *probability)
{
    double own = 1 / (double)causes->state[cause].possible;
    memset(probability, 0, SLEW_BINS_MAX * sizeof *probability);
    for (int64_t i = 0; i < causes->samples; i++) {
        const double *figures = slew_causes_figures(causes, cause, i);
        if (slew_is_possible(figures))
            slew_bins_add(bins, figures[bins->observable], own, probability);
    }
}

static double overlap(const double *p, const double *q, int count)
{
    double sum = 0;
    for (int i = 0; i < count; i++)
        sum += p[i] + q[i] > 0 ? p[i] * q[i] / (p[i] + q[i]) : 0;
    return sum;
}

/* lowers the likeness of each pair to what the observable leaves of it */
static void bound(const slew_causes *causes, int observable, double *probability, double *likeness)
{
    const slew_bins bins = slew_bins_for(causes, observable);
    int n = causes->count;
    for (int c = 0; c < n; c++)
        if (slew_causes_counts(causes, c))
            spread_out(causes, c, &bins, probability + c * SLEW_BINS_MAX);
    for (int a = 0; a < n; a++)
        for (int b = 0; b < a; b++)
            if (slew_causes_counts(causes, a) && slew_causes_counts(causes, b))
                likeness[a * n + b] =
                    fmin(likeness[a * n + b], overlap(probability + a * SLEW_BINS_MAX,
                                                      probability + b * SLEW_BINS_MAX, bins.count));
}

/* ---- likeness by all of them together ---- */

static double mean_without(const slew_scales *s, int cause, int64_t left_out)
{
    return slew_weigh(s, cause, left_out, NULL) / (double)s->causes->state[cause].possible;
}

static void observe(slew_scales *s, int cause, int64_t sample, uint64_t number, slew_seen_by most)
{
    slew_seen seen;
    slew_causes_observe(s->causes, cause, sample, alike_seed + number, &seen);
    for (int i = 0; i < SLEW_OBSERVABLES; i++)
        if (slew_observable_at(i)->by > most)
            seen.value[i] = NAN;
    s->count = slew_sightings_of(&seen, s->sighting);
}

/* the same with the first days alone; `state` is for its causes */
static slew_causes first_days(const slew_causes *causes, slew_cause_state *state)
{
    slew_causes first = *causes;
    if (causes->samples <= DAYS)
        return first;
    first.samples = DAYS;
    first.state = state;
    for (int c = 0; c < first.count; c++) {
        state[c] = causes->state[c];
        state[c].possible = 0;
        for (int64_t i = 0; i < DAYS; i++)
            state[c].possible += slew_is_possible(slew_causes_figures(&first, c, i));
    }
    return first;
}

/* belief that goes to b while it is a, on average over observations of a */
static double mistaken(const slew_causes *causes, int a, int b, slew_seen_by most)
{
    slew_scales s = {.causes = causes};
    double sum = 0;
    int64_t step = causes->samples / OBSERVATIONS + 1;
    int made = 0;
    for (int64_t i = 0; i < causes->samples; i += step) {
        if (!slew_is_possible(slew_causes_figures(causes, a, i)))
            continue;
        observe(&s, a, i, (uint64_t)made, most);
        double own = mean_without(&s, a, i), other = mean_without(&s, b, i);
        sum += own + other > 0 ? other / (own + other) : 0;
        made++;
    }
    return made > 0 ? sum / made : 0;
}

slew_status slew_causes_likeness(const slew_causes *causes, slew_seen_by most, double least,
                                 double *likeness)
{
    if (causes == NULL || likeness == NULL)
        return SLEW_ERROR_INPUT;
    int n = causes->count;
    double *probability = calloc((size_t)n * SLEW_BINS_MAX, sizeof *probability);
    if (probability == NULL)
        return SLEW_ERROR_MEMORY;
    for (int i = 0; i < n * n; i++)
        likeness[i] = 0.5;
    slew_cause_state state[SLEW_CAUSES_MAX];
    const slew_causes first = first_days(causes, state);
    for (int o = 0; o < SLEW_OBSERVABLES; o++)
        if (slew_observable_at(o)->by <= most)
            bound(&first, o, probability, likeness);
    for (int a = 0; a < n; a++)
        for (int b = 0; b < a; b++) {
            double *own = &likeness[a * n + b];
            if (!slew_causes_counts(&first, a) || !slew_causes_counts(&first, b))
                *own = 0;
            else if (*own >= least)
                *own = (mistaken(&first, a, b, most) + mistaken(&first, b, a, most)) / 2;
            likeness[b * n + a] = *own;
        }
    free(probability);
    return SLEW_OK;
}
