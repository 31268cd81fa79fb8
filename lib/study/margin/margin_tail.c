/* margin_tail.c - see margin_tail.h. */
#include "study/margin/margin_tail.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sort.h>
#include <stdlib.h>

slew_tail slew_tail_begin(int dimensions)
{
    return (slew_tail){.dimensions = dimensions, .parts = 1, .share = {1}, .begins = NAN};
}

slew_tail slew_tail_last(const slew_tail *tail)
{
    slew_tail last = *tail;
    for (int k = 0; k < tail->parts; k++)
        last.share[k] = k == tail->parts - 1;
    return last;
}

void slew_tail_include_last(slew_tail *t, int levels)
{
    for (int k = 0; k < t->parts - 1; k++)
        t->share[k] *= (levels - 1.0) / levels;
    t->share[t->parts - 1] = 1.0 / levels;
}

void slew_tail_settle(slew_tail *t)
{
    int between = t->parts - 2;
    for (int k = 0; k < t->parts; k++) {
        bool is_end = k == 0 || k == t->parts - 1;
        t->share[k] = between < 1 ? 1.0 / t->parts : is_end ? 1.0 / 3 : 1.0 / 3 / between;
    }
}

/* ---- drawing and weighing ---- */

/* evenly from all parts, whatever the number of samples: the golden ratio keeps neighbors apart */
static int part_of(const slew_tail *t, int64_t index)
{
    double place = fmod((double)index * 0.6180339887498949, 1.0);
    int part = 0;
    while (part < t->parts - 1 && place >= t->share[part])
        place -= t->share[part++];
    return part;
}

void slew_tail_draw(const slew_tail *t, uint64_t seed, int64_t index, double *score)
{
    const double *shift = t->shift[part_of(t, index)];
    for (int d = 0; d < t->dimensions; d++)
        score[d] =
            shift[d] + gsl_cdf_ugaussian_Pinv(slew_random_unit(seed, (uint64_t)index, (uint32_t)d));
}

double slew_tail_weight(const slew_tail *t, const double *score)
{
    double density = 0; /* of the samples, in units of nature's */
    for (int k = 0; k < t->parts; k++) {
        double exponent = 0;
        for (int d = 0; d < t->dimensions; d++)
            exponent += t->shift[k][d] * (score[d] - t->shift[k][d] / 2);
        density += t->share[k] * exp(exponent);
    }
    return 1 / density;
}

/* ---- one more part ---- */

typedef struct order {
    size_t *by_figure; /* from the largest down, NaN last */
    double *weight, *key;
    int64_t told;
    double whole; /* weight of all that are told */
} order;

static void close_order(order *o)
{
    free(o->by_figure);
    free(o->weight);
    free(o->key);
}

/* false: memory is short */
static bool put_in_order(slew_tail *t, const double *score, const double *figure, int64_t count,
                         order *o)
{
    size_t n = (size_t)count;
    *o = (order){malloc(n * sizeof *o->by_figure), malloc(n * sizeof *o->weight),
                 malloc(n * sizeof *o->key), 0, 0};
    if (o->by_figure == NULL || o->weight == NULL || o->key == NULL) {
        t->short_of_memory = true;
        return false;
    }
    for (int64_t i = 0; i < count; i++) {
        bool told = !isnan(figure[i]);
        o->weight[i] = slew_tail_weight(t, score + i * t->dimensions);
        o->key[i] = told ? -figure[i] : INFINITY;
        o->told += told;
        o->whole += told ? o->weight[i] : 0;
    }
    gsl_sort_index(o->by_figure, o->key, 1, n);
    return true;
}

/* how many are far out, and their weight: at least `least`, at least the share `wanted` of all, and
 * all that are as far out as the last of these */
static int64_t count_far(const order *o, int64_t least, double wanted, double *weight)
{
    int64_t n = 0;
    *weight = 0;
    while (n < o->told && (n < least || *weight < wanted * o->whole ||
                           o->key[o->by_figure[n]] == o->key[o->by_figure[n - 1]]))
        *weight += o->weight[o->by_figure[n++]];
    return n;
}

static void add_mean(slew_tail *t, const order *o, const double *score, int64_t far, double weight)
{
    double *shift = t->shift[t->parts];
    t->share[t->parts++] = 0;
    for (int64_t i = 0; i < far; i++)
        for (int d = 0; d < t->dimensions; d++)
            shift[d] += o->weight[o->by_figure[i]] / weight *
                        score[(int64_t)o->by_figure[i] * t->dimensions + d];
}

/* Many figures are alike at their end (a spread with bounds): nothing tells the way any further, so
 * it is taken straight on, to where a plane would cut off what is wanted. */
static void stretch_last(slew_tail *t, double wanted)
{
    double *shift = t->shift[t->parts - 1], square = 0;
    for (int d = 0; d < t->dimensions; d++)
        square += shift[d] * shift[d];
    double factor = gsl_cdf_ugaussian_Qinv(wanted) / sqrt(square);
    for (int d = 0; d < t->dimensions && factor > 1 && isfinite(factor); d++)
        shift[d] *= factor;
}

bool slew_tail_add(slew_tail *t, const double *score, const double *figure, int64_t count,
                   int64_t least, double wanted, bool *reached)
{
    order o;
    bool added = false;
    double weight;
    *reached = true;
    if (put_in_order(t, score, figure, count, &o)) {
        int64_t far = count_far(&o, least, wanted, &weight);
        added = far > 0 && far < o.told && t->parts < SLEW_TAIL_PARTS;
        bool alike = far > 2 * least && weight > 1.5 * wanted * o.whole;
        *reached = !added || alike || weight <= 1.5 * wanted * o.whole;
        if (added)
            add_mean(t, &o, score, far, weight);
        if (added && alike)
            stretch_last(t, wanted);
    }
    close_order(&o);
    return added;
}

double slew_tail_quantile(slew_tail *t, const double *score, const double *figure, int64_t count,
                          double wanted)
{
    order o;
    double weight, quantile = NAN;
    if (put_in_order(t, score, figure, count, &o) && o.told > 0)
        quantile = -o.key[o.by_figure[count_far(&o, 1, wanted, &weight) - 1]];
    close_order(&o);
    return quantile;
}
