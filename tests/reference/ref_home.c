/*
 * ref_home.c - where a home sensor closes and opens: the field of the magnet by adding up the
 * current on its curved surface, its edges by scanning outwards.
 */
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_roots.h>
#include <math.h>

#include "ref_machine.h"

#define PI 3.14159265358979323846

enum { PIECES = 200, SCAN = 4000 };

typedef struct place {
    const slew_magnet *magnet;
    double beside, over; /* from axis and centre of the magnet [m] */
    double level;        /* [T] */
    gsl_integration_workspace *room;
} place;

/* Biot and Savart: the part of one angle of the surface current Br/mu0, already added up along the
 * length of the magnet */
static double strip(double phi, void *context)
{
    const place *p = context;
    double a = p->magnet->diameter / 2, half = p->magnet->length / 2;
    double c2 = a * a + p->beside * p->beside - 2 * a * p->beside * cos(phi);
    double low = p->over + half, high = p->over - half;
    double along = low / sqrt(low * low + c2) - high / sqrt(high * high + c2);
    return a * (a - p->beside * cos(phi)) / c2 * along;
}

static double axial(place *p)
{
    gsl_function f = {strip, p};
    double value, error;
    gsl_integration_qag(&f, 0, PI, 0, 1e-13, PIECES, GSL_INTEG_GAUSS31, p->room, &value, &error);
    return p->magnet->remanence / (2 * PI) * value;
}

static double excess(double turned, void *context)
{
    place *p = context;
    p->beside = 2 * p->magnet->radius * sin(turned / 2);
    return axial(p) - p->level;
}

static double refine(place *p, double low, double high)
{
    gsl_function f = {excess, p};
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    gsl_root_fsolver_set(solver, &f, low, high);
    do
        gsl_root_fsolver_iterate(solver);
    while (gsl_root_test_interval(gsl_root_fsolver_x_lower(solver),
                                  gsl_root_fsolver_x_upper(solver), 1e-13, 0) == GSL_CONTINUE);
    double root = gsl_root_fsolver_root(solver);
    gsl_root_fsolver_free(solver);
    return root;
}

/* steps that grow with the distance: fine over the magnet, up to half a turn */
static double step_end(int i)
{
    double x = (double)i / SCAN;
    return PI * x * x * x;
}

/* INFINITY: not within half a turn */
static double first_below(place *p, double level)
{
    p->level = level;
    for (int i = 1; i <= SCAN; i++)
        if (excess(step_end(i), p) <= 0)
            return refine(p, step_end(i - 1), step_end(i));
    return INFINITY;
}

void ref_home_build(const slew_home *from, ref_axis *x)
{
    const slew_magnet *m = &from->magnet;
    x->home = from->angle;
    x->operate = from->operate;
    x->release = from->release;
    x->present = from->present;
    x->stuck = from->stuck;
    if (!m->given)
        return;
    gsl_error_handler_t *before = gsl_set_error_handler_off();
    place p = {.magnet = m, .over = m->length / 2 + m->gap, .level = m->operate_flux};
    p.room = gsl_integration_workspace_alloc(PIECES);
    if (excess(0, &p) < 0) {
        x->present = from->present && from->stuck;
    } else {
        x->operate = first_below(&p, m->operate_flux);
        x->release = first_below(&p, m->release_flux);
    }
    gsl_integration_workspace_free(p.room);
    gsl_set_error_handler(before);
}
