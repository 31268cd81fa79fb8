/*
 * ref_stepper.c - what both solvers share: counting, current peaks, a bracketing root finder.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ref_stepper.h"

ref_stepper *ref_stepper_open(const ref_options *options, int states)
{
    ref_stepper *st = calloc(1, sizeof *st);
    if (!st)
        return NULL;
    st->kind = options->solver == REF_GSL_RKCK ? &ref_stepper_gsl : &ref_stepper_cvode;
    st->rtol = options->rtol > 0.0 ? options->rtol : 1e-11;
    st->atol = options->atol > 0.0 ? options->atol : 1e-13;
    st->states = states;
    st->solver = st->kind->open(st);
    if (!st->solver) {
        free(st);
        return NULL;
    }
    return st;
}

void ref_stepper_close(ref_stepper *st)
{
    if (!st)
        return;
    st->kind->close(st->solver);
    free(st);
}

void ref_stepper_rates(ref_stepper *st, const double y[], double dy[])
{
    st->statistics.rhs_evaluations++;
    ref_rates(st->motion, y, dy);
}

static double slope_at(const ref_stepper *st, const double y[])
{
    double dy[REF_STATES];
    if (st->motion->s[0] == 0 && st->motion->s[1] == 0)
        return 0.0;
    ref_rates(st->motion, y, dy);
    return ref_current_slope(st->motion, dy);
}

bool ref_stepper_begin(ref_stepper *st, const ref_motion *motion, double t, const double y[],
                       double until)
{
    st->motion = motion;
    st->t = st->last_t = t;
    memcpy(st->y, y, sizeof *y * (size_t)st->states);
    st->slope = slope_at(st, y);
    return st->kind->begin(st, t, y, until);
}

ref_step_end ref_stepper_step(ref_stepper *st, double until)
{
    st->last_t = st->t;
    st->last_slope = st->slope;
    ref_step_end end = st->kind->step(st, until);
    st->statistics.steps++;
    if (end != REF_STEP_FAILED)
        st->slope = slope_at(st, st->y);
    return end;
}

/* ---- current peaks ---- */

static double slope_at_time(void *ctx, double t)
{
    ref_stepper *st = ctx;
    double y[REF_STATES];
    return st->kind->dense(st, t, y) ? slope_at(st, y) : 0.0;
}

bool ref_stepper_current_peak(ref_stepper *st, double y[])
{
    if (!(st->last_slope > 0.0 && st->slope < 0.0))
        return false;
    double t = ref_find_root(slope_at_time, st, st->last_t, st->last_slope, st->t, st->slope, 1e-9);
    return st->kind->dense(st, t, y);
}

/* ---- roots ---- */

/* false position of the Illinois kind, every third step a bisection */
double ref_find_root(double (*f)(void *ctx, double x), void *ctx, double a, double fa, double b,
                     double fb, double tol)
{
    for (int i = 1; i < 400 && fabs(b - a) > tol && fb != 0.0; i++) {
        double x = i % 3 ? b - fb * (b - a) / (fb - fa) : 0.5 * (a + b);
        if (!(x > fmin(a, b) && x < fmax(a, b)))
            x = 0.5 * (a + b);
        if (x == a || x == b)
            break;
        double fx = f(ctx, x);
        if ((fx < 0.0) != (fb < 0.0)) {
            a = b;
            fa = fb;
        } else {
            fa *= 0.5;
        }
        b = x;
        fb = fx;
    }
    return b;
}
