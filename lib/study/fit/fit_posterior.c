/*
 * fit_posterior.c - the 95 % interval of each figure, from weighted samples of the posterior. M12.6
 *
 * Importance sampling, T. Kloek, H. K. van Dijk, Econometrica 46 (1978) 1-19: scatters first, then
 * figures about those that are most likely with them. The readings are quadratic functions of the
 * figures for that.
 */
#include "study/fit/fit_quadratic.h"
#include "study/fit/information.h"

#include "slewtime/study.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sort.h>
#include <stdlib.h>
#include <string.h>

/* scatters, and figures drawn with each of them */
enum { SCATTERS = 128, WITH_EACH = 24, SAMPLES = SCATTERS * WITH_EACH, SEED = 12 };

/* Both are drawn from a t of so many degrees of freedom, even, with sds larger by a factor: what is
 * drawn from has to reach further than what is asked for. */
enum { FREEDOM = 8 };
static const double WIDER = 1.1;

/* Points of the quadratic functions: so many for each term, drawn from a normal distribution with
 * sds larger by a factor; so many tries for each where it can't be or can't be simulated. */
enum { POINTS_A_TERM = 2, TRIES = 8 };
static const double POINTS_WIDER = 1.3;

/* A sample is simulated whose weight's logarithm is more above the greatest of a normal posterior:
 * it is rare, may count for many, and lies where the quadratic functions may be wrong. */
static const double HEAVY = 1.5;

/* samples worth fewer of equal weight make no interval narrower */
static const double LEAST_WORTH = 100;

/* of the probability, below and above the interval */
static const double TAIL = 0.025;

typedef struct posterior {
    slew_trial *trial;
    int rows, figures;
    const double *mode;               /* the figures that are most likely */
    double scatter[SLEW_INSTRUMENTS]; /* the scatters that are */
    slew_information about;           /* what is known there */
    double middle[SLEW_FIT_MAX];      /* the most likely figures with the present scatters */
    slew_information information;     /* what is known with them */
    slew_quadratic quadratic;
    double *derivative;          /* of the readings, not whitened, and of what was known */
    double *jacobian, *residual; /* whitened with the present scatters */
    double *at_mode;             /* residuals there, not whitened */
    double heavy;                /* a logarithm of a weight */
    double *weight;              /* of each sample; its logarithm at first */
    double *value;               /* [figure * SAMPLES + sample] */
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

/* ---- derivatives ---- */

/* a column of the readings' derivatives, whitened as they are now; or the other way round */
static void whiten(const slew_trial *t, const double *from, int stride, bool back, double *to)
{
    for (int i = 0; i < t->out->readings; i++) {
        int first = slew_trial_first(t->out, i);
        const double *inverse = t->whitening[i].inverse;
        double sum = 0;
        for (int k = first; k < i; k++)
            sum += inverse[k - first] * (back ? to : from)[k * stride];
        to[i * stride] = back ? (from[i * stride] - sum) / inverse[i - first]
                              : sum + inverse[i - first] * from[i * stride];
    }
}

/* ---- scatters ---- */

/* returns the logarithm of what was known of them before, over what they are drawn with */
static double draw_scatters(posterior *p, dice *d)
{
    slew_trial *t = p->trial;
    double sum = 0;
    for (int m = 0; m < SLEW_INSTRUMENTS; m++) {
        const slew_fit_scatter *own = &t->out->instrument[m];
        if (own->readings == 0)
            continue;
        double s = p->scatter[m] * exp(score(d) / sqrt(2 * (SLEW_SCATTER_WORTH + own->worth)));
        sum -= SLEW_SCATTER_WORTH * (log(s) + 1 / (2 * s * s));
        t->scatter[m] = s;
    }
    slew_trial_whiten(t);
    return sum - density(d);
}

/* the most likely figures with these scatters, one step from those of all, within their ranges */
static bool find_middle(posterior *p)
{
    const slew_trial *t = p->trial;
    double step[SLEW_FIT_MAX];
    memcpy(p->jacobian, p->derivative, (size_t)(p->rows * p->figures) * sizeof *p->jacobian);
    for (int j = 0; j < p->figures; j++)
        whiten(t, p->derivative + j, p->figures, false, p->jacobian + j);
    memcpy(p->trial->residual, p->at_mode, (size_t)t->out->readings * sizeof *p->at_mode);
    slew_trial_whitened(p->trial, p->mode, p->residual);
    if (!slew_information_of(p->jacobian, p->rows, p->figures, NULL, 0, &p->information))
        return false;
    slew_information_step(&p->information, p->jacobian, p->residual, p->rows, step);
    for (int j = 0; j < p->figures; j++) {
        double moved = p->mode[j] + step[j] * t->out->figure[j].before;
        p->middle[j] = fmax(fmin(moved, t->high[j]), t->low[j]);
    }
    return true;
}

/* ---- figures ---- */

/* returns the logarithm of what they are drawn with */
static double draw_figures(const posterior *p, const double *middle, const slew_information *i,
                           dice *d, double *value)
{
    double sum = 0;
    memcpy(value, middle, sizeof p->middle);
    for (int k = 0; k < i->directions; k++) {
        double z = score(d);
        sum -= log(i->sd[k]);
        for (int j = 0; j < p->figures; j++)
            value[j] += z * i->sd[k] * i->direction[k][j] * p->trial->out->figure[j].before;
    }
    return sum + density(d);
}

/* The logarithm of the posterior but for what was known of the scatters; a reading counts as much
 * as its weight. `simulated`: not by the quadratic functions. */
static double likelihood(posterior *p, const double *value, bool simulated)
{
    slew_trial *t = p->trial;
    double sum = 0;
    if (!simulated)
        slew_quadratic_ask(&p->quadratic, value);
    else if (!slew_trial_ask(t, value, p->residual))
        return -INFINITY;
    slew_trial_whitened(t, value, p->residual);
    for (int i = 0; i < p->rows; i++)
        sum -= p->residual[i] * p->residual[i] / 2;
    for (int i = 0; i < t->out->readings; i++)
        sum += t->out->reading[i].weight *
               log(t->whitening[i].inverse[i - slew_trial_first(t->out, i)]);
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
        dice d = {.sample = SCATTERS + SAMPLES + (uint64_t)i, .wider = POINTS_WIDER};
        draw_figures(p, p->mode, &p->about, &d, value);
        added += is_within(p->trial, value) && slew_quadratic_add(&p->quadratic, value);
    }
    return added == points && slew_quadratic_solve(&p->quadratic);
}

/* returns the logarithm of its weight */
static double draw(posterior *p, double scatters, dice *d, double *value)
{
    double drawn = draw_figures(p, p->middle, &p->information, d, value);
    if (!is_within(p->trial, value))
        return -INFINITY;
    double weight = scatters + likelihood(p, value, false) - drawn;
    return weight > p->heavy ? scatters + likelihood(p, value, true) - drawn : weight;
}

/* with one draw of the scatters; false: memory is short */
static bool take(posterior *p, int scatter)
{
    double value[SLEW_FIT_MAX];
    dice d = throw(scatter);
    double scatters = draw_scatters(p, &d);
    if (!find_middle(p))
        return false;
    for (int i = scatter * WITH_EACH; i < (scatter + 1) * WITH_EACH; i++) {
        d = throw(SCATTERS + i);
        p->weight[i] = draw(p, scatters, &d, value);
        for (int j = 0; j < p->figures; j++)
            p->value[j * SAMPLES + i] = value[j];
    }
    return true;
}

/* the logarithm of the greatest weight of a normal posterior over that of its middle: at z^2 */
static double greatest(int figures)
{
    double n = figures, square = fmax((FREEDOM + n) / (WIDER * WIDER) - FREEDOM, 0);
    return (FREEDOM + n) / 2 * log1p(square / FREEDOM) - WIDER * WIDER * square / 2;
}

/* false: memory is short */
static bool take_all(posterior *p)
{
    double value[SLEW_FIT_MAX];
    dice most_likely = {.wider = 0}, and_figures = {.wider = 0};
    double scatters = draw_scatters(p, &most_likely);
    bool taken = find_middle(p);
    p->heavy = INFINITY;
    if (taken)
        p->heavy = draw(p, scatters, &and_figures, value) + greatest(p->figures) + HEAVY;
    for (int i = 0; i < SCATTERS && taken; i++)
        taken = take(p, i);
    return taken;
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

/* [residuals * figures] twice, residuals twice, and the samples with one more weight */
static double *get_room(posterior *p)
{
    size_t cells = (size_t)(p->rows * p->figures), samples = SAMPLES * (size_t)(p->figures + 2);
    double *room = malloc((2 * cells + 2 * (size_t)p->rows + samples) * sizeof *room);
    if (room == NULL)
        return NULL;
    p->derivative = room;
    p->jacobian = room + cells;
    p->residual = room + 2 * cells;
    p->at_mode = p->residual + p->rows;
    p->weight = p->at_mode + p->rows;
    p->value = p->weight + 2 * SAMPLES;
    return room;
}

/* false: memory is short */
static bool begin(posterior *p, const double *jacobian)
{
    slew_trial *t = p->trial;
    memcpy(p->scatter, t->scatter, sizeof p->scatter);
    memcpy(p->derivative, jacobian, (size_t)(p->rows * p->figures) * sizeof *jacobian);
    for (int j = 0; j < p->figures; j++)
        whiten(t, jacobian + j, p->figures, true, p->derivative + j);
    if (!slew_trial_ask(t, p->mode, p->residual))
        return false;
    memcpy(p->at_mode, t->residual, (size_t)t->out->readings * sizeof *p->at_mode);
    return slew_information_of(jacobian, p->rows, p->figures, NULL, 0, &p->about) &&
           slew_quadratic_open(&p->quadratic, t, p->mode, &p->about) == SLEW_OK;
}

static slew_status work_out(posterior *p)
{
    if (!learn(p))
        return SLEW_OK;
    if (!take_all(p))
        return SLEW_ERROR_MEMORY;
    double worth = weigh(p->weight);
    for (int j = 0; j < p->figures && worth > 0; j++)
        bound(p, j, worth >= LEAST_WORTH, p->weight + SAMPLES);
    return SLEW_OK;
}

slew_status slew_trial_posterior(slew_trial *t, const double *mode, const double *jacobian)
{
    posterior p = {
        .trial = t, .mode = mode, .rows = slew_trial_residuals(t), .figures = t->out->figures};
    double *room = get_room(&p);
    slew_status status = SLEW_ERROR_MEMORY;
    if (room != NULL && begin(&p, jacobian))
        status = work_out(&p);
    if (room != NULL) {
        memcpy(t->scatter, p.scatter, sizeof p.scatter);
        slew_trial_whiten(t);
    }
    slew_quadratic_close(&p.quadratic);
    free(room);
    return status;
}
