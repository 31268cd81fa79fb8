/* fit.c - figures of a truck from timed travels: the question put together, the answer worked out.
 */
#include "error/error.h"
#include "keys/sound.h"
#include "study/fit/fit_trial.h"
#include "study/fit/information.h"

#include <gsl/gsl_cdf.h>
#include <stdlib.h>
#include <string.h>

static const double CONFIDENCE = 0.95;

/* of a direction less than half of the variance has been taken away */
static const double BLURRED = 0.70710678118654752;

/* a share below this of the largest has no part in a direction */
static const double NO_PART = 0.3;

/* ---- how well the readings are met ---- */

static void compare_readings(slew_trial *t, const slew_least *least, double *simulated)
{
    slew_trial_simulate(t, least->parameter, simulated, NULL);
    for (int i = 0; i < t->out->readings; i++) {
        slew_fit_reading *r = &t->out->reading[i];
        int at = i - slew_trial_first(t->out, i);
        r->simulated = simulated[i];
        r->total = hypot(r->sd, sqrt(t->by_supply[i][at] + t->by_others[i][at]));
        r->off = (r->measured - r->simulated) / r->total;
        t->out->instrument[slew_trial_instrument(t, r)].readings++;
        t->out->instrument[slew_trial_instrument(t, r)].scatter =
            t->scatter[slew_trial_instrument(t, r)];
    }
}

/* with the sds as they were assumed: the scatters are undone */
static slew_status sum_up(slew_trial *t, const slew_least *least, double *room)
{
    slew_fit *out = t->out;
    out->chi_square = out->freedom = 0;
    for (int i = 0; i < out->readings; i++)
        out->freedom += out->reading[i].weight;
    for (int m = 0; m < SLEW_INSTRUMENTS; m++)
        t->scatter[m] = 1;
    slew_trial_whiten(t);
    if (!slew_trial_ask(t, least->parameter, room))
        return SLEW_OK;
    for (int i = 0; i < slew_trial_residuals(t); i++)
        out->chi_square += room[i] * room[i];
    out->chance = t->question->robust ? NAN : gsl_cdf_chisq_Q(out->chi_square, out->freedom);
    return out->chance < SLEW_FIT_CHANCE ? slew_trial_accuse(t, least) : SLEW_OK;
}

/* ---- how well the figures are known ---- */

/* less freedom than this bounds nothing, and is less than GSL's quantile can bear */
static const double LEAST_FREEDOM = 1;

/* Student's; it ends where the key's range does */
static void fill_interval(slew_trial *t, const slew_least *least,
                          const slew_information *information, int j, double freedom)
{
    slew_fit_figure *f = &t->out->figure[j];
    double p = 0.5 + CONFIDENCE / 2;
    double factor = freedom < 1e6 ? gsl_cdf_tdist_Pinv(p, fmax(freedom, LEAST_FREEDOM))
                                  : gsl_cdf_ugaussian_Pinv(p);
    double reach = factor * f->before * sqrt(slew_information_covariance(information, j, j));
    f->value = least->parameter[j];
    f->edge = least->edge[j];
    f->low = fmax(f->value - reach, t->low[j]);
    f->high = fmin(f->value + reach, t->high[j]);
}

/* of the most likely scatters */
static void fill_intervals(slew_trial *t, const slew_least *least,
                           const slew_information *information, const double *jacobian)
{
    double freedom[SLEW_FIT_MAX];
    slew_trial_freedom(t, information, jacobian, freedom);
    for (int j = 0; j < t->out->figures; j++)
        fill_interval(t, least, information, j, freedom[j]);
}

static void fill_errors(slew_fit *out, const slew_information *information)
{
    for (int j = 0; j < out->figures; j++) {
        slew_fit_figure *f = &out->figure[j];
        double variance = slew_information_covariance(information, j, j);
        f->sd = f->before * sqrt(variance);
        f->told = fmax(1 - variance, 0);
    }
}

static void fill_correlations(slew_fit *out, const slew_information *information)
{
    for (int a = 0; a < out->figures; a++)
        for (int b = 0; b < out->figures; b++)
            out->correlation[a][b] = a == b
                                         ? 1
                                         : slew_information_covariance(information, a, b) /
                                               sqrt(slew_information_covariance(information, a, a) *
                                                    slew_information_covariance(information, b, b));
}

/* ---- what can't be told apart ---- */

static void fill_shares(double *share, const double *direction, int figures)
{
    double largest = 0;
    for (int j = 0; j < figures; j++)
        largest = fmax(largest, fabs(direction[j]));
    for (int j = 0; j < figures; j++)
        share[j] = fabs(direction[j]) < NO_PART * largest ? 0 : direction[j];
}

/* The figures asked for, whatever the others are: the posterior's directions cut down to them have
 * the sds of their own posterior as singular values. */
static slew_status fill_blurs(slew_fit *out, const slew_information *all)
{
    double rows[SLEW_FIT_MAX * SLEW_FIT_MAX];
    slew_information own;
    int asked = 0;
    while (asked < out->figures && out->figure[asked].asked)
        asked++;
    for (int k = 0; k < all->directions; k++)
        for (int j = 0; j < asked; j++)
            rows[k * asked + j] = all->direction[k][j] * all->sd[k];
    if (!slew_information_of(rows, all->directions, asked, NULL, 0, &own))
        return SLEW_ERROR_MEMORY;
    for (int k = own.directions - 1; k >= 0 && 1 / own.sd[k] > BLURRED; k--) {
        slew_fit_blur *blur = &out->blur[out->blurs++];
        blur->sd = 1 / own.sd[k];
        fill_shares(blur->share, own.direction[k], asked);
    }
    return SLEW_OK;
}

/* ---- all of it ---- */

static slew_status conclude(slew_trial *t, slew_least *least, const double *jacobian, double *room)
{
    slew_fit *out = t->out;
    slew_information all; /* of a figure at its edge too */
    if (!slew_information_of(jacobian, slew_trial_residuals(t), out->figures, NULL, 0, &all))
        return SLEW_ERROR_MEMORY;
    compare_readings(t, least, room);
    fill_intervals(t, least, &all, jacobian);
    if (slew_trial_posterior(t, least->parameter, jacobian, &all) != SLEW_OK)
        return SLEW_ERROR_MEMORY;
    fill_errors(out, &all);
    fill_correlations(out, &all);
    out->steps = least->steps;
    least->information = all;
    slew_trial_propose(t, least);
    slew_status status = fill_blurs(out, &all);
    return status == SLEW_OK ? sum_up(t, least, room) : status;
}

static slew_status run(slew_trial *t, slew_error *error)
{
    slew_least least;
    slew_status status = slew_trial_take_keys(t, error);
    if (status == SLEW_OK)
        status = slew_trial_take_rows(t, error);
    if (status != SLEW_OK)
        return status;
    size_t n = (size_t)slew_trial_residuals(t);
    double *room = calloc(n * (size_t)(1 + t->out->figures), sizeof *room);
    if (room == NULL)
        return SLEW_ERROR_MEMORY;
    status = slew_trial_fit(t, &least, room + n, error);
    if (status == SLEW_OK)
        status = conclude(t, &least, room + n, room);
    free(room);
    return status;
}

slew_status slew_fit_run(const slew_scenario *scenario, const slew_fit_question *question,
                         slew_fit *out, slew_error *error)
{
    if (question == NULL || out == NULL || question->timings == NULL)
        return slew_no_argument(error);
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
    if (question->timings->count < 0 || question->timings->count > SLEW_TIMINGS_MAX)
        return slew_no_number(error);
    slew_trial *t = calloc(1, sizeof *t);
    slew_status status = SLEW_ERROR_MEMORY;
    memset(out, 0, sizeof *out);
    if (t != NULL && (t->work = malloc(sizeof *t->work)) != NULL) {
        *t->work = *scenario;
        t->question = question;
        t->out = out;
        for (int m = 0; m < SLEW_INSTRUMENTS; m++)
            t->scatter[m] = 1;
        status = run(t, error);
    }
    if (t != NULL)
        free(t->work);
    free(t);
    return status;
}
