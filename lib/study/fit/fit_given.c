/*
 * fit_given.c - scatters, and the figures with them: M12.4
 *
 * The logarithms of the scatters are those of Student's t, each by itself, at the points of a
 * lattice, N. M. Korobov, Dokl. Akad. Nauk SSSR 124 (1959) 1207-1210.
 */
#include "study/fit/fit_given.h"
#include "study/fit/information.h"

#include <gsl/gsl_cdf.h>
#include <stdlib.h>
#include <string.h>

/* t's degrees of freedom, and by how much its sd is larger than the scatter's own: what is drawn
 * from has to reach further than what is asked for */
static const double FREEDOM = 8, WIDER = 1.1;

/* The lattice's, odd: every scatter alone has evenly spaced points. Of all such this one has the
 * least P_2 for the worst pair and the worst three of five. */
enum { MULTIPLIER = 19 };

/* ---- room ---- */

/* a column of the readings' derivatives as it was before it was whitened as they are now */
static void blacken(const slew_trial *t, const double *from, int stride, double *to)
{
    for (int i = 0; i < t->out->readings; i++) {
        int first = slew_trial_first(t->out, i);
        const double *inverse = t->whitening[i].inverse;
        double sum = 0;
        for (int k = first; k < i; k++)
            sum += inverse[k - first] * to[k * stride];
        to[i * stride] = (from[i * stride] - sum) / inverse[i - first];
    }
}

slew_status slew_given_open(slew_given *g, slew_trial *t, const double *mode,
                            const double *jacobian, const slew_information *about)
{
    int rows = slew_trial_residuals(t), figures = t->out->figures;
    size_t n = (size_t)rows, cells = n * (size_t)figures;
    *g = (slew_given){.trial = t, .rows = rows, .figures = figures, .mode = mode, .about = *about};
    memcpy(g->scatter, t->scatter, sizeof g->scatter);
    g->jacobian = malloc((2 * cells + 2 * n) * sizeof *g->jacobian);
    if (g->jacobian == NULL)
        return SLEW_ERROR_MEMORY;
    g->derivative = g->jacobian + cells;
    g->residual = g->derivative + cells;
    g->at_mode = g->residual + n;
    memcpy(g->derivative, jacobian, cells * sizeof *jacobian);
    for (int j = 0; j < figures; j++)
        blacken(t, jacobian + j, figures, g->derivative + j);
    if (!slew_trial_ask(t, mode, g->residual))
        return SLEW_ERROR_MEMORY;
    memcpy(g->at_mode, t->residual, (size_t)t->out->readings * sizeof *g->at_mode);
    return SLEW_OK;
}

void slew_given_close(slew_given *g)
{
    memcpy(g->trial->scatter, g->scatter, sizeof g->scatter);
    slew_trial_whiten(g->trial);
    free(g->jacobian);
}

/* ---- scatters ---- */

/* *power: that of the multiplier, modulo the number of points */
static double score(int i, int *power, double *density)
{
    double unit = (i * *power % SLEW_GIVEN_DRAWS + 0.5) / SLEW_GIVEN_DRAWS;
    double t = i == SLEW_GIVEN_MODE ? 0 : gsl_cdf_tdist_Pinv(unit, FREEDOM);
    *power = *power * MULTIPLIER % SLEW_GIVEN_DRAWS;
    *density = -(FREEDOM + 1) / 2 * log1p(t * t / FREEDOM);
    return WIDER * t;
}

static double draw_scatters(slew_given *g, int i)
{
    slew_trial *t = g->trial;
    double sum = 0;
    int power = 1;
    for (int m = 0; m < SLEW_INSTRUMENTS; m++) {
        const slew_fit_scatter *own = &t->out->instrument[m];
        if (own->readings == 0)
            continue;
        double density, z = score(i, &power, &density);
        double s = g->scatter[m] * exp(z / sqrt(2 * (SLEW_SCATTER_WORTH + own->worth)));
        sum -= SLEW_SCATTER_WORTH * (log(s) + 1 / (2 * s * s)) + density;
        t->scatter[m] = s;
    }
    slew_trial_whiten(t);
    return sum;
}

/* ---- figures ---- */

/* one step from those that are most likely of all, within their ranges */
static void find_middle(slew_given *g)
{
    const slew_trial *t = g->trial;
    double step[SLEW_FIT_MAX];
    slew_information_step(&g->information, g->jacobian, g->residual, g->rows, step);
    for (int j = 0; j < g->figures; j++) {
        double moved = g->mode[j] + step[j] * t->out->figure[j].before;
        g->middle[j] = fmax(fmin(moved, t->high[j]), t->low[j]);
    }
}

bool slew_given_draw(slew_given *g, int i, double *weight)
{
    slew_trial *t = g->trial;
    *weight = draw_scatters(g, i);
    memcpy(g->jacobian, g->derivative, (size_t)(g->rows * g->figures) * sizeof *g->jacobian);
    for (int j = 0; j < g->figures; j++)
        slew_trial_whiten_column(t, g->derivative + j, g->figures, g->jacobian + j);
    memcpy(t->residual, g->at_mode, (size_t)t->out->readings * sizeof *g->at_mode);
    slew_trial_whitened(t, g->mode, g->residual);
    if (!slew_information_of(g->jacobian, g->rows, g->figures, NULL, 0, &g->information))
        return false;
    find_middle(g);
    return true;
}

/* Laplace's approximation at the middle, in straight lines from the mode. */
double slew_given_evidence(const slew_given *g)
{
    const slew_fit *out = g->trial->out;
    double sum = 0;
    for (int i = 0; i < g->rows; i++) {
        double residual = g->residual[i];
        for (int j = 0; j < g->figures; j++)
            residual += g->jacobian[i * g->figures + j] * (g->middle[j] - g->mode[j]) /
                        out->figure[j].before;
        sum -= residual * residual / 2;
    }
    for (int k = 0; k < g->information.directions; k++)
        sum += log(g->information.sd[k]);
    return sum + slew_trial_density(g->trial);
}
