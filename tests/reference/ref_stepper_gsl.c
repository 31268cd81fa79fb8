/*
 * ref_stepper_gsl.c - GSL's Cash-Karp Runge-Kutta; an event inside a step is found by repeating the
 * step with a shorter length.
 */
#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <stdlib.h>
#include <string.h>

#include "ref_stepper.h"

typedef struct gsl_solver {
    gsl_odeiv2_system system;
    gsl_odeiv2_step *step, *repeat;
    gsl_odeiv2_control *control;
    gsl_odeiv2_evolve *evolve;
    double h;                                       /* next step to try [s] */
    double from_y[REF_STATES], from_dy[REF_STATES]; /* where the last step began */
    double g[REF_ROOTS];                            /* root functions where the last step ended */
    int direction[REF_ROOTS];
} gsl_solver;

static int rates(double t, const double y[], double dy[], void *user)
{
    (void)t;
    ref_stepper_rates(user, y, dy);
    return GSL_SUCCESS;
}

static void close_solver(void *solver)
{
    gsl_solver *s = solver;
    if (s->evolve)
        gsl_odeiv2_evolve_free(s->evolve);
    if (s->control)
        gsl_odeiv2_control_free(s->control);
    if (s->repeat)
        gsl_odeiv2_step_free(s->repeat);
    if (s->step)
        gsl_odeiv2_step_free(s->step);
    free(s);
}

static void *open_solver(ref_stepper *st)
{
    gsl_solver *s = calloc(1, sizeof *s);
    if (!s)
        return NULL;
    size_t n = (size_t)st->states;
    s->system = (gsl_odeiv2_system){rates, NULL, n, st};
    s->step = gsl_odeiv2_step_alloc(gsl_odeiv2_step_rkck, n);
    s->repeat = gsl_odeiv2_step_alloc(gsl_odeiv2_step_rkck, n);
    s->control = gsl_odeiv2_control_y_new(st->atol, st->rtol);
    s->evolve = gsl_odeiv2_evolve_alloc(n);
    if (!s->step || !s->repeat || !s->control || !s->evolve) {
        close_solver(s);
        return NULL;
    }
    return s;
}

static bool begin(ref_stepper *st, double t, const double y[], double until)
{
    gsl_solver *s = st->solver;
    (void)t;
    (void)until;
    s->h = 1e-4;
    ref_roots(st->motion, y, s->g);
    ref_root_directions(st->motion, s->direction);
    return gsl_odeiv2_evolve_reset(s->evolve) == GSL_SUCCESS &&
           gsl_odeiv2_step_reset(s->step) == GSL_SUCCESS;
}

/* ---- inside the last step ---- */

static bool dense(ref_stepper *st, double t, double y[])
{
    gsl_solver *s = st->solver;
    double error[REF_STATES];
    memcpy(y, s->from_y, sizeof *y * (size_t)st->states);
    if (!(t > st->last_t))
        return true;
    return gsl_odeiv2_step_apply(s->repeat, st->last_t, t - st->last_t, y, error, s->from_dy, NULL,
                                 &s->system) == GSL_SUCCESS;
}

static bool crosses(int direction, double before, double after)
{
    return direction > 0 ? before < 0.0 && after >= 0.0 : before > 0.0 && after <= 0.0;
}

typedef struct one_root {
    ref_stepper *stepper;
    int index;
} one_root;

static double root_at_time(void *ctx, double t)
{
    const one_root *r = ctx;
    double y[REF_STATES], g[REF_ROOTS];
    if (!dense(r->stepper, t, y))
        return 0.0;
    ref_roots(r->stepper->motion, y, g);
    return g[r->index];
}

/* the earliest crossing of the last step */
static int earliest_root(ref_stepper *st, const double before[], const double after[], double *t)
{
    const gsl_solver *s = st->solver;
    int earliest = -1;
    double end = st->t;
    for (int i = 0; i < REF_ROOTS; i++) {
        if (!crosses(s->direction[i], before[i], after[i]))
            continue;
        one_root r = {st, i};
        double at = ref_find_root(root_at_time, &r, st->last_t, before[i], end, after[i], 1e-13);
        if (earliest < 0 || at < *t) {
            earliest = i;
            *t = at;
        }
    }
    return earliest;
}

/* what crosses within the last digits of the same time belongs to the same stop */
static ref_step_end stop_at_root(ref_stepper *st, int index, double t, const double before[])
{
    gsl_solver *s = st->solver;
    if (!dense(st, t, st->y))
        return REF_STEP_FAILED;
    st->t = t;
    ref_roots(st->motion, st->y, s->g);
    for (int i = 0; i < REF_ROOTS; i++)
        st->found[i] = i == index || crosses(s->direction[i], before[i], s->g[i]);
    return REF_STEP_ROOT;
}

/* a step that ends on `until` exactly says so by its time */
static ref_step_end step(ref_stepper *st, double until)
{
    gsl_solver *s = st->solver;
    double before[REF_ROOTS], t = 0.0;
    memcpy(before, s->g, sizeof before);
    memcpy(s->from_y, st->y, sizeof *st->y * (size_t)st->states);
    if (gsl_odeiv2_evolve_apply(s->evolve, s->control, s->step, &s->system, &st->t, until, &s->h,
                                st->y) != GSL_SUCCESS)
        return REF_STEP_FAILED;
    memcpy(s->from_dy, s->evolve->dydt_in, sizeof *s->from_dy * (size_t)st->states);
    ref_roots(st->motion, st->y, s->g);
    int index = earliest_root(st, before, s->g, &t);
    if (index >= 0)
        return stop_at_root(st, index, t, before);
    return st->t >= until ? REF_STEP_STOP : REF_STEP_GOES_ON;
}

const ref_stepper_kind ref_stepper_gsl = {open_solver, close_solver, begin, step, dense};
