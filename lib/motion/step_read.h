/*
 * step_read.h - reading one axis of a step: short, and asked often enough to be inline.
 */
#ifndef SLEW_MOTION_STEP_READ_H
#define SLEW_MOTION_STEP_READ_H

#include "motion/step.h"

/* exp(-rate t), 0 once it no longer matters; 0 for a mode without one (rate 0) */
static inline double slew_step_decay(double rate, double since)
{
    return rate > 0 && rate * since < 45 ? exp(-rate * since) : 0;
}

_Static_assert(SLEW_STEP_DEGREE == 7, "the polynomials below are those of degree 7");

/* in pairs (Estrin's scheme): short chains of dependent operations */
static inline double slew_step_polynomial_7(const double c[8], double x, double x2, double x4)
{
    return ((c[0] + c[1] * x) + (c[2] + c[3] * x) * x2) +
           ((c[4] + c[5] * x) + (c[6] + c[7] * x) * x2) * x4;
}

static inline double slew_step_speed_poly(const double c[SLEW_STEP_DEGREE + 2], double x, double x2,
                                          double x4)
{
    return slew_step_polynomial_7(c, x, x2, x4) + c[8] * (x4 * x4);
}

static inline double slew_step_angle_poly(const double c[SLEW_STEP_DEGREE + 3], double x, double x2,
                                          double x4)
{
    return slew_step_polynomial_7(c, x, x2, x4) + (c[8] + c[9] * x) * (x4 * x4);
}

static inline double slew_step_slope_at(const double c[SLEW_STEP_DEGREE + 2], double x, double x2,
                                        double x4)
{
    return ((c[1] + 2 * c[2] * x) + (3 * c[3] + 4 * c[4] * x) * x2) +
           ((5 * c[5] + 6 * c[6] * x) + (7 * c[7] + 8 * c[8] * x) * x2) * x4;
}

/* where the step is read: powers of its share, and the exponentials there */
typedef struct slew_step_place {
    double since, x, x2, x4, e[SLEW_AXES];
} slew_step_place;

static inline slew_step_place slew_step_place_at(const slew_step *step, double since, bool first,
                                                 bool second)
{
    slew_step_place p = {.since = since, .x = since / step->length};
    p.x2 = p.x * p.x;
    p.x4 = p.x2 * p.x2;
    p.e[0] = first ? slew_step_decay(step->rate[0], since) : 0;
    p.e[1] = second ? slew_step_decay(step->rate[1], since) : 0;
    return p;
}

/* for one axis: the other one's exponential matters only where they share their modes */
static inline slew_step_place slew_step_place_of_axis(const slew_step *step, int j, double since)
{
    return slew_step_place_at(step, since, j == 0 || step->coupled, j == 1 || step->coupled);
}

/* an axis' own exponential with its echo */
static inline double slew_step_exponential(double value, const slew_echo *echo, double t, double e)
{
    return (value + (echo->rate + echo->bend * t) * t + echo->square * e) * e;
}

static inline double slew_step_speed_there(const slew_step *step, int j, const slew_step_place *p)
{
    if (step->plain)
        return step->speed[j][0] + step->amplitude[j][j] * p->e[j];
    double speed =
        slew_step_speed_poly(step->speed[j], p->x, p->x2, p->x4) +
        slew_step_exponential(step->amplitude[j][j], &step->amplitude_echo[j], p->since, p->e[j]);
    return step->coupled ? speed + step->amplitude[j][!j] * p->e[!j] : speed;
}

static inline double slew_step_angle_there(const slew_step *step, int j, const slew_step_place *p)
{
    if (step->plain)
        return step->angle[j][0] + step->angle[j][1] * p->x + step->swing[j][j] * p->e[j];
    double angle =
        slew_step_angle_poly(step->angle[j], p->x, p->x2, p->x4) +
        slew_step_exponential(step->swing[j][j], &step->swing_echo[j], p->since, p->e[j]);
    return step->coupled ? angle + step->swing[j][!j] * p->e[!j] : angle;
}

static inline double slew_step_change_there(const slew_step *step, int j, const slew_step_place *p)
{
    const slew_echo *echo = &step->amplitude_echo[j];
    double t = p->since, e = p->e[j], rate = step->rate[j];
    double amplitude = step->amplitude[j][j] + (echo->rate + echo->bend * t) * t;
    double change =
        slew_step_slope_at(step->speed[j], p->x, p->x2, p->x4) / step->length +
        (echo->rate + 2 * echo->bend * t - rate * (amplitude + 2 * echo->square * e)) * e;
    return step->coupled ? change - step->rate[!j] * step->amplitude[j][!j] * p->e[!j] : change;
}

/* how the change of the speed changes itself [rad/s3] */
static inline double slew_step_bend_there(const slew_step *step, int j, const slew_step_place *p)
{
    const slew_echo *echo = &step->amplitude_echo[j];
    const double *c = step->speed[j], x = p->x, t = p->since, e = p->e[j], rate = step->rate[j];
    double amplitude = step->amplitude[j][j] + (echo->rate + echo->bend * t) * t;
    double bend = ((2 * c[2] + 6 * c[3] * x) + (12 * c[4] + 20 * c[5] * x) * p->x2) +
                  ((30 * c[6] + 42 * c[7] * x) + 56 * c[8] * p->x2) * p->x4;
    bend = bend / (step->length * step->length) +
           (2 * (echo->bend - rate * (echo->rate + 2 * echo->bend * t)) +
            rate * rate * (amplitude + 4 * echo->square * e)) *
               e;
    if (step->coupled)
        bend += step->rate[!j] * step->rate[!j] * step->amplitude[j][!j] * p->e[!j];
    return bend;
}

/* Speed and its change, or angle and speed, of one axis that moves. */
static inline void slew_step_speed_at(const slew_step *step, int axis, double since, double *speed,
                                      double *change)
{
    slew_step_place p = slew_step_place_of_axis(step, axis, since);
    *speed = slew_step_speed_there(step, axis, &p);
    *change = slew_step_change_there(step, axis, &p);
}

static inline void slew_step_angle_at(const slew_step *step, int axis, double since, double *angle,
                                      double *speed)
{
    slew_step_place p = slew_step_place_of_axis(step, axis, since);
    *angle = slew_step_angle_there(step, axis, &p);
    *speed = slew_step_speed_there(step, axis, &p);
}

#endif
