/* fit_mixture.c - the law of total variance: a figure's is the mean of those with each of the
 * scatters, and of the squares of how far its middle moves with them. M12.4 */
#include "study/fit/fit_mixture.h"
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
    for (int k = 0; k < about->directions; k++) {
        double *own = row + k * g->figures;
        for (int j = 0; j < g->figures; j++)
            own[j] = about->direction[k][j] / about->sd[k];
        for (int l = 0; l <= k; l++) {
            double rest = m->moment[k][l] / m->sum;
            for (int i = 0; i < l; i++)
                rest -= lower[k][i] * lower[l][i];
            if (l == k && !(rest > 0))
                return true;
            lower[k][l] = l == k ? sqrt(rest) : rest / lower[l][l];
            for (int j = 0; j < g->figures; j++)
                own[j] =
                    l == k ? own[j] / lower[k][k] : own[j] - lower[k][l] * row[l * g->figures + j];
        }
    }
    return slew_information_of(row, about->directions, g->figures, NULL, 0, out);
}
