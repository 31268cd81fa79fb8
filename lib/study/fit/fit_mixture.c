/* fit_mixture.c - the law of total variance: a figure's is the mean of those with each of the
 * scatters, and of the squares of how far its middle moves with them. M12.4 */
#include "study/fit/fit_mixture.h"
#include "study/fit/fit_factor.h"
#include "study/fit/information.h"

slew_mixture slew_mixture_none(void)
{
    return (slew_mixture){.most = -INFINITY};
}

/* ---- adding ---- */

/* what was added weighs less beside a greater one */
static void outweigh(slew_mixture *m, double most)
{
    double factor = exp(m->most - most);
    m->most = most;
    m->sum *= factor;
    for (int k = 0; k < SLEW_FIT_MAX; k++)
        for (int l = 0; l < SLEW_FIT_MAX; l++)
            m->moment[k][l] *= factor;
}

/* of one distance from the most likely figures, in units of what was known before */
static void add_square(slew_mixture *m, const slew_given *g, double weight, const double *distance)
{
    const slew_information *about = &g->about;
    double along[SLEW_FIT_MAX] = {0};
    for (int k = 0; k < about->directions; k++)
        for (int j = 0; j < g->figures; j++)
            along[k] += about->direction[k][j] * distance[j] / about->sd[k];
    for (int k = 0; k < about->directions; k++)
        for (int l = 0; l < about->directions; l++)
            m->moment[k][l] += weight * along[k] * along[l];
}

void slew_mixture_add(slew_mixture *m, const slew_given *g, double logarithm)
{
    double distance[SLEW_FIT_MAX];
    if (!isfinite(logarithm))
        return;
    if (logarithm > m->most)
        outweigh(m, logarithm);
    double weight = exp(logarithm - m->most);
    m->sum += weight;
    for (int j = 0; j < g->figures; j++)
        distance[j] = (g->middle[j] - g->mode[j]) / g->trial->out->figure[j].before;
    add_square(m, g, weight, distance);
    for (int k = 0; k < g->information.directions; k++) {
        for (int j = 0; j < g->figures; j++)
            distance[j] = g->information.sd[k] * g->information.direction[k][j];
        add_square(m, g, weight, distance);
    }
}

/* ---- taking ---- */

/* Rows that make the moments white: the inverse of their lower factor times the directions over
 * their sds. */
bool slew_mixture_take(const slew_mixture *m, const slew_given *g, slew_information *out)
{
    const slew_information *about = &g->about;
    double lower[SLEW_FIT_MAX][SLEW_FIT_MAX], row[SLEW_FIT_MAX * SLEW_FIT_MAX];
    int n = about->directions;
    for (int k = 0; k < n; k++) {
        for (int j = 0; j < g->figures; j++)
            row[k * g->figures + j] = about->direction[k][j] / about->sd[k];
        for (int l = 0; l <= k; l++)
            lower[k][l] = m->moment[k][l] / m->sum;
    }
    if (!slew_lower_factor(&lower[0][0], n, SLEW_FIT_MAX, 0))
        return true;
    for (int j = 0; j < g->figures; j++)
        slew_lower_divide(&lower[0][0], n, SLEW_FIT_MAX, row + j, g->figures);
    return slew_information_of(row, n, g->figures, NULL, 0, out);
}
