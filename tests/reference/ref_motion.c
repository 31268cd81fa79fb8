/*
 * ref_motion.c - currents, accelerations and event functions of one smooth piece of motion.
 */
#include <math.h>
#include <string.h>

#include "ref_motion.h"

/* ---- supply and motors ---- */

/* voltage and drawn currents without inductance: V = E - R sum (V - drop - K u) / R_k */
static void solve_currents(const ref_motion *m, double E, double R, const double y[],
                           ref_electric *out)
{
    double slope = 1.0, constant = E;
    for (int a = 0; a < 2; a++) {
        const ref_axis *x = &m->machine->axis[a];
        if (m->s[a] == 0)
            continue;
        slope += R / x->R;
        constant += R * (x->drop + x->K * m->s[a] * y[REF_SPEED + a]) / x->R;
    }
    out->voltage = constant / slope;
    out->sum = 0.0;
    for (int a = 0; a < 2; a++) {
        const ref_axis *x = &m->machine->axis[a];
        double back_emf = x->K * m->s[a] * y[REF_SPEED + a];
        out->drawn[a] = m->s[a] ? (out->voltage - x->drop - back_emf) / x->R : 0.0;
        out->sum += out->drawn[a];
    }
}

/* the currents are states: the voltage follows from them */
static void take_currents(const ref_motion *m, double E, double R, const double y[],
                          ref_electric *out)
{
    out->sum = 0.0;
    for (int a = 0; a < 2; a++) {
        out->drawn[a] = m->s[a] * y[REF_CURRENT + a];
        out->sum += out->drawn[a];
    }
    out->voltage = E - R * out->sum;
}

static double motor_current(const ref_motion *m, int a, const double y[], double drawn)
{
    const ref_axis *x = &m->machine->axis[a];
    if (m->inductance)
        return y[REF_CURRENT + a];
    if (m->s[a])
        return m->s[a] * drawn;
    return m->machine->brake ? -x->K * y[REF_SPEED + a] / x->R : 0.0;
}

void ref_electric_at(const ref_motion *m, const double y[], ref_electric *out)
{
    const ref_machine *k = m->machine;
    double E = m->joint ? k->joint_E : k->line_E, R = m->joint ? k->joint_R : k->line_R;
    if (m->inductance)
        take_currents(m, E, R, y, out);
    else
        solve_currents(m, E, R, y, out);
    for (int a = 0; a < 2; a++)
        out->motor[a] = motor_current(m, a, y, out->drawn[a]);
}

/* by how much the line alone would hold the node above the auxiliary battery, at these currents */
static double line_excess(const ref_motion *m, const ref_electric *e)
{
    return m->machine->line_E - m->machine->line_R * e->sum - m->machine->auxiliary_E;
}

void ref_choose_source(ref_motion *m, const double y[])
{
    ref_electric e;
    m->joint = false;
    if (!m->machine->auxiliary)
        return;
    ref_electric_at(m, y, &e);
    m->joint = line_excess(m, &e) < 0.0;
}

/* ---- gear and rest ---- */

double ref_tau(const ref_motion *m, int axis, int q, const double y[])
{
    return q * ref_load_torque(m->machine, axis, y[REF_ANGLE], y[REF_ANGLE + 1]) +
           m->machine->axis[axis].friction;
}

double ref_gear(const ref_axis *x, double tau)
{
    return tau >= 0.0 ? tau / x->eta : x->eta_b * tau;
}

int ref_rest_direction(const ref_motion *m, int axis, bool back)
{
    int first = m->s[axis] ? m->s[axis] : 1;
    return back ? -first : first;
}

bool ref_rest_is_free(const ref_motion *m, int axis, bool back, const double y[])
{
    const ref_axis *x = &m->machine->axis[axis];
    double angle = y[REF_ANGLE + axis];
    return ref_rest_direction(m, axis, back) > 0 ? angle < x->high : angle > x->low;
}

double ref_rest_margin(const ref_motion *m, int axis, bool back, const double y[],
                       const ref_electric *e)
{
    const ref_axis *x = &m->machine->axis[axis];
    int d = ref_rest_direction(m, axis, back);
    double load = ref_gear(x, ref_tau(m, axis, d, y)) / x->N;
    if (m->s[axis] == 0)
        return -load - x->Tc;
    double push = x->K * e->drawn[axis];
    return (back ? -push : push) - load - x->breakaway * x->Tc;
}

/* ---- right-hand side ---- */

static double acceleration(const ref_motion *m, int a, const double y[], double current)
{
    const ref_axis *x = &m->machine->axis[a];
    int q = m->q[a];
    double tau = ref_tau(m, a, q, y);
    double load = (m->forward[a] ? tau / x->eta : x->eta_b * tau) / x->N;
    return (x->K * current - q * (x->Tc + load) - x->b * y[REF_SPEED + a]) / x->J;
}

static double current_rate(const ref_motion *m, int a, const double y[], double V)
{
    const ref_axis *x = &m->machine->axis[a];
    double w = y[REF_SPEED + a], I = y[REF_CURRENT + a];
    if (m->s[a] == 0 && !m->machine->brake)
        return 0.0;
    double applied = m->s[a] ? m->s[a] * (V - x->drop) : 0.0;
    return (applied - x->K * w - x->R * I) / m->L[a];
}

void ref_rates(const ref_motion *m, const double y[], double dy[])
{
    ref_electric e;
    ref_electric_at(m, y, &e);
    for (int a = 0; a < 2; a++) {
        bool moves = m->q[a] != 0;
        dy[REF_ANGLE + a] = moves ? y[REF_SPEED + a] / m->machine->axis[a].N : 0.0;
        dy[REF_SPEED + a] = moves ? acceleration(m, a, y, e.motor[a]) : 0.0;
        if (m->inductance)
            dy[REF_CURRENT + a] = current_rate(m, a, y, e.voltage);
    }
    dy[REF_CHARGE] = e.sum;
}

double ref_current_slope(const ref_motion *m, const double dy[])
{
    const ref_machine *k = m->machine;
    double R = m->joint ? k->joint_R : k->line_R, conductance = 0.0, pull = 0.0;
    if (m->inductance)
        return m->s[0] * dy[REF_CURRENT] + m->s[1] * dy[REF_CURRENT + 1];
    for (int a = 0; a < 2; a++) {
        if (m->s[a] == 0)
            continue;
        conductance += 1.0 / k->axis[a].R;
        pull += k->axis[a].K * m->s[a] * dy[REF_SPEED + a] / k->axis[a].R;
    }
    return -pull / (1.0 + R * conductance);
}

/* ---- event functions ---- */

static void axis_roots(const ref_motion *m, int a, const double y[], const ref_electric *e,
                       double g[])
{
    int q = m->q[a];
    if (q != 0) {
        g[REF_ROOT_REST] = q * y[REF_SPEED + a];
        g[REF_ROOT_KINK] = ref_tau(m, a, q, y);
        if (isfinite(m->place[a]))
            g[REF_ROOT_PLACE] = q * (y[REF_ANGLE + a] - m->place[a]);
    }
    if (m->s[a] != 0)
        g[REF_ROOT_TRIP] = e->drawn[a] - m->machine->trip;
    for (int back = 0; back < 2 && q == 0; back++) {
        if (ref_rest_is_free(m, a, back, y))
            g[back ? REF_ROOT_BACK : REF_ROOT_FORWARD] = ref_rest_margin(m, a, back, y, e);
    }
}

void ref_roots(const ref_motion *m, const double y[], double g[REF_ROOTS])
{
    ref_electric e;
    ref_electric_at(m, y, &e);
    for (int i = 0; i < REF_ROOTS; i++)
        g[i] = 1.0;
    for (int a = 0; a < 2; a++)
        axis_roots(m, a, y, &e, g + a * REF_ROOTS_PER_AXIS);
    if (m->s[0] == 0 && m->s[1] == 0)
        return;
    if (m->machine->auxiliary)
        g[REF_ROOT_SOURCE] = line_excess(m, &e);
    g[REF_ROOT_BROWNOUT] = e.voltage - m->machine->brownout;
    g[REF_ROOT_FLOOR] = e.voltage - m->machine->floor;
}

void ref_root_directions(const ref_motion *m, int direction[REF_ROOTS])
{
    for (int a = 0; a < 2; a++) {
        int *d = direction + a * REF_ROOTS_PER_AXIS;
        d[REF_ROOT_REST] = -1;
        d[REF_ROOT_KINK] = m->forward[a] ? -1 : 1;
        d[REF_ROOT_PLACE] = 1;
        d[REF_ROOT_TRIP] = m->over[a] ? -1 : 1;
        d[REF_ROOT_FORWARD] = 1;
        d[REF_ROOT_BACK] = 1;
    }
    direction[REF_ROOT_SOURCE] = m->joint ? 1 : -1;
    direction[REF_ROOT_BROWNOUT] = m->under ? 1 : -1;
    direction[REF_ROOT_FLOOR] = m->below_floor ? 1 : -1;
}
