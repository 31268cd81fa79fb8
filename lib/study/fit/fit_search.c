/*
 * fit_search.c - the most likely figures: least squares, with scatters and weights that follow from
 * the residuals, round by round. M12.3 to M12.5
 *
 * Robust weights by iteratively reweighted least squares, P. W. Holland and R. E. Welsch, Commun.
 * Stat. A 6 (1977) 813-827: Huber's first, which lead to one answer from any start, then Tukey's
 * bisquare, which takes no notice of what lies far off; both as GSL's multifit_robust has them,
 * with its tuning constants 1.345 and 4.685 (95 % as efficient as plain least squares when no
 * reading is bad).
 */
#include "study/fit/fit_trial.h"
#include "study/fit/information.h"

#include <gsl/gsl_multifit.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <stdlib.h>
#include <string.h>

enum { ROUNDS_MAX = 40 };

static const double MAD_OF_NORMAL = 0.6745; /* of a standard normal */
static const double LAST_CHANGE = 3e-3;     /* of a scatter or weight: a smaller one is none */
static const double FIRST_CHANGE = 3e-2;    /* the same for a place to start from */
static const double LEVERAGE_MAX = 0.9999;

typedef struct search {
    slew_trial *trial;
    slew_least_squares problem;
    double *residual, *leverage, *sorted; /* of the readings */
    double *jacobian;
} search;

/* ---- leverage ---- */

/* the share of each whitened residual that the figures take up */
static bool fill_leverage(search *s)
{
    slew_information i;
    int p = s->problem.parameters;
    if (!slew_information_of(s->jacobian, s->problem.residuals, p, NULL, 0, &i))
        return false;
    for (int r = 0; r < s->trial->out->readings; r++) {
        double sum = 0;
        for (int k = 0; k < i.directions; k++) {
            double along = 0;
            for (int j = 0; j < p; j++)
                along += s->jacobian[r * p + j] * i.direction[k][j];
            sum += along * along * i.sd[k] * i.sd[k];
        }
        s->leverage[r] = fmin(sum, LEVERAGE_MAX);
    }
    return true;
}

/* ---- scatter ---- */

/* off by so many sds, without its leverage and its weight */
static double standardised(const search *s, int r)
{
    const slew_trial *t = s->trial;
    double weight = t->out->reading[r].weight;
    return fabs(s->residual[r]) / sqrt((1 - s->leverage[r]) * fmax(weight, 1e-6));
}

/* mean square of an instrument's residuals, in present sds, and what that is worth */
static double mean_square(const search *s, int instrument, double *worth)
{
    const slew_trial *t = s->trial;
    double sum = 0;
    *worth = 0;
    for (int r = 0; r < t->out->readings; r++)
        if (slew_trial_instrument(t, &t->out->reading[r]) == instrument) {
            sum += s->residual[r] * s->residual[r];
            *worth += 1 - s->leverage[r];
        }
    return *worth > 0 ? sum / *worth : 1;
}

/* the same by the median, of which a few bad ones make no difference */
static double median_square(const search *s, int instrument, double *worth)
{
    const slew_trial *t = s->trial;
    size_t n = 0;
    *worth = 0;
    for (int r = 0; r < t->out->readings; r++)
        if (slew_trial_instrument(t, &t->out->reading[r]) == instrument) {
            s->sorted[n++] = standardised(s, r);
            *worth += 1 - s->leverage[r];
        }
    if (n == 0)
        return 1;
    gsl_sort(s->sorted, 1, n);
    double median = gsl_stats_median_from_sorted_data(s->sorted, 1, n) / MAD_OF_NORMAL;
    return median * median;
}

/* the scatter that is most likely with its inverse gamma distribution; returns the largest change
 */
static double rescatter(search *s)
{
    slew_trial *t = s->trial;
    double change = 0;
    for (int m = 0; m < SLEW_INSTRUMENTS; m++) {
        double worth, before = t->scatter[m];
        double square =
            t->question->robust ? median_square(s, m, &worth) : mean_square(s, m, &worth);
        t->out->instrument[m].worth = worth;
        t->scatter[m] = sqrt((SLEW_SCATTER_WORTH + square * before * before * worth) /
                             (SLEW_SCATTER_WORTH + worth));
        change = fmax(change, fabs(t->scatter[m] - before) / before);
    }
    return change;
}

/* ---- weights ---- */

static double reweigh(search *s, const gsl_multifit_robust_type *rule)
{
    slew_fit *out = s->trial->out;
    double change = 0;
    for (int r = 0; r < out->readings; r++) {
        double u = standardised(s, r) / rule->tuning_default, fresh = 1;
        gsl_vector_view from = gsl_vector_view_array(&u, 1), to = gsl_vector_view_array(&fresh, 1);
        rule->wfun(&from.vector, &to.vector);
        change = fmax(change, fabs(fresh - out->reading[r].weight));
        out->reading[r].weight = fresh;
    }
    return change;
}

/* ---- rounds ---- */

static bool begin(search *s, slew_trial *t, double *jacobian, double *scale)
{
    size_t n = (size_t)slew_trial_residuals(t);
    for (int j = 0; j < t->out->figures; j++)
        scale[j] = t->out->figure[j].before;
    *s = (search){.trial = t, .jacobian = jacobian};
    s->problem = (slew_least_squares){.residuals = (int)n,
                                      .parameters = t->out->figures,
                                      .ask = slew_trial_ask,
                                      .context = t,
                                      .scale = scale,
                                      .low = t->low,
                                      .high = t->high,
                                      .precision = SLEW_FIT_PRECISION};
    s->residual = calloc(3 * n, sizeof *s->residual);
    if (s->residual == NULL)
        return false;
    s->leverage = s->residual + n;
    s->sorted = s->leverage + n;
    return true;
}

/* one search from the values in `least` on */
static slew_status descend(search *s, slew_least *least, slew_error *error)
{
    double start[SLEW_FIT_MAX];
    int steps = least->steps;
    for (int j = 0; j < s->problem.parameters; j++)
        start[j] = least->parameter[j];
    slew_trial_conditions(s->trial, start);
    slew_trial_whiten(s->trial);
    slew_status status =
        slew_least_squares_run(&s->problem, start, least, s->residual, s->jacobian, error);
    least->steps += steps;
    return status == SLEW_OK && !fill_leverage(s) ? SLEW_ERROR_MEMORY : status;
}

/* until scatters, and weights by the rule, stay; what has not settled by then will do */
static slew_status repeat(search *s, const gsl_multifit_robust_type *rule, double small,
                          slew_least *least, slew_error *error)
{
    slew_status status = SLEW_OK;
    double change = INFINITY;
    for (int round = 0; round < ROUNDS_MAX && change > small && status == SLEW_OK; round++) {
        change = rescatter(s);
        if (rule != NULL)
            change = fmax(change, reweigh(s, rule));
        status = descend(s, least, error);
    }
    return status;
}

slew_status slew_trial_fit(slew_trial *t, slew_least *least, double *jacobian, slew_error *error)
{
    double scale[SLEW_FIT_MAX];
    search s;
    if (!begin(&s, t, jacobian, scale))
        return SLEW_ERROR_MEMORY;
    *least = (slew_least){.steps = 0};
    memcpy(least->parameter, t->start, sizeof least->parameter);
    slew_status status = descend(&s, least, error);
    if (status == SLEW_OK && t->question->robust)
        status = repeat(&s, gsl_multifit_robust_huber, FIRST_CHANGE, least, error);
    if (status == SLEW_OK)
        status = repeat(&s, t->question->robust ? gsl_multifit_robust_bisquare : NULL, LAST_CHANGE,
                        least, error);
    free(s.residual);
    return status;
}

/* ---- degrees of freedom ---- */

/* Of the variance of each figure a part comes from each instrument, whose scatter is known by so
 * many readings (F. E. Satterthwaite, Biometrics Bull. 2 (1946) 110-114), and one from what was
 * known before. */
void slew_trial_freedom(const slew_trial *t, const slew_information *information,
                        const double *jacobian, double freedom[SLEW_FIT_MAX])
{
    int p = t->out->figures;
    double worth[SLEW_INSTRUMENTS], part[SLEW_INSTRUMENTS];
    for (int m = 0; m < SLEW_INSTRUMENTS; m++)
        worth[m] = SLEW_SCATTER_WORTH + t->out->instrument[m].worth;
    for (int j = 0; j < p; j++) {
        double total = slew_information_covariance(information, j, j), square = 0;
        for (int m = 0; m < SLEW_INSTRUMENTS; m++)
            part[m] = 0;
        for (int r = 0; r < t->out->readings; r++) {
            double pull = 0;
            for (int k = 0; k < p; k++)
                pull += slew_information_covariance(information, j, k) * jacobian[r * p + k];
            part[slew_trial_instrument(t, &t->out->reading[r])] += pull * pull;
        }
        for (int m = 0; m < SLEW_INSTRUMENTS; m++)
            square += part[m] * part[m] / worth[m];
        freedom[j] = square > 0 ? total * total / square : INFINITY;
    }
}
