/* fit_quadratic.c - the readings as quadratic functions of the figures, by least squares through
 * simulated points: a simulation takes a hundred times as long. Of a time it is the reciprocal, as
 * a speed is nearly linear in what drives and what brakes. M12.4 */
#include "study/fit/fit_quadratic.h"
#include "study/fit/fit_factor.h"

#include <stdlib.h>

/* what is left of a sum of squares after the terms before: less tells nothing */
static const double NOTHING_LEFT = 1e-12;

/* of an axis that hardly moves [1/s] */
static const double SLOWEST = 1e-6;

/* ---- terms ---- */

static bool is_time(const slew_quadratic *q, int reading)
{
    return q->trial->out->reading[reading].measure == SLEW_MEASURE_SECONDS;
}

static void fill_terms(const slew_quadratic *q, const double *value)
{
    double u[SLEW_FIT_MAX];
    int n = q->about->directions, at = 0;
    q->term[at++] = 1;
    for (int k = 0; k < n; k++) {
        u[k] = 0;
        for (int j = 0; j < n; j++)
            u[k] += q->about->direction[k][j] * (value[j] - q->mode[j]) /
                    q->trial->out->figure[j].before;
        q->term[at++] = u[k] /= q->about->sd[k];
    }
    for (int k = 0; k < n; k++)
        for (int l = 0; l <= k; l++)
            q->term[at++] = u[k] * u[l];
    for (int k = 0; k < n; k++)
        q->term[at++] = u[k] * u[k] * u[k];
}

slew_status slew_quadratic_open(slew_quadratic *q, slew_trial *t, const double *mode,
                                const slew_information *about)
{
    size_t n = (size_t)about->directions, terms = (n + 1) * (n + 2) / 2 + n;
    *q = (slew_quadratic){.trial = t, .mode = mode, .about = about, .terms = (int)terms};
    q->term = calloc(terms * (1 + terms + (size_t)t->out->readings), sizeof *q->term);
    if (q->term == NULL)
        return SLEW_ERROR_MEMORY;
    q->normal = q->term + terms;
    q->coefficient = q->normal + terms * terms;
    return SLEW_OK;
}

void slew_quadratic_close(slew_quadratic *q)
{
    free(q->term);
}

/* ---- least squares ---- */

static bool simulate(slew_quadratic *q, const double *value)
{
    slew_trial *t = q->trial;
    if (slew_trial_simulate(t, value, t->residual, NULL) != SLEW_OK)
        return false;
    for (int r = 0; r < t->out->readings; r++)
        if (is_time(q, r)) {
            if (!(t->residual[r] > 0))
                return false;
            t->residual[r] = 1 / t->residual[r];
        }
    return true;
}

bool slew_quadratic_add(slew_quadratic *q, const double *value)
{
    if (!simulate(q, value))
        return false;
    fill_terms(q, value);
    for (int a = 0; a < q->terms; a++)
        for (int b = 0; b <= a; b++)
            q->normal[a * q->terms + b] += q->term[a] * q->term[b];
    for (int r = 0; r < q->trial->out->readings; r++)
        for (int a = 0; a < q->terms; a++)
            q->coefficient[r * q->terms + a] += q->trial->residual[r] * q->term[a];
    return true;
}

static void solve(const double *lower, int n, double *x)
{
    slew_lower_divide(lower, n, n, x, 1);
    for (int a = n - 1; a >= 0; a--) {
        for (int k = a + 1; k < n; k++)
            x[a] -= lower[k * n + a] * x[k];
        x[a] /= lower[a * n + a];
    }
}

bool slew_quadratic_solve(slew_quadratic *q)
{
    if (!slew_lower_factor(q->normal, q->terms, q->terms, NOTHING_LEFT))
        return false;
    for (int r = 0; r < q->trial->out->readings; r++)
        solve(q->normal, q->terms, q->coefficient + r * q->terms);
    return true;
}

void slew_quadratic_ask(slew_quadratic *q, const double *value)
{
    fill_terms(q, value);
    for (int r = 0; r < q->trial->out->readings; r++) {
        double sum = 0;
        for (int a = 0; a < q->terms; a++)
            sum += q->coefficient[r * q->terms + a] * q->term[a];
        double simulated = is_time(q, r) ? 1 / fmax(sum, SLOWEST) : sum;
        q->trial->residual[r] = q->trial->out->reading[r].measured - simulated;
    }
}
