/* margin_need.c - see margin_need.h. */
#include "study/margin/margin_need.h"

#include "study/sampling/untaught.h"
#include "study/sampling/weighted.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sort.h>
#include <stdlib.h>
#include <string.h>

/* of each level on the way into the tail: samples, and those of them that the next starts from */
enum { LEVEL = 192, LEAST = 24 };

static const double EACH = 0.975; /* of an interval at 95 %, on either side */

/* so many times what is wanted need more than where the tail is taken to begin, and some grid steps
 * to be sure */
enum { BEGINS = 5, BEYOND = 2 };

/* ---- asking ---- */

static void draw(const slew_tail *tail, uint64_t seed, int64_t count, slew_margin_samples *out,
                 double *unit)
{
    int dimensions = tail->dimensions;
    for (int64_t i = 0; i < count; i++) {
        double *score = out->score + i * dimensions;
        slew_tail_draw(tail, seed, i, score);
        out->weight[i] = slew_tail_weight(tail, score);
        for (int d = 0; d < dimensions; d++)
            unit[i * dimensions + d] = gsl_cdf_ugaussian_P(score[d]);
    }
}

/* the ensemble's own teaching is not needed: every clearance is taught */
static slew_status run(const slew_margin_asking *a, slew_margin_case *c, const double *unit,
                       int64_t count, slew_question *ask, int figures, slew_ensemble *e)
{
    slew_sampling how = *a->sampling;
    slew_scenario *untaught = malloc(sizeof *untaught);
    if (untaught == NULL)
        return SLEW_ERROR_MEMORY;
    how.samples = count;
    *untaught = *c->scenario;
    slew_leave_untaught(untaught);
    slew_status status =
        slew_ensemble_run_at(untaught, SLEW_STOW_ONLY, &how, unit, ask, c, figures, e, a->error);
    free(untaught);
    return status;
}

slew_status slew_margin_ask(const slew_margin_asking *a, slew_margin_case *c, const slew_tail *tail,
                            uint64_t seed, int64_t count, slew_question *question, int figures,
                            slew_margin_samples *out)
{
    size_t numbers = (size_t)count * (size_t)tail->dimensions;
    double *unit = malloc(numbers * sizeof *unit);
    *out = (slew_margin_samples){.score = malloc(numbers * sizeof *out->score),
                                 .weight = malloc((size_t)count * sizeof *out->weight)};
    slew_status status = SLEW_ERROR_MEMORY;
    if (unit != NULL && out->score != NULL && out->weight != NULL) {
        draw(tail, seed, count, out, unit);
        status = run(a, c, unit, count, question, figures, &out->ensemble);
    }
    free(unit);
    return status;
}

void slew_margin_samples_free(slew_margin_samples *samples)
{
    slew_ensemble_free(&samples->ensemble);
    free(samples->score);
    free(samples->weight);
    *samples = (slew_margin_samples){0};
}

bool slew_margin_has_samples(slew_status status, const slew_margin_samples *samples)
{
    return status == SLEW_OK || (status == SLEW_ERROR_STOPPED && samples->ensemble.done > 0);
}

/* ---- the way into the tail ---- */

/* samples of all levels so far */
typedef struct pool {
    int levels;
    int64_t count;
    double *score, *need;
} pool;

/* the figure is a clearance: on its grid and within its range */
static int on_grid(double clearance, int last)
{
    return isnan(clearance) ? SLEW_MARGIN_FIRST
                            : (int)fmax(fmin(clearance, last), SLEW_MARGIN_FIRST);
}

static slew_status add_level(const slew_margin_asking *a, slew_margin_case *c,
                             const slew_tail *from, pool *p)
{
    c->start = on_grid(from->begins, c->last);
    slew_margin_samples level;
    uint64_t seed = a->sampling->seed + UINT64_C(0x9e3779b97f4a7c15) * (uint64_t)++p->levels;
    slew_status status = slew_margin_ask(a, c, from, seed, LEVEL, slew_margin_ask_need, 1, &level);
    if (status == SLEW_OK) {
        size_t width = (size_t)from->dimensions * sizeof *p->score;
        memcpy(p->score + p->count * from->dimensions, level.score, LEVEL * width);
        memcpy(p->need + p->count, level.ensemble.figure, LEVEL * sizeof *p->need);
        p->count += LEVEL;
    }
    slew_margin_samples_free(&level);
    return status;
}

/* a clearance that some more than wanted need */
static void mark_beginning(slew_tail *tail, const pool *p, double wanted)
{
    tail->begins = slew_tail_quantile(tail, p->score, p->need, p->count, BEGINS * wanted) - BEYOND;
}

/* from what is known of the tail on, each level further out than the one before */
static slew_status go_out(const slew_margin_asking *a, slew_margin_case *c, slew_tail *tail,
                          pool *p)
{
    bool reached = false;
    slew_status status = add_level(a, c, tail, p);
    mark_beginning(tail, p, a->question->wanted);
    while (status == SLEW_OK &&
           slew_tail_add(tail, p->score, p->need, p->count, LEAST, a->question->wanted, &reached) &&
           !reached) {
        const slew_tail last = slew_tail_last(tail);
        status = add_level(a, c, &last, p);
        slew_tail_include_last(tail, p->levels);
        mark_beginning(tail, p, a->question->wanted);
    }
    return tail->short_of_memory ? SLEW_ERROR_MEMORY : status;
}

static slew_status learn(const slew_margin_asking *a, slew_margin_case *c, slew_tail *tail)
{
    size_t most = (size_t)LEVEL * (SLEW_TAIL_PARTS + 1);
    pool p = {.score = malloc(most * (size_t)tail->dimensions * sizeof *p.score),
              .need = malloc(most * sizeof *p.need)};
    slew_status status = SLEW_ERROR_MEMORY;
    c->floor = SLEW_MARGIN_FIRST;
    if (p.score != NULL && p.need != NULL)
        status = go_out(a, c, tail, &p);
    if (status == SLEW_OK)
        c->floor = on_grid(tail->begins, c->last);
    slew_tail_settle(tail);
    free(p.score);
    free(p.need);
    return status;
}

/* ---- what is needed ---- */

slew_share slew_margin_share_beyond(const slew_margin_samples *s, double clearance, double each)
{
    slew_weighted sums = {0};
    double nearest = -INFINITY; /* of those that are not hit: the next to be */
    for (int64_t i = 0; i < s->ensemble.done; i++)
        if (s->ensemble.figure[i] <= clearance)
            nearest = fmax(nearest, s->ensemble.figure[i]);
    for (int64_t i = 0; i < s->ensemble.done; i++) {
        double need = s->ensemble.figure[i];
        if (isnan(need))
            continue;
        slew_weighted_add(&sums, s->weight[i], need > clearance);
        if (need >= nearest)
            sums.next = fmax(sums.next, s->weight[i]);
    }
    return slew_weighted_share(&sums, each);
}

/* needs: sorted, one for each sample that can be taught [grid steps]. From the largest down, as
 * long as fewer than wanted surely need more. */
static double smallest_enough(const slew_margin_samples *s, const double *needs, int64_t n,
                              double wanted, double each)
{
    double enough = NAN;
    for (int64_t i = n - 1; i >= 0; i--) {
        if (i < n - 1 && needs[i] == needs[i + 1])
            continue;
        if (!(slew_margin_share_beyond(s, needs[i], each).high < wanted))
            break;
        enough = needs[i];
    }
    return enough;
}

static slew_status conclude(const slew_margin_asking *a, const slew_margin_samples *s, double each,
                            slew_margin_need *out)
{
    const slew_ensemble *e = &s->ensemble;
    double *needs = malloc((size_t)e->done * sizeof *needs);
    if (needs == NULL)
        return SLEW_ERROR_MEMORY;
    out->samples = 0;
    for (int64_t i = 0; i < e->done; i++)
        if (!isnan(e->figure[i]))
            needs[out->samples++] = e->figure[i];
    out->untaught = e->done - e->refused - out->samples;
    gsl_sort(needs, 1, (size_t)out->samples);
    double enough = smallest_enough(s, needs, out->samples, a->question->wanted, each);
    out->enough = enough * SLEW_MARGIN_GRID;
    out->beyond =
        isfinite(enough) ? slew_margin_share_beyond(s, enough, EACH) : (slew_share){NAN, NAN, NAN};
    out->unseen = out->samples > 0 ? needs[out->samples - 1] * SLEW_MARGIN_GRID : NAN;
    free(needs);
    return SLEW_OK;
}

/* ---- together ---- */

static slew_status ask_and_conclude(const slew_margin_asking *a, slew_margin_case *c,
                                    const slew_tail *tail, int64_t count, slew_margin_samples *s,
                                    slew_margin_need *out)
{
    slew_margin_samples_free(s);
    c->start = c->floor;
    slew_status status =
        slew_margin_ask(a, c, tail, a->sampling->seed, count, slew_margin_ask_need, 1, s);
    if (!slew_margin_has_samples(status, s))
        return status;
    slew_status concluded = conclude(a, s, c->scenario->demands.confidence, out);
    return concluded != SLEW_OK ? concluded : status;
}

slew_status slew_margin_find_need(const slew_margin_asking *a, slew_margin_case *c, slew_tail *tail,
                                  int64_t count, slew_margin_samples *s, slew_margin_need *out)
{
    *s = (slew_margin_samples){0};
    out->limit = c->last * SLEW_MARGIN_GRID;
    slew_status status = learn(a, c, tail);
    if (status == SLEW_OK)
        status = ask_and_conclude(a, c, tail, count, s, out);
    while (status == SLEW_OK && c->floor > SLEW_MARGIN_FIRST &&
           out->enough <= (c->floor + 0.5) * SLEW_MARGIN_GRID) {
        c->floor = SLEW_MARGIN_FIRST + (c->floor - SLEW_MARGIN_FIRST) / 2; /* it may be less */
        status = ask_and_conclude(a, c, tail, count, s, out);
    }
    out->status = status;
    return status;
}
