/* fixed_point.c - see fixed_point.h. */
#include "motion/fixed_point.h"

#include "motion/least.h"
#include "motion/step_read.h"

#include <string.h>

static const double largest_arc = 0.8;      /* up to which the Taylor series is used [rad] */
static const double tolerance = 5e-11;      /* of an angle [rad] */
static const double last_term_share = 1e-6; /* of the last coefficient in the error of the angle */
static const double share_before[] = {0.3, 0.1}; /* of the two before, in that */
enum { ITERATIONS_MAX = 40 };

/* coefficients of x^k from the values at the nodes: the inverse of their Vandermonde matrix */
static const double from_nodes[SLEW_NODES][SLEW_NODES] = {
    {1, 0, 0, 0, 0, 0, 0, 0},
    {-33, 40.391338716178446, -10.623882220845454, 5.1448330568623248, -3.2719276119511718,
     2.4638282269592331, -2.1041901672033743, 1},
    {320, -517.18405599136076, 294.15467656670194, -156.54483728496504, 102.62085604546442,
     -78.271106723674151, 67.224467387833656, -32},
    {-1385.1428571428571, 2480.350197100076, -1837.1099913927806, 1243.6480513235329,
     -879.13282959576429, 692.00175157639103, -602.61432186859793, 288},
    {3108.5714285714284, -5855.4418402477449, 4956.9744856834213, -3927.1479571294371,
     3093.8576709190788, -2560.2673454799601, 2280.5964148260714, -1097.1428571428571},
    {-3766.8571428571427, 7304.7941436983238, -6693.9401784098363, 5890.8207308175879,
     -5109.581520401819, 4504.9565540555168, -4141.6211583312024, 2011.4285714285713},
    {2340.5714285714284, -4623.195497561187, 4460.8306040590533, -4226.2065350692947,
     3965.7934649307053, -3731.1693959409467, 3568.804502438813, -1755.4285714285713},
    {-585.14285714285711, 1170.2857142857142, -1170.2857142857142, 1170.2857142857142,
     -1170.2857142857142, 1170.2857142857142, -1170.2857142857142, 585.14285714285711}};
_Static_assert(SLEW_STEP_DEGREE == 7, "nodes, matrix and reciprocals are those of degree 7");

const double slew_reciprocal[SLEW_NODES + 2] = {0,      1,      1. / 2, 1. / 3, 1. / 4,
                                                1. / 5, 1. / 6, 1. / 7, 1. / 8, 1. / 9};

/* ---- angles from forcing ---- */

/* Quasi-steady speed q of a stiff mode: the polynomial with dq/dt = p - rate q. */
void slew_fixed_point_steady_speed(const slew_fixed_point *f, int k, double q[SLEW_NODES])
{
    double per_rate = f->per_rate[k], per_decay = per_rate * f->per_length, above = 0;
    for (int c = 0; c < SLEW_NODES; c++)
        q[c] = f->p[k][c] * per_rate;
    for (int c = SLEW_STEP_DEGREE; c >= 0; c--)
        above = q[c] -= (c + 1) * per_decay * above;
}

slew_echo slew_fixed_point_echo_of_speed(const slew_fixed_point *f, int k)
{
    return (slew_echo){f->echo, f->echo_rate / 2, -f->echo_square * f->per_rate[k]};
}

slew_echo slew_fixed_point_echo_of_turn(const slew_fixed_point *f, int k)
{
    double per_rate = f->per_rate[k];
    return (slew_echo){-(f->echo + f->echo_rate * per_rate) * per_rate,
                       -f->echo_rate * per_rate / 2, f->echo_square * per_rate * per_rate / 2};
}

/* Integral of y, which is the steady speed q, an exponential from start - q0 on, and its echo. */
static void turn_stiff(slew_fixed_point *f, int k)
{
    double q[SLEW_NODES], b[SLEW_NODES], length = f->step->length, per_rate = f->per_rate[k];
    slew_fixed_point_steady_speed(f, k, q);
    double lag = (f->m->start[k] - q[0] + f->echo_square * per_rate) * per_rate;
    for (int c = 0; c < SLEW_NODES; c++)
        b[c] = q[c] * length * slew_reciprocal[c + 1];
    for (int i = 0; i < SLEW_NODES; i++) {
        double x = slew_node[i];
        f->turn[k][i] = lag * (1 - f->decay[k][i]) + f->echo_turn[i] + x * slew_forcing_at(b, x);
    }
}

/* speed and angle of a soft mode as polynomials */
void slew_fixed_point_integrate_soft(const slew_fixed_point *f, int k, double speed[SLEW_NODES + 1],
                                     double angle[SLEW_NODES + 2])
{
    double length = f->step->length;
    speed[0] = f->m->start[k];
    angle[0] = 0;
    for (int c = 0; c < SLEW_NODES; c++)
        speed[c + 1] = length * f->p[k][c] * slew_reciprocal[c + 1];
    for (int c = 0; c <= SLEW_NODES; c++)
        angle[c + 1] = length * speed[c] * slew_reciprocal[c + 1];
}

static void turn_soft(slew_fixed_point *f, int k)
{
    double speed[SLEW_NODES + 1], angle[SLEW_NODES + 2];
    slew_fixed_point_integrate_soft(f, k, speed, angle);
    for (int i = 0; i < SLEW_NODES; i++) {
        double x = slew_node[i];
        f->pace[k][i] = speed[0] + x * slew_forcing_at(speed + 1, x);
        f->turn[k][i] = x * (angle[1] + x * slew_forcing_at(angle + 2, x));
    }
}

/* ---- forcing from angles ---- */

/* Taylor series: within 1e-12 for |d| <= largest_arc */
static double torque_along(const slew_arc *a, double d)
{
    double s = d * d, s2 = s * s, s4 = s2 * s2;
    double cosine = (1 - s * (1. / 2)) + s2 * (1. / 24 - s * (1. / 720)) +
                    s4 * ((1. / 40320 - s * (1. / 3628800)) + s2 * (1. / 479001600));
    double sine = (1 - s * (1. / 6)) + s2 * (1. / 120 - s * (1. / 5040)) +
                  s4 * ((1. / 362880 - s * (1. / 39916800)) + s2 * (1. / 6227020800));
    return a->still + a->along * cosine + a->across * d * sine;
}

static void fit(slew_fixed_point *f, int k)
{
    const double *v = f->force[k];
    double change[SLEW_NODES];
    for (int c = 1; c < SLEW_NODES; c++) {
        const double *w = from_nodes[c];
        change[c] = ((w[0] * v[0] + w[1] * v[1]) + (w[2] * v[2] + w[3] * v[3])) +
                    ((w[4] * v[4] + w[5] * v[5]) + (w[6] * v[6] + w[7] * v[7])) - f->p[k][c];
    }
    /* A change of the forcing turns the axis further, which changes the forcing by `gain` times its
     * integral, and so on: the sum of that series at once, a Newton step. */
    for (int c = 2; c < SLEW_NODES; c++)
        change[c] += f->gain[k] * slew_reciprocal[c] * change[c - 1];
    for (int c = 1; c < SLEW_NODES; c++)
        f->p[k][c] += change[c];
}

/* how far the new forcing at the nodes moves the angle, about [rad] */
static double moved_by(const slew_fixed_point *f, int k)
{
    double change[SLEW_NODES], most = 0;
    for (int i = 0; i < SLEW_NODES; i++)
        change[i] = fabs(f->force[k][i] - slew_forcing_at(f->p[k], slew_node[i]));
    for (int i = 0; i < SLEW_NODES; i++)
        most = slew_larger(most, change[i]);
    return most * f->reach[k];
}

/* One turn of the iteration, angles from forcing and forcing from angles; returns how far it moved
 * the angles. The common case: one axis, stiff. */
static double improve_alone(slew_fixed_point *f, int k)
{
    const slew_dynamics *d = &f->plant->dynamics;
    double torque[SLEW_NODES];
    turn_stiff(f, k);
    for (int i = 0; i < SLEW_NODES; i++) {
        f->turn[k][i] *= f->per_ratio[k];
        torque[i] = torque_along(&f->arc, f->turn[k][i]);
        f->force[k][i] = d->offset[k] + d->slope[k] * torque[i] - f->echo_force[i];
    }
    for (int i = 0; i < SLEW_NODES; i++)
        f->step->node_torque[i][k] = torque[i];
    double moved = moved_by(f, k);
    fit(f, k);
    return moved;
}

static void force_at_node(slew_fixed_point *f, int i)
{
    const slew_dynamics *d = &f->plant->dynamics;
    const slew_modes *m = f->m;
    double angle[SLEW_AXES], force[SLEW_AXES], *torque = f->step->node_torque[i];
    for (int j = 0; j < SLEW_AXES; j++) {
        double turn = m->coupled     ? m->out[j][0] * f->turn[0][i] + m->out[j][1] * f->turn[1][i]
                      : m->active[j] ? f->turn[j][i]
                                     : 0;
        angle[j] = f->plant->angle[j] + turn * f->per_ratio[j];
    }
    slew_torque_values(f->model, angle, torque);
    for (int j = 0; j < SLEW_AXES; j++)
        force[j] = m->active[j] ? d->offset[j] + d->slope[j] * torque[j] : 0;
    for (int k = 0; k < SLEW_AXES; k++) {
        f->force[k][i] = slew_modes_in(m, k, force[0], force[1]);
        if (m->active[k] && !f->stiff[k])
            f->force[k][i] -= m->rate[k] * f->pace[k][i];
    }
}

/* the general case */
static double improve(slew_fixed_point *f)
{
    double moved = 0;
    for (int k = 0; k < SLEW_AXES; k++) {
        if (!f->m->active[k])
            continue;
        if (f->stiff[k])
            turn_stiff(f, k);
        else
            turn_soft(f, k);
    }
    for (int i = 0; i < SLEW_NODES; i++)
        force_at_node(f, i);
    for (int k = 0; k < SLEW_AXES; k++) {
        if (!f->m->active[k])
            continue;
        moved = slew_larger(moved, moved_by(f, k));
        fit(f, k);
    }
    return moved;
}

/* by how much one turn of the iteration shrinks an error, at least */
static double contraction(const slew_fixed_point *f)
{
    double most = 0;
    for (int j = 0; j < SLEW_AXES; j++)
        if (f->plant->moving[j]) {
            double slope = fabs(f->plant->dynamics.slope[j]) * f->model->axis[j].largest_torque;
            most = slew_larger(most, slope * f->reach[j]);
            if (!f->stiff[j])
                most = slew_larger(most, f->m->rate[j] * f->step->length);
        }
    return f->m->coupled ? 1 : slew_smaller(most, 1);
}

/* The error of the polynomial fit, as an angle: its last coefficient tells, and those before where
 * the last one happens to pass through zero. */
static double fit_error(const slew_fixed_point *f)
{
    double error = 0;
    for (int k = 0; k < SLEW_AXES; k++) {
        const double *p = f->p[k];
        double last = fabs(p[SLEW_STEP_DEGREE]) + fabs(p[SLEW_STEP_DEGREE - 1]) * share_before[0] +
                      fabs(p[SLEW_STEP_DEGREE - 2]) * share_before[1];
        if (f->m->active[k])
            error = slew_larger(error, last * f->reach[k]);
    }
    return error * last_term_share;
}

/* The nodes lie in pairs about the middle, so that half of the exponentials are quotients. */
static void decay_at_nodes_of(slew_fixed_point *f, int k)
{
    double *decay = f->decay[k], z = f->m->rate[k] * f->step->length;
    double whole = slew_step_decay(f->m->rate[k], f->step->length);
    decay[0] = 1;
    decay[SLEW_NODES - 1] = whole;
    for (int i = 1; i < SLEW_NODES / 2; i++) {
        int other = SLEW_NODES - 1 - i;
        decay[i] = slew_step_decay(z, slew_node[i]);
        decay[other] = whole > 0 ? whole / decay[i] : slew_step_decay(z, slew_node[other]);
    }
}

/* what the exponential of the axis that alone moves brings with it */
static void echo_at_nodes(slew_fixed_point *f, int k)
{
    slew_echo turn = slew_fixed_point_echo_of_turn(f, k);
    double late = -turn.rate * f->per_rate[k];
    for (int i = 0; i < SLEW_NODES; i++) {
        double e = f->decay[k][i], t = slew_node[i] * f->step->length;
        f->echo_force[i] = (f->echo + f->echo_rate * t + f->echo_square * e) * e;
        f->echo_turn[i] =
            late * (1 - e) + (turn.rate + turn.bend * t) * t * e - turn.square * (1 - e * e);
    }
}

static void decay_at_nodes(slew_fixed_point *f)
{
    for (int k = 0; k < SLEW_AXES; k++)
        if (f->m->active[k] && f->stiff[k])
            decay_at_nodes_of(f, k);
}

/* Iterates to the fixed point; the fit's error, INFINITY if it does not settle or leaves the range
 * of the Taylor series. */
double slew_fixed_point_iterate(slew_fixed_point *f)
{
    int k = f->m->active[1];
    bool simple = f->alone && f->stiff[k];
    double shrink = contraction(f), before = 0;
    decay_at_nodes(f);
    if (simple)
        echo_at_nodes(f, k);
    for (int n = 0; n < ITERATIONS_MAX; n++) {
        double moved = simple ? improve_alone(f, k) : improve(f);
        if (simple && fabs(f->turn[k][SLEW_NODES - 1]) > largest_arc)
            return INFINITY;
        if (before > 0)
            shrink = slew_smaller(shrink, moved / before);
        if (moved * shrink < tolerance)
            return fit_error(f);
        before = moved;
    }
    return INFINITY;
}

/* ---- beginning ---- */

/* what the length decides */
void slew_fixed_point_begin(slew_fixed_point *f)
{
    f->per_length = 1 / f->step->length;
    for (int k = 0; k < SLEW_AXES; k++) {
        f->stiff[k] = f->m->rate[k] * f->step->length >= SLEW_STIFF_FROM;
        f->step->rate[k] = f->m->active[k] && f->stiff[k] ? f->m->rate[k] : 0;
        double lag = f->stiff[k] ? f->per_rate[k] : f->step->length / 2;
        double per_ratio =
            f->m->coupled ? slew_larger(f->per_ratio[0], f->per_ratio[1]) : f->per_ratio[k];
        f->reach[k] = lag * f->step->length * per_ratio;
    }
}

/* One axis, stiff: the Taylor series of the forcing along the slow part of the motion. Without its
 * exponential the axis would have begun at the turn `behind`; what that brings with it up to its
 * second order is the echo. */
static void predict_alone(slew_fixed_point *f, int k, double force)
{
    double *p = f->p[k], slope = f->plant->dynamics.slope[k];
    double per_rate = f->per_rate[k], per_ratio = f->per_ratio[k], reach = f->reach[k];
    double by_turn = slope * f->arc.across, bent = -slope * f->arc.along;
    double late = by_turn * per_rate * per_rate * per_ratio;
    double slowed = (1 - late) * per_rate, behind = 0, steady = 0;
    for (int n = 0; n < 2; n++) { /* the second time from there */
        steady = (force + (by_turn + bent * behind / 2) * behind) * slowed;
        behind = (f->m->start[k] - steady) * slowed * per_ratio;
    }
    by_turn += bent * behind;
    f->echo = -by_turn * behind;
    f->echo_rate = -(by_turn * f->echo * per_rate + bent * steady * behind) * per_ratio;
    f->echo_square = bent * behind * behind / 2;
    double pace = reach * (1 - late); /* turn in the whole step by a forcing of 1 */
    p[0] = force - f->echo - f->echo_square;
    double a = pace * p[0];
    p[1] = by_turn * a;
    double b = pace * p[1] / 2;
    p[2] = by_turn * b + bent * a * a / 2;
    double c = pace * p[2] / 3;
    p[3] = by_turn * (c - a * a * a / 6) + bent * a * b;
    double e = pace * p[3] / 4;
    p[4] = by_turn * (e - a * a * b / 2) + bent * (a * c + (b * b - a * a * a * a / 12) / 2);
    f->gain[k] = (by_turn + bent * a / 2) * reach;
}

/* forcing to begin the iteration with: its Taylor series at the start, with the speed that the axes
 * tend to */
void slew_fixed_point_predict(slew_fixed_point *f, const slew_torques *torques)
{
    const slew_dynamics *d = &f->plant->dynamics;
    double turn[SLEW_AXES] = {0, 0}, value[SLEW_AXES] = {0, 0}, change[SLEW_AXES] = {0, 0};
    for (int j = 0; j < SLEW_AXES; j++)
        if (f->plant->moving[j]) {
            value[j] = d->offset[j] + d->slope[j] * torques->value[j];
            double speed = f->stiff[j] ? value[j] * f->per_damping[j] : f->plant->speed[j];
            turn[j] = speed * f->step->length * f->per_ratio[j];
        }
    for (int j = 0; j < SLEW_AXES; j++)
        if (f->plant->moving[j])
            change[j] = d->slope[j] *
                        (torques->gradient[j][0] * turn[0] + torques->gradient[j][1] * turn[1]);
    f->echo = f->echo_rate = f->echo_square = 0;
    memset(f->echo_turn, 0, sizeof f->echo_turn);
    for (int k = 0; k < SLEW_AXES; k++) {
        memset(f->p[k], 0, sizeof f->p[k]);
        f->p[k][0] = slew_modes_in(f->m, k, value[0], value[1]);
        f->p[k][1] = slew_modes_in(f->m, k, change[0], change[1]);
        f->gain[k] = 0;
        if (f->m->active[k] && !f->stiff[k])
            f->p[k][0] -= f->m->rate[k] * f->m->start[k];
        else if (f->m->active[k] && f->alone && !f->constant)
            predict_alone(f, k, value[k]);
    }
}
