/*
 * fit_robust.c - least squares, and the same with readings that lie far off counting less.
 *
 * Iteratively reweighted least squares, P. W. Holland and R. E. Welsch, Commun. Stat. A 6 (1977)
 * 813-827: Huber's weights first, which lead to one answer from any start, then Tukey's bisquare,
 * which takes no notice of what lies far off; both as GSL's multifit_robust has them, with its
 * tuning constants 1.345 and 4.685 (95 % as efficient as plain least squares when no reading is
 * bad). Residuals are taken in sds, divided by sqrt(1 - leverage); where their scatter (median of
 * the absolute residuals without the smallest, one for each figure, over 0.6745) is above 1, by
 * that too.
 */
#include "study/fit/fit_trial.h"
#include "study/fit/information.h"

#include "error/error.h"

#include <gsl/gsl_multifit.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <stdlib.h>

enum { ROUNDS_MAX = 100 };

static const double MAD_OF_NORMAL = 0.6745; /* of a standard normal */
static const double LAST_CHANGE = 1e-3;     /* of a weight: a smaller one is none */
static const double FIRST_CHANGE = 3e-2;    /* the same for a place to start from */
static const double LEVERAGE_MAX = 0.9999;

/* ---- plain ---- */

static slew_least_squares problem_of(slew_trial *t, double *scale)
{
    for (int j = 0; j < t->out->figures; j++)
        scale[j] = t->out->figure[j].size;
    return (slew_least_squares){.residuals = t->out->readings,
                                .parameters = t->out->figures,
                                .ask = slew_trial_ask,
                                .context = t,
                                .scale = scale,
                                .low = t->low,
                                .high = t->high,
                                .precision = SLEW_FIT_PRECISION};
}

static void starts(const slew_trial *t, double *start)
{
    for (int j = 0; j < t->out->figures; j++)
        start[j] = t->out->figure[j].start;
}

/* ---- robust ---- */

typedef struct weighing {
    slew_least_squares problem;
    int n;
    double *weight, *fresh, *residual, *leverage, *sorted, *jacobian;
    double scatter;
} weighing;

static bool open(weighing *w, slew_trial *t, double *scale)
{
    size_t n = (size_t)t->out->readings;
    *w = (weighing){.problem = problem_of(t, scale), .n = t->out->readings};
    w->weight = calloc(n * (size_t)(5 + t->out->figures), sizeof *w->weight);
    if (w->weight == NULL)
        return false;
    w->fresh = w->weight + n;
    w->residual = w->fresh + n;
    w->leverage = w->residual + n;
    w->sorted = w->leverage + n;
    w->jacobian = w->sorted + n;
    w->problem.weight = w->weight;
    return true;
}

/* each residual's leverage in the fit without weights */
static bool fill_leverage(weighing *w, const slew_least *least)
{
    slew_information i;
    int p = w->problem.parameters;
    if (!slew_information_of(w->jacobian, w->n, p, least->information.fixed, 0, &i))
        return false;
    for (int r = 0; r < w->n; r++) {
        double sum = 0;
        for (int k = 0; k < i.directions; k++) {
            double along = 0;
            for (int j = 0; j < p; j++)
                along += w->jacobian[r * p + j] * i.direction[k][j];
            sum += isfinite(i.sd[k]) ? along * along * i.sd[k] * i.sd[k] : 0;
        }
        w->leverage[r] = sum < LEVERAGE_MAX ? sum : LEVERAGE_MAX;
    }
    return true;
}

/* residuals as they are weighed: *fresh, and their scatter */
static void standardise(weighing *w)
{
    int skip = w->problem.parameters < w->n ? w->problem.parameters : 0;
    for (int r = 0; r < w->n; r++) {
        w->fresh[r] = w->residual[r] / sqrt(1 - w->leverage[r]);
        w->sorted[r] = fabs(w->fresh[r]);
    }
    gsl_sort(w->sorted, 1, (size_t)w->n);
    w->scatter = gsl_stats_median_from_sorted_data(w->sorted + skip, 1, (size_t)(w->n - skip)) /
                 MAD_OF_NORMAL;
}

/* new weights; returns the largest change */
static double reweigh(weighing *w, const gsl_multifit_robust_type *rule)
{
    double change = 0;
    standardise(w);
    double unit = rule->tuning_default * fmax(1, w->scatter);
    for (int r = 0; r < w->n; r++)
        w->sorted[r] = w->fresh[r] / unit;
    gsl_vector_const_view u = gsl_vector_const_view_array(w->sorted, (size_t)w->n);
    gsl_vector_view v = gsl_vector_view_array(w->fresh, (size_t)w->n);
    rule->wfun(&u.vector, &v.vector);
    for (int r = 0; r < w->n; r++) {
        change = fmax(change, fabs(w->fresh[r] - w->weight[r]));
        w->weight[r] = w->fresh[r];
    }
    return change;
}

/* from the values in `least` on */
static slew_status repeat(weighing *w, const gsl_multifit_robust_type *rule, double small,
                          slew_least *least, slew_error *error)
{
    for (int round = 0; round < ROUNDS_MAX; round++) {
        double start[SLEW_FIT_MAX];
        int steps = least->steps;
        if (reweigh(w, rule) < small && round > 0)
            return SLEW_OK;
        for (int j = 0; j < w->problem.parameters; j++)
            start[j] = least->parameter[j];
        slew_status status =
            slew_least_squares_run(&w->problem, start, least, w->residual, w->jacobian, error);
        least->steps += steps;
        if (status != SLEW_OK)
            return status;
        if (!fill_leverage(w, least))
            return SLEW_ERROR_MEMORY;
    }
    return slew_refuse(error, "", "the weights of a robust fit do not settle",
                       "a fit without robust, or fewer keys");
}

static slew_status fit_robust(slew_trial *t, slew_least *least, slew_error *error)
{
    double scale[SLEW_FIT_MAX];
    weighing w;
    if (!open(&w, t, scale))
        return SLEW_ERROR_MEMORY;
    *least = (slew_least){.steps = 0};
    starts(t, least->parameter);
    slew_trial_ask(t, least->parameter, w.residual);
    slew_status status = repeat(&w, gsl_multifit_robust_huber, FIRST_CHANGE, least, error);
    if (status == SLEW_OK)
        status = repeat(&w, gsl_multifit_robust_bisquare, LAST_CHANGE, least, error);
    for (int i = 0; i < w.n; i++)
        t->out->reading[i].weight = w.weight[i];
    t->out->scatter = w.scatter;
    free(w.weight);
    return status;
}

slew_status slew_trial_fit(slew_trial *t, slew_least *least, slew_error *error)
{
    double scale[SLEW_FIT_MAX], start[SLEW_FIT_MAX];
    if (t->question->robust)
        return fit_robust(t, least, error);
    const slew_least_squares problem = problem_of(t, scale);
    starts(t, start);
    return slew_least_squares_run(&problem, start, least, NULL, NULL, error);
}
