/*
 * ref_energy.c - see ref_energy.h.
 */
#include <gsl/gsl_integration.h>
#include <math.h>

#include "ref_energy.h"

enum { POINTS = 12 }; /* exact to degree 23: twice that of the solver's highest order */

/* ---- powers ---- */

static void add_supply(ref_balance *b, const ref_machine *k, const ref_motion *m,
                       const ref_electric *e, double span)
{
    double helped = m->joint ? (k->auxiliary_E - e->voltage) / k->auxiliary_R : 0.0;
    double line = e->sum + k->other - helped;
    b->supplied += span * (k->main_E * line + k->auxiliary_E * helped);
    b->line += span * (k->line_R * line * line + k->auxiliary_R * helped * helped);
    b->other += span * e->voltage * k->other;
}

static void add_axis(ref_balance *b, const ref_motion *m, const ref_electric *e, int a,
                     const double y[], double span)
{
    const ref_axis *x = &m->machine->axis[a];
    double w = y[REF_SPEED + a], out = w / x->N, tau = ref_tau(m, a, m->q[a], y);
    double carried = m->forward[a] ? tau / x->eta : x->eta_b * tau;
    double drives = m->s[a] ? x->drop * e->drawn[a] : 0.0;
    double motors = x->R * e->motor[a] * e->motor[a];
    double friction = (x->Tc + x->b * fabs(w)) * fabs(w) + x->friction * fabs(out);
    double gears = m->q[a] ? (carried - tau) * fabs(out) : 0.0;
    double tilt = a == SLEW_ROTATION ? cos(y[REF_ANGLE + SLEW_ELEVATION]) : 1.0;
    double jet = m->machine->reaction[a] * tilt * out;
    b->drives += span * drives;
    b->motors += span * motors;
    b->friction += span * friction;
    b->gears += span * gears;
    b->jet += span * jet;
    b->turned += span * (fabs(drives) + motors + friction + gears + fabs(jet));
}

void ref_energy_add(ref_balance *b, const ref_motion *m, const double y[], double span)
{
    ref_electric e;
    ref_electric_at(m, y, &e);
    add_supply(b, m->machine, m, &e, span);
    for (int a = 0; a < 2; a++)
        add_axis(b, m, &e, a, y, span);
}

void ref_energy_step(ref_balance *b, ref_stepper *st)
{
    gsl_integration_glfixed_table *table = gsl_integration_glfixed_table_alloc(POINTS);
    for (size_t i = 0; table && i < POINTS; i++) {
        double t, weight, y[REF_STATES];
        gsl_integration_glfixed_point(st->last_t, st->t, i, &t, &weight, table);
        if (st->kind->dense(st, t, y))
            ref_energy_add(b, st->motion, y, weight);
    }
    gsl_integration_glfixed_table_free(table);
}

/* ---- what is stored ---- */

/* height of the moving mass over the tilted base, times its weight */
double ref_energy_potential(const ref_machine *k, const double y[])
{
    double eps = y[REF_ANGLE + SLEW_ELEVATION], side = y[REF_ANGLE + SLEW_ROTATION] - k->downhill;
    return k->mgr_up * sin(eps) - k->mgr_side * cos(eps) * cos(side);
}

double ref_energy_kinetic(const ref_machine *k, const double y[])
{
    double sum = 0.0;
    for (int a = 0; a < 2; a++)
        sum += 0.5 * k->axis[a].J * y[REF_SPEED + a] * y[REF_SPEED + a];
    return sum;
}
