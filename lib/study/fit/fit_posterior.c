/*
 * fit_posterior.c - how sure the figures are, over all that they and the scatters may be: M12.4
 *
 * Intervals from weighted samples (importance sampling, T. Kloek, H. K. van Dijk, Econometrica 46
 * (1978) 1-19): scatters first, then figures about those that are most likely with them. The
 * readings are quadratic functions of the figures for that.
 */
#include "study/fit/fit_given.h"
#include "study/fit/fit_mixture.h"
#include "study/fit/fit_quadratic.h"

#include "slewtime/study.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sort.h>
#include <stdlib.h>
#include <string.h>

/* figures are drawn with each of the scatters */
enum { WITH_EACH = 24, SAMPLES = SLEW_GIVEN_DRAWS * WITH_EACH, SEED = 12 };

/* The figures are drawn from a t of so many degrees of freedom, even, with sds larger by a factor:
 * what is drawn from has to reach further than what is asked for. */
enum { FREEDOM = 8 };
static const double WIDER = 1.1;

/* Points of the quadratic functions: so many for each term, drawn as the figures are but from a
 * normal distribution, each with its mirror image about the most likely figures: what odd terms are
 * left out makes the even ones no worse. So many tries for each where it can't be or can't be
 * simulated. */
enum { POINTS_A_TERM = 2, TRIES = 8 };

/* A sample is simulated whose weight's logarithm is more above the greatest of a normal posterior:
 * it is rare, may count for many, and lies where the quadratic functions may be wrong. */
static const double HEAVY = 1.5;

/* samples worth fewer of equal weight make no interval narrower */
static const double LEAST_WORTH = 100;

/* of the probability, below and above the interval */
static const double TAIL = 0.025;

typedef struct posterior {
    slew_trial *trial;
    slew_given given;
    slew_mixture mixture;
    slew_quadratic quadratic;
    bool learned;   /* the quadratic functions are there */
    double heavy;   /* a logarithm of a weight */
    double *weight; /* of each sample; its logarithm at first */
    double *value;  /* [figure * SAMPLES + sample] */
} posterior;

/* ---- scores ---- */

typedef struct dice {
    uint64_t sample;
    uint32_t next;
    double wider; /* the t's own factor */
    double square;
    int scores;
} dice;

/* a chi-square with an even number of degrees of freedom is a sum of exponentials */
static dice throw(int sample)
{
    dice d = {.sample = (uint64_t)sample};
    double sum = 0;
    for (int i = 0; i < FREEDOM / 2; i++)
        sum -= 2 * log(slew_random_unit(SEED, d.sample, d.next++));
    d.wider = sqrt(FREEDOM / sum);
    return d;
}

static double score(dice *d)
{
    double z = d->wider * gsl_cdf_ugaussian_Pinv(slew_random_unit(SEED, d->sample, d->next++));
    d->square += z * z;
    d->scores++;
    return WIDER * z;
}

/* the logarithm of the density of all its scores */
static double density(const dice *d)
{
    return -(FREEDOM + d->scores) / 2.0 * log1p(d->square / FREEDOM);
}

/* ---- figures ---- */

/* returns the logarithm of what they are drawn with */
static double draw_figures(const posterior *p, const double *middle, const slew_information *i,
                           dice *d, double *value)
{
    double sum = 0;
    memcpy(value, middle, sizeof p->given.middle);
    for (int k = 0; k < i->directions; k++) {
        double z = score(d);
        sum -= log(i->sd[k]);
        for (int j = 0; j < i->parameters; j++)
            value[j] += z * i->sd[k] * i->direction[k][j] * p->trial->out->figure[j].before;
    }
    return sum + density(d);
}

/* The logarithm of the posterior but for what was known of the scatters. `simulated`: not by the
 * quadratic functions. */
static double likelihood(posterior *p, const double *value, bool simulated)
{
    slew_given *g = &p->given;
    double sum = slew_trial_density(p->trial);
    if (!simulated) {
        slew_quadratic_ask(&p->quadratic, value);
        slew_trial_whitened(p->trial, value, g->residual);
    } else if (!slew_trial_ask(p->trial, value, g->residual))
        return -INFINITY;
    for (int i = 0; i < g->rows; i++)
        sum -= g->residual[i] * g->residual[i] / 2;
    return sum;
}

static bool is_within(const slew_trial *t, const double *value)
{
    for (int j = 0; j < t->out->figures; j++)
        if (value[j] < t->low[j] || value[j] > t->high[j])
            return false;
    return true;
}

/* about the most likely figures; false: there are none where it can be */
static bool learn(posterior *p)
{
    double value[SLEW_FIT_MAX];
    int points = POINTS_A_TERM * p->quadratic.terms, added = 0;
    for (int i = 0; i < TRIES * points && added < points; i++) {
        dice d = {.sample = SAMPLES + (uint64_t)i / 2, .wider = i % 2 == 0 ? 1 : -1};
        draw_figures(p, p->given.mode, &p->given.about, &d, value);
        added += is_within(p->trial, value) && slew_quadratic_add(&p->quadratic, value);
    }
    return added == points && slew_quadratic_solve(&p->quadratic);
}

/* returns the logarithm of its weight */
static double draw(posterior *p, double scatters, dice *d, double *value)
{
    double drawn = draw_figures(p, p->given.middle, &p->given.information, d, value);
    if (!is_within(p->trial, value))
        return -INFINITY;
    double weight = scatters + likelihood(p, value, false) - drawn;
    return weight > p->heavy ? scatters + likelihood(p, value, true) - drawn : weight;
}

/* with one draw of the scatters */
static void take(posterior *p, int scatter, double scatters)
{
    double value[SLEW_FIT_MAX];
    for (int i = scatter * WITH_EACH; i < (scatter + 1) * WITH_EACH; i++) {
        dice d = throw(i);
        p->weight[i] = draw(p, scatters, &d, value);
        for (int j = 0; j < p->given.figures; j++)
            p->value[j * SAMPLES + i] = value[j];
    }
}

/* the logarithm of the greatest weight of a normal posterior over that of its middle: at z^2 */
static double greatest(int figures)
{
    double n = figures, square = fmax((FREEDOM + n) / (WIDER * WIDER) - FREEDOM, 0);
    return (FREEDOM + n) / 2 * log1p(square / FREEDOM) - WIDER * WIDER * square / 2;
}

/* about the middle with the most likely scatters; false: memory is short */
static bool find_heavy(posterior *p)
{
    double value[SLEW_FIT_MAX], scatters;
    dice middle = {.wider = 0};
    if (!slew_given_draw(&p->given, SLEW_GIVEN_MODE, &scatters))
        return false;
    p->heavy = INFINITY;
    p->heavy = draw(p, scatters, &middle, value) + greatest(p->given.figures) + HEAVY;
    return true;
}

/* false: memory is short */
static bool take_all(posterior *p)
{
    bool there = !p->learned || find_heavy(p);
    for (int i = 0; i < SLEW_GIVEN_DRAWS && there; i++) {
        double scatters;
        there = slew_given_draw(&p->given, i, &scatters);
        if (!there)
            break;
        slew_mixture_add(&p->mixture, &p->given, scatters + slew_given_evidence(&p->given));
        if (p->learned)
            take(p, i, scatters);
    }
    return there;
}

/* ---- intervals ---- */

/* makes them shares of all; returns how many samples of equal weight they are worth */
static double weigh(double *weight)
{
    double most = -INFINITY, sum = 0, squares = 0;
    for (int i = 0; i < SAMPLES; i++)
        most = fmax(most, weight[i]);
    if (!isfinite(most))
        return 0;
    for (int i = 0; i < SAMPLES; i++)
        sum += weight[i] = exp(weight[i] - most);
    for (int i = 0; i < SAMPLES; i++) {
        weight[i] /= sum;
        squares += weight[i] * weight[i];
    }
    return 1 / squares;
}

static double quantile(const double *value, const double *weight, double share)
{
    double sum = weight[0];
    int i = 0;
    while (sum < share && i < SAMPLES - 1)
        sum += weight[++i];
    return value[i];
}

/* a figure at an end of its range has nothing left out there; not `narrower` than it is; `copy`
 * [SAMPLES] of the weights is sorted with the values */
static void bound(const posterior *p, int j, bool narrower, double *copy)
{
    slew_fit_figure *f = &p->trial->out->figure[j];
    double *value = p->value + j * SAMPLES;
    double below = f->edge < 0 ? 0 : f->edge > 0 ? 2 * TAIL : TAIL;
    memcpy(copy, p->weight, SAMPLES * sizeof *copy);
    gsl_sort2(value, 1, copy, 1, SAMPLES);
    double low = quantile(value, copy, below), high = quantile(value, copy, below + 1 - 2 * TAIL);
    low = f->edge < 0 ? p->trial->low[j] : fmin(low, f->value);
    high = f->edge > 0 ? p->trial->high[j] : fmax(high, f->value);
    f->low = narrower ? low : fmin(low, f->low);
    f->high = narrower ? high : fmax(high, f->high);
}

/* ---- all of it ---- */

static slew_status begin(posterior *p, const double *mode, const double *jacobian,
                         const slew_information *about)
{
    size_t samples = SAMPLES * (size_t)(p->trial->out->figures + 2); /* and one more weight */
    p->mixture = slew_mixture_none();
    slew_status status = slew_given_open(&p->given, p->trial, mode, jacobian, about);
    if (status == SLEW_OK)
        status = slew_quadratic_open(&p->quadratic, p->trial, mode, &p->given.about);
    if (status != SLEW_OK || (p->weight = malloc(samples * sizeof *p->weight)) == NULL)
        return SLEW_ERROR_MEMORY;
    p->value = p->weight + 2 * SAMPLES;
    return SLEW_OK;
}

static slew_status work_out(posterior *p, slew_information *known)
{
    p->learned = learn(p);
    if (!take_all(p) || !slew_mixture_take(&p->mixture, &p->given, known))
        return SLEW_ERROR_MEMORY;
    double worth = p->learned ? weigh(p->weight) : 0;
    for (int j = 0; j < p->given.figures && worth > 0; j++)
        bound(p, j, worth >= LEAST_WORTH, p->weight + SAMPLES);
    return SLEW_OK;
}

slew_status slew_trial_posterior(slew_trial *t, const double *mode, const double *jacobian,
                                 slew_information *known)
{
    posterior p = {.trial = t};
    slew_status status = begin(&p, mode, jacobian, known);
    if (status == SLEW_OK)
        status = work_out(&p, known);
    free(p.weight);
    slew_quadratic_close(&p.quadratic);
    slew_given_close(&p.given);
    return status;
}
