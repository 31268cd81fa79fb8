/* step.c - reading a step; see step.h. */
#include "motion/step.h"

const double slew_node[SLEW_NODES] = {0,
                                      0.049515566048790434,
                                      0.18825509907063323,
                                      0.38873953302184278,
                                      0.61126046697815717,
                                      0.8117449009293668,
                                      0.95048443395120952,
                                      1};

double slew_step_decay(double rate, double since)
{
    return rate > 0 && rate * since < 45 ? exp(-rate * since) : 0;
}

_Static_assert(SLEW_STEP_DEGREE == 7, "the polynomials below are those of degree 7");

/* in pairs (Estrin's scheme): short chains of dependent operations */
static double polynomial_7(const double c[8], double x, double x2, double x4)
{
    return ((c[0] + c[1] * x) + (c[2] + c[3] * x) * x2) +
           ((c[4] + c[5] * x) + (c[6] + c[7] * x) * x2) * x4;
}

static double speed_at(const double c[SLEW_STEP_DEGREE + 2], double x, double x2, double x4)
{
    return polynomial_7(c, x, x2, x4) + c[8] * (x4 * x4);
}

static double angle_at(const double c[SLEW_STEP_DEGREE + 3], double x, double x2, double x4)
{
    return polynomial_7(c, x, x2, x4) + (c[8] + c[9] * x) * (x4 * x4);
}

static double slope_at(const double c[SLEW_STEP_DEGREE + 2], double x, double x2, double x4)
{
    return ((c[1] + 2 * c[2] * x) + (3 * c[3] + 4 * c[4] * x) * x2) +
           ((5 * c[5] + 6 * c[6] * x) + (7 * c[7] + 8 * c[8] * x) * x2) * x4;
}

static double change_of_axis(const slew_step *step, int j, double x, const double e[SLEW_AXES])
{
    double amplitude = step->amplitude[j][j] + step->amplitude_rate[j] * x * step->length;
    double change = slope_at(step->speed[j], x, x * x, x * x * x * x) / step->length -
                    (step->rate[j] * amplitude - step->amplitude_rate[j]) * e[j];
    return step->coupled ? change - step->rate[!j] * step->amplitude[j][!j] * e[!j] : change;
}

void slew_step_at(const slew_step *step, double since, double speed[SLEW_AXES],
                  double angle[SLEW_AXES], double change[SLEW_AXES])
{
    double x = since / step->length, x2 = x * x, x4 = x2 * x2, e[SLEW_AXES];
    for (int j = 0; j < SLEW_AXES; j++)
        e[j] = step->moves[j] ? slew_step_decay(step->rate[j], since) : 0;
    for (int j = 0; j < SLEW_AXES; j++) {
        if (!step->moves[j]) {
            speed[j] = 0;
            angle[j] = step->angle[j][0];
            if (change)
                change[j] = 0;
            continue;
        }
        speed[j] = speed_at(step->speed[j], x, x2, x4) +
                   (step->amplitude[j][j] + step->amplitude_rate[j] * since) * e[j];
        angle[j] = angle_at(step->angle[j], x, x2, x4) +
                   (step->swing[j][j] + step->swing_rate[j] * since) * e[j];
        if (step->coupled) {
            speed[j] += step->amplitude[j][!j] * e[!j];
            angle[j] += step->swing[j][!j] * e[!j];
        }
        if (change)
            change[j] = change_of_axis(step, j, x, e);
    }
}
