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

/* where the step is read: powers of its share, and the exponentials there */
typedef struct place {
    double since, x, x2, x4, e[SLEW_AXES];
} place;

static inline place place_at(const slew_step *step, double since, bool first, bool second)
{
    place p = {.since = since, .x = since / step->length};
    p.x2 = p.x * p.x;
    p.x4 = p.x2 * p.x2;
    p.e[0] = first ? slew_step_decay(step->rate[0], since) : 0;
    p.e[1] = second ? slew_step_decay(step->rate[1], since) : 0;
    return p;
}

/* for one axis: the other one's exponential matters only where they share their modes */
static inline place place_of_axis(const slew_step *step, int j, double since)
{
    return place_at(step, since, j == 0 || step->coupled, j == 1 || step->coupled);
}

static inline double speed_there(const slew_step *step, int j, const place *p)
{
    double speed = speed_at(step->speed[j], p->x, p->x2, p->x4) +
                   (step->amplitude[j][j] + step->amplitude_rate[j] * p->since) * p->e[j];
    return step->coupled ? speed + step->amplitude[j][!j] * p->e[!j] : speed;
}

static inline double angle_there(const slew_step *step, int j, const place *p)
{
    double angle = angle_at(step->angle[j], p->x, p->x2, p->x4) +
                   (step->swing[j][j] + step->swing_rate[j] * p->since) * p->e[j];
    return step->coupled ? angle + step->swing[j][!j] * p->e[!j] : angle;
}

static inline double change_there(const slew_step *step, int j, const place *p)
{
    double amplitude = step->amplitude[j][j] + step->amplitude_rate[j] * p->x * step->length;
    double x = p->x;
    double change = slope_at(step->speed[j], x, p->x2, x * x * x * x) / step->length -
                    (step->rate[j] * amplitude - step->amplitude_rate[j]) * p->e[j];
    return step->coupled ? change - step->rate[!j] * step->amplitude[j][!j] * p->e[!j] : change;
}

void slew_step_at(const slew_step *step, double since, double speed[SLEW_AXES],
                  double angle[SLEW_AXES], double change[SLEW_AXES])
{
    place p = place_at(step, since, step->moves[0], step->moves[1]);
    for (int j = 0; j < SLEW_AXES; j++) {
        bool moves = step->moves[j];
        speed[j] = moves ? speed_there(step, j, &p) : 0;
        angle[j] = moves ? angle_there(step, j, &p) : step->angle[j][0];
        if (change)
            change[j] = moves ? change_there(step, j, &p) : 0;
    }
}

void slew_step_speed_at(const slew_step *step, int axis, double since, double *speed,
                        double *change)
{
    place p = place_of_axis(step, axis, since);
    *speed = speed_there(step, axis, &p);
    *change = change_there(step, axis, &p);
}

void slew_step_angle_at(const slew_step *step, int axis, double since, double *angle, double *speed)
{
    place p = place_of_axis(step, axis, since);
    *angle = angle_there(step, axis, &p);
    *speed = speed_there(step, axis, &p);
}
