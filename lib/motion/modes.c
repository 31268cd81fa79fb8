/* modes.c - see modes.h. */
#include "motion/modes.h"

/* eigenvectors of the 2x2 damping matrix; its off-diagonal elements have one sign, so the rates are
 * real and different */
static void diagonalise(const double d[SLEW_AXES][SLEW_AXES], slew_modes *m)
{
    double half = (d[0][0] - d[1][1]) / 2, mean = (d[0][0] + d[1][1]) / 2;
    double root = sqrt(half * half + d[0][1] * d[1][0]);
    double far = half >= 0 ? half + root : half - root;
    m->rate[0] = half >= 0 ? mean + root : mean - root;
    m->rate[1] = half >= 0 ? mean - root : mean + root;
    m->out[0][0] = far, m->out[1][0] = d[1][0];
    m->out[0][1] = d[0][1], m->out[1][1] = -far;
    double determinant = -far * far - d[0][1] * d[1][0];
    m->in[0][0] = m->out[1][1] / determinant, m->in[0][1] = -m->out[0][1] / determinant;
    m->in[1][0] = -m->out[1][0] / determinant, m->in[1][1] = m->out[0][0] / determinant;
}

void slew_modes_find(const slew_plant *plant, slew_modes *m)
{
    const slew_dynamics *d = &plant->dynamics;
    bool both = plant->moving[0] && plant->moving[1];
    m->coupled = both && d->damping[0][1] != 0 && d->damping[1][0] != 0;
    for (int j = 0; j < SLEW_AXES; j++) {
        m->active[j] = plant->moving[j] != 0;
        m->rate[j] = d->damping[j][j];
    }
    if (m->coupled)
        diagonalise(d->damping, m);
    for (int j = 0; j < SLEW_AXES; j++)
        m->start[j] = slew_modes_in(m, j, plant->speed[0], plant->speed[1]);
}
