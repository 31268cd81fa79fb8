/* fit.c - figures of a truck from timed travels: the question put together, the answer worked out.
 */
#include "study/fit/fit_trial.h"
#include "study/fit/information.h"

#include <gsl/gsl_cdf.h>
#include <stdlib.h>
#include <string.h>

static const double CONFIDENCE = 0.95;

/* a direction whose sd is above this, of the figures' sizes, is not told: of one figure alone, and
 * of several, whose errors would then not be those of a linear model any more */
static const double BLURRED_ALONE = 1, BLURRED_TOGETHER = 0.3;

/* a share below this of the largest has no part in a direction */
static const double NO_PART = 0.3;

/* ---- how well the readings are met ---- */

static void compare_readings(slew_trial *t, const slew_least *least, double *simulated)
{
    slew_trial_simulate(t, least->parameter, simulated, NULL);
    for (int i = 0; i < t->out->readings; i++) {
        slew_fit_reading *r = &t->out->reading[i];
        r->simulated = simulated[i];
        r->off = (r->measured - r->simulated) / r->sd;
    }
}

static void sum_up(slew_trial *t, const slew_least *least)
{
    slew_fit *out = t->out;
    double weights = 0;
    out->chi_square = 0;
    for (int i = 0; i < out->readings; i++) {
        const slew_fit_reading *r = &out->reading[i];
        out->chi_square += r->weight * r->off * r->off;
        weights += r->weight;
    }
    out->freedom = weights - least->information.directions;
    bool free = out->freedom > 1e-9;
    if (!t->question->robust)
        out->scatter = free ? sqrt(out->chi_square / out->freedom) : NAN;
    out->chance =
        free && !t->question->robust ? gsl_cdf_chisq_Q(out->chi_square, out->freedom) : NAN;
    out->enlarged = !out->sds_given && out->scatter > 1 ? out->scatter : 1;
}

/* ---- how well the figures are known ---- */

/* less freedom than this bounds nothing, and is less than GSL's quantile can bear */
static const double LEAST_FREEDOM = 0.05;

/* from known sds the normal one; from the scatter Student's */
static double factor(const slew_fit *out)
{
    double p = 0.5 + CONFIDENCE / 2;
    if (out->enlarged > 1 && out->freedom < LEAST_FREEDOM)
        return INFINITY;
    return out->enlarged > 1 ? gsl_cdf_tdist_Pinv(p, out->freedom) : gsl_cdf_ugaussian_Pinv(p);
}

/* the interval ends where the key's range does */
static void fill_interval(slew_fit_figure *f, double half)
{
    const slew_key *key = f->key == SLEW_FIT_BIAS ? NULL : slew_key_at(f->key);
    f->low = f->value - half;
    f->high = f->value + half;
    if (key != NULL && isfinite(half)) {
        f->low = fmax(f->low, key->low);
        f->high = fmin(f->high, key->high);
    }
}

static void fill_figure(slew_fit *out, const slew_least *least, int j)
{
    slew_fit_figure *f = &out->figure[j];
    f->value = least->parameter[j];
    f->edge = least->edge[j];
    f->sd = f->low = f->high = NAN;
    if (f->edge != 0)
        return;
    f->sd = out->enlarged * f->size * sqrt(slew_information_covariance(&least->information, j, j));
    fill_interval(f, factor(out) * f->sd);
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

/* returns how many figures have a part in it */
static int fill_shares(double *share, const double *direction, int figures)
{
    double largest = 0;
    int parts = 0;
    for (int j = 0; j < figures; j++)
        largest = fmax(largest, fabs(direction[j]));
    for (int j = 0; j < figures; j++) {
        share[j] = fabs(direction[j]) < NO_PART * largest ? 0 : direction[j];
        parts += share[j] != 0;
    }
    return parts;
}

static void fill_blurs(slew_fit *out, const slew_information *information)
{
    for (int k = 0; k < information->directions; k++) {
        slew_fit_blur blur = {.sd = out->enlarged * information->sd[k]};
        int parts = fill_shares(blur.share, information->direction[k], out->figures);
        if (blur.sd > (parts > 1 ? BLURRED_TOGETHER : BLURRED_ALONE))
            out->blur[out->blurs++] = blur;
    }
}

/* ---- the next reading ---- */

/* where the readings don't tell the figures apart, what they were fitted to means little */
static void weigh_figures(slew_fit *out)
{
    for (int j = 0; j < out->figures; j++) {
        slew_fit_figure *f = &out->figure[j];
        f->weighed = out->blurs == 0 ? fmax(f->size, fabs(f->value)) : f->size;
    }
}

/* asked where it was found that they can't be told apart */
static void propose(slew_trial *t, const slew_least *least, bool at_start)
{
    slew_least start = *least;
    start.information = t->at_start;
    for (int j = 0; j < t->out->figures; j++)
        start.parameter[j] = t->out->figure[j].start;
    slew_trial_propose(t, at_start ? &start : least);
}

/* ---- all of it ---- */

static void conclude(slew_trial *t, const slew_least *least, double *room)
{
    slew_fit *out = t->out;
    compare_readings(t, least, room);
    sum_up(t, least);
    for (int j = 0; j < out->figures; j++)
        fill_figure(out, least, j);
    fill_correlations(out, &least->information);
    out->condition = slew_information_condition(&least->information);
    fill_blurs(out, &t->at_start); /* whatever is told where the fit has wandered to from there */
    bool blurred_at_start = out->blurs > 0;
    if (!blurred_at_start)
        fill_blurs(out, &least->information);
    out->steps = least->steps;
    weigh_figures(out);
    propose(t, least, blurred_at_start);
}

static slew_status run(slew_trial *t, double *room, slew_error *error)
{
    slew_least least;
    slew_status status = slew_trial_take_keys(t, error);
    if (status == SLEW_OK)
        status = slew_trial_take_rows(t, error);
    if (status == SLEW_OK)
        status = slew_trial_fit(t, &least, error);
    if (status == SLEW_OK)
        conclude(t, &least, room);
    return status;
}

slew_status slew_fit_run(const slew_scenario *scenario, const slew_fit_question *question,
                         slew_fit *out, slew_error *error)
{
    double *room = malloc(SLEW_READINGS_MAX * sizeof *room);
    slew_trial t = {.question = question, .work = malloc(sizeof *t.work), .out = out};
    slew_status status = SLEW_ERROR_MEMORY;
    memset(out, 0, sizeof *out);
    if (t.work != NULL && room != NULL) {
        *t.work = *scenario;
        status = run(&t, room, error);
    }
    free(t.work);
    free(room);
    return status;
}
