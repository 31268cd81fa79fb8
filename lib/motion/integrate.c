/* integrate.c - building a step: the exponential integrator; see step.h. */
#include "motion/dynamics.h"
#include "motion/least.h"
#include "motion/modes.h"
#include "motion/step.h"

#include <string.h>

/* a mode decays within the step by at least exp(-2), or by so little that its decay is forcing */
static const double stiff_from = 2, soft_up_to = 0.25;
/* of the step after a jump, in time constants: enough to come to rest; most of a start */
static const double first_length_off = 4, first_length_on = 12;
static const double largest_turn = 0.7; /* of an axis in one step [rad] */
static const double largest_arc = 0.8;  /* up to which the Taylor series is used [rad] */
static const double fixed_point_tolerance = 5e-11, fit_tolerance = 1e-11; /* of an angle [rad] */
static const double last_term_share = 1e-6; /* of the last coefficient in the error of the angle */
static const double longest = 1e4;          /* step [s] */
enum { ITERATIONS_MAX = 40, HALVINGS_MAX = 30 };

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

static const double reciprocal[] = {0,      1,      1. / 2, 1. / 3, 1. / 4,
                                    1. / 5, 1. / 6, 1. / 7, 1. / 8, 1. / 9};

/* ---- the load along the way --------------------------------------------------------------------
 */

/* true: the load torques of all moving axes stay what they are while these axes move */
static bool load_is_constant(const slew_plant_model *model, const slew_plant *plant)
{
    bool lifts = plant->moving[SLEW_ELEVATION] != 0, turns = plant->moving[SLEW_ROTATION] != 0;
    if (model->gravity_side != 0)
        return false;
    if (lifts && model->gravity_up != 0)
        return false;
    return !(lifts && turns && model->reaction[SLEW_ROTATION] != 0);
}

/* the load torque of an axis that alone turns by d: still + along cos d + across sin d */
typedef struct arc {
    double still, along, across;
} arc;

static arc arc_of(const slew_plant_model *model, const slew_plant *plant, int j,
                  const slew_torques *torques)
{
    arc a = {.across = torques->gradient[j][j]};
    a.still = j == SLEW_ELEVATION ? model->reaction[j]
                                  : model->reaction[j] * cos(plant->angle[SLEW_ELEVATION]);
    a.along = torques->value[j] - a.still;
    return a;
}

/* Taylor series: within 1e-12 for |d| <= largest_arc */
static double torque_along(const arc *a, double d)
{
    double s = d * d, s2 = s * s, s4 = s2 * s2;
    double cosine = (1 - s * (1. / 2)) + s2 * (1. / 24 - s * (1. / 720)) +
                    s4 * ((1. / 40320 - s * (1. / 3628800)) + s2 * (1. / 479001600));
    double sine = (1 - s * (1. / 6)) + s2 * (1. / 120 - s * (1. / 5040)) +
                  s4 * ((1. / 362880 - s * (1. / 39916800)) + s2 * (1. / 6227020800));
    return a->still + a->along * cosine + a->across * d * sine;
}

/* ---- fixed point ------------------------------------------------------------------------------
 */

/* what the iteration works on: per mode, at the nodes */
typedef struct fixed_point {
    const slew_plant_model *model;
    const slew_plant *plant;
    const slew_modes *m;
    slew_step *step;
    bool constant; /* the forcing does not change along the way */
    bool plain;    /* nor is anything asked along the way: one exponential, however long */
    bool alone;    /* one axis moves: its arc gives the torque */
    arc arc;       /* of that axis */
    bool stiff[SLEW_AXES];
    double per_ratio[SLEW_AXES];
    double per_damping[SLEW_AXES]; /* of the axis by itself; infinite without [s] */
    double per_rate[SLEW_AXES];    /* of the mode; infinite without [s] */
    double per_length;             /* of the step [1/s] */
    double reach[SLEW_AXES];       /* how far a change of a mode's forcing moves an angle, about */
    double gain[SLEW_AXES]; /* of the forcing by its own integral over the step, a Newton step's */
    /* The exponential of the turn comes back in the load torque: that part of the forcing, echo
     * times the exponential, is taken out of the polynomial and solved for itself. Axis alone; else
     * 0. */
    double echo;
    double decay[SLEW_AXES][SLEW_NODES];
    double turn[SLEW_AXES][SLEW_NODES];  /* integral of y; of the axis alone: its angle turned */
    double pace[SLEW_AXES][SLEW_NODES];  /* y itself; soft modes only */
    double force[SLEW_AXES][SLEW_NODES]; /* forcing */
    double p[SLEW_AXES][SLEW_NODES];     /* its polynomial */
} fixed_point;

static double forcing_at(const double p[SLEW_NODES], double x)
{
    double x2 = x * x;
    return ((p[0] + p[1] * x) + (p[2] + p[3] * x) * x2) +
           ((p[4] + p[5] * x) + (p[6] + p[7] * x) * x2) * (x2 * x2);
}

/* Quasi-steady speed q of a stiff mode: the polynomial with dq/dt = p - rate q. */
static void steady_speed(const fixed_point *f, int k, double q[SLEW_NODES])
{
    double per_rate = f->per_rate[k], per_decay = per_rate * f->per_length, above = 0;
    for (int c = 0; c < SLEW_NODES; c++)
        q[c] = f->p[k][c] * per_rate;
    for (int c = SLEW_STEP_DEGREE; c >= 0; c--)
        above = q[c] -= (c + 1) * per_decay * above;
}

/* Integral of y: y = q + (start - q0 + echo t) exp(-rate t). */
static void turn_stiff(fixed_point *f, int k)
{
    double q[SLEW_NODES], b[SLEW_NODES], length = f->step->length, per_rate = f->per_rate[k];
    steady_speed(f, k, q);
    double late = f->echo * per_rate, swing = (f->m->start[k] - q[0] + late) * per_rate;
    for (int c = 0; c < SLEW_NODES; c++)
        b[c] = q[c] * length * reciprocal[c + 1];
    for (int i = 0; i < SLEW_NODES; i++) {
        double x = slew_node[i], decayed = f->decay[k][i];
        f->turn[k][i] = swing * (1 - decayed) - late * length * x * decayed + x * forcing_at(b, x);
    }
}

/* speed and angle of a soft mode as polynomials */
static void integrate_soft(const fixed_point *f, int k, double speed[SLEW_NODES + 1],
                           double angle[SLEW_NODES + 2])
{
    double length = f->step->length;
    speed[0] = f->m->start[k];
    angle[0] = 0;
    for (int c = 0; c < SLEW_NODES; c++)
        speed[c + 1] = length * f->p[k][c] * reciprocal[c + 1];
    for (int c = 0; c <= SLEW_NODES; c++)
        angle[c + 1] = length * speed[c] * reciprocal[c + 1];
}

static void turn_soft(fixed_point *f, int k)
{
    double speed[SLEW_NODES + 1], angle[SLEW_NODES + 2];
    integrate_soft(f, k, speed, angle);
    for (int i = 0; i < SLEW_NODES; i++) {
        double x = slew_node[i];
        f->pace[k][i] = speed[0] + x * forcing_at(speed + 1, x);
        f->turn[k][i] = x * (angle[1] + x * forcing_at(angle + 2, x));
    }
}

static void fit(fixed_point *f, int k)
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
        change[c] += f->gain[k] * reciprocal[c] * change[c - 1];
    for (int c = 1; c < SLEW_NODES; c++)
        f->p[k][c] += change[c];
}

/* how far the new forcing at the nodes moves the angle, about [rad] */
static double moved_by(const fixed_point *f, int k)
{
    double change[SLEW_NODES], most = 0;
    for (int i = 0; i < SLEW_NODES; i++)
        change[i] = fabs(f->force[k][i] - forcing_at(f->p[k], slew_node[i]));
    for (int i = 0; i < SLEW_NODES; i++)
        most = slew_larger(most, change[i]);
    return most * f->reach[k];
}

/* One turn of the iteration, angles from forcing and forcing from angles; returns how far it moved
 * the angles. The common case: one axis, stiff. */
static double improve_alone(fixed_point *f, int k)
{
    const slew_dynamics *d = &f->plant->dynamics;
    double torque[SLEW_NODES];
    turn_stiff(f, k);
    for (int i = 0; i < SLEW_NODES; i++) {
        f->turn[k][i] *= f->per_ratio[k];
        torque[i] = torque_along(&f->arc, f->turn[k][i]);
        f->force[k][i] = d->offset[k] + d->slope[k] * torque[i] - f->echo * f->decay[k][i];
    }
    for (int i = 0; i < SLEW_NODES; i++)
        f->step->node_torque[i][k] = torque[i];
    double moved = moved_by(f, k);
    fit(f, k);
    return moved;
}

static void force_at_node(fixed_point *f, int i)
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
static double improve(fixed_point *f)
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
static double contraction(const fixed_point *f)
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

/* the error of the polynomial fit, as an angle: its last coefficient tells */
static double fit_error(const fixed_point *f)
{
    double error = 0;
    for (int k = 0; k < SLEW_AXES; k++)
        if (f->m->active[k])
            error = slew_larger(error, fabs(f->p[k][SLEW_STEP_DEGREE]) * f->reach[k]);
    return error * last_term_share;
}

static void decay_at_nodes(fixed_point *f)
{
    for (int k = 0; k < SLEW_AXES; k++)
        for (int i = 0; i < SLEW_NODES; i++)
            f->decay[k][i] = f->m->active[k] && f->stiff[k]
                                 ? slew_step_decay(f->m->rate[k], slew_node[i] * f->step->length)
                                 : 0;
}

/* Iterates to the fixed point; the fit's error, INFINITY if it does not settle or leaves the range
 * of the Taylor series. */
static double iterate(fixed_point *f)
{
    int k = f->m->active[1];
    bool simple = f->alone && f->stiff[k];
    double shrink = contraction(f), before = 0;
    decay_at_nodes(f);
    for (int n = 0; n < ITERATIONS_MAX; n++) {
        double moved = simple ? improve_alone(f, k) : improve(f);
        if (simple && fabs(f->turn[k][SLEW_NODES - 1]) > largest_arc)
            return INFINITY;
        if (before > 0)
            shrink = slew_smaller(shrink, moved / before);
        if (moved * shrink < fixed_point_tolerance)
            return fit_error(f);
        before = moved;
    }
    return INFINITY;
}

/* ---- length -----------------------------------------------------------------------------------
 */

/* time in which an axis turns no further than `largest_turn`, by its speed and its acceleration */
static double free_time(double turn, double speed, double change)
{
    return 2 * turn / (speed + sqrt(speed * speed + 2 * turn * change));
}

/* the same for all axes */
static double time_to_turn(const fixed_point *f, const slew_torques *torques)
{
    const slew_dynamics *d = &f->plant->dynamics;
    double time = longest;
    for (int j = 0; j < SLEW_AXES; j++) {
        if (!f->plant->moving[j])
            continue;
        double turn = largest_turn * f->model->axis[j].ratio, speed = f->plant->speed[j];
        double force = d->offset[j] + d->slope[j] * torques->value[j];
        /* with damping the speed stays between what it is and what it tends to */
        double damped = turn / slew_larger(fabs(speed), fabs(force * f->per_damping[j]));
        if (!(damped * d->damping[j][j] > stiff_from))
            damped = slew_larger(
                damped, free_time(turn, fabs(speed), fabs(force - d->damping[j][j] * speed)));
        time = slew_smaller(time, damped);
    }
    return time;
}

/* the nearest length for which every mode is either stiff or soft */
static double allowed_length(const slew_modes *m, double length, double limit, bool may_grow)
{
    length = slew_smaller(length, limit);
    for (int tries = 0; tries < 4; tries++) {
        bool fits = true;
        for (int k = 0; k < SLEW_AXES; k++) {
            double z = m->active[k] ? m->rate[k] * length : 0;
            if (z >= stiff_from || z <= soft_up_to)
                continue;
            bool raise = may_grow && tries == 0 && stiff_from / m->rate[k] <= limit;
            length = (raise ? stiff_from * (1 + 1e-12) : soft_up_to) / m->rate[k];
            fits = false;
        }
        if (fits)
            break;
    }
    return length;
}

static double first_length(const slew_modes *m, bool on)
{
    double length = longest;
    for (int k = 0; k < SLEW_AXES; k++)
        if (m->active[k] && m->rate[k] > 0)
            length = slew_smaller(length, (on ? first_length_on : first_length_off) / m->rate[k]);
    return length;
}

static double grown(double length, double error)
{
    double growth = error < fit_tolerance / 1000 ? 32 : error < fit_tolerance ? 8 : 2;
    return slew_smaller(growth * length, longest);
}

/* ---- building ---------------------------------------------------------------------------------
 */

/* what the length decides */
static void begin_length(fixed_point *f)
{
    f->per_length = 1 / f->step->length;
    for (int k = 0; k < SLEW_AXES; k++) {
        f->stiff[k] = f->m->rate[k] * f->step->length >= stiff_from;
        f->step->rate[k] = f->m->active[k] && f->stiff[k] ? f->m->rate[k] : 0;
        double lag = f->stiff[k] ? f->per_rate[k] : f->step->length / 2;
        f->reach[k] = lag * f->step->length * slew_larger(f->per_ratio[0], f->per_ratio[1]);
    }
}

/* forcing to begin the iteration with: its Taylor series at the start, with the speed that the axes
 * tend to */
static void predict(fixed_point *f, const slew_torques *torques)
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
    f->echo = 0;
    for (int k = 0; k < SLEW_AXES; k++) {
        memset(f->p[k], 0, sizeof f->p[k]);
        f->p[k][0] = slew_modes_in(f->m, k, value[0], value[1]);
        f->p[k][1] = slew_modes_in(f->m, k, change[0], change[1]);
        f->gain[k] = 0;
        if (f->m->active[k] && !f->stiff[k])
            f->p[k][0] -= f->m->rate[k] * f->m->start[k];
        else if (f->m->active[k] && f->alone) {
            f->p[k][2] = -d->slope[k] * f->arc.along * turn[k] * turn[k] / 2;
            double bend = d->slope[k] * torques->gradient[k][k] * f->per_ratio[k];
            double per_rate = f->per_rate[k], drift = change[k] * per_rate * f->per_length;
            double lag = f->m->start[k] - (value[k] - drift) * per_rate;
            f->echo = -bend * lag * per_rate;
            f->p[k][0] -= f->echo;
            f->gain[k] = bend * f->step->length * per_rate;
        }
    }
}

/* Constant load, one damped axis, and the other needs no questions while it rests: it is neither
 * driven, so that it might start, nor could its load move it. */
static bool is_plain(const fixed_point *f)
{
    int moving = f->m->active[1];
    return f->constant && f->alone && f->m->rate[moving] * longest > stiff_from &&
           !f->plant->drive[!moving] && f->model->axis[!moving].backward <= 0;
}

/* Finds a length that fits, and its forcing; sets the length of the next step. */
static void fit_length(fixed_point *f, slew_plant *plant, const slew_torques *torques)
{
    slew_step *step = f->step;
    double limit = f->constant ? longest : time_to_turn(f, torques);
    double wish = plant->next_length;
    if (!(wish > 0))
        wish = f->plain ? longest : first_length(f->m, plant->drive[0] || plant->drive[1]);
    for (int halvings = 0;; halvings++) {
        step->length = allowed_length(f->m, wish, limit, halvings == 0);
        begin_length(f);
        predict(f, torques);
        bool stiff = (!f->m->active[0] || f->stiff[0]) && (!f->m->active[1] || f->stiff[1]);
        if (f->constant && stiff) {
            for (int i = 1; i < SLEW_NODES; i++)
                memcpy(step->node_torque[i], step->node_torque[0], sizeof step->node_torque[0]);
            plant->next_length = grown(step->length, 0);
            return;
        }
        double error = iterate(f);
        if (error <= fit_tolerance || halvings == HALVINGS_MAX) {
            plant->next_length = grown(step->length, error);
            return;
        }
        wish = step->length / 2;
    }
}

/* speed and integral of one mode, as the step has them: polynomials, amplitude of the exponential
 */
typedef struct mode_solution {
    double speed[SLEW_NODES + 1], angle[SLEW_NODES + 2];
    double amplitude, swing, swing_rate;
} mode_solution;

static void solve_mode(const fixed_point *f, int k, mode_solution *out)
{
    double length = f->step->length;
    if (!f->stiff[k]) {
        integrate_soft(f, k, out->speed, out->angle);
        out->amplitude = out->swing = out->swing_rate = 0;
        return;
    }
    steady_speed(f, k, out->speed);
    out->speed[SLEW_NODES] = 0;
    for (int c = 0; c <= SLEW_NODES; c++)
        out->angle[c + 1] = out->speed[c] * length * reciprocal[c + 1];
    out->amplitude = f->m->start[k] - out->speed[0];
    out->swing_rate = -f->echo * f->per_rate[k];
    out->swing = (out->swing_rate - out->amplitude) * f->per_rate[k];
    out->angle[0] = -out->swing;
}

static void store_alone(const fixed_point *f, int j)
{
    slew_step *step = f->step;
    mode_solution s;
    solve_mode(f, j, &s);
    memcpy(step->speed[j], s.speed, sizeof s.speed);
    for (int c = 0; c < SLEW_NODES + 2; c++)
        step->angle[j][c] = s.angle[c] * f->per_ratio[j];
    step->angle[j][0] += f->plant->angle[j];
    step->amplitude[j][j] = s.amplitude;
    step->swing[j][j] = s.swing * f->per_ratio[j];
    step->amplitude_rate[j] = f->stiff[j] ? f->echo : 0;
    step->swing_rate[j] = s.swing_rate * f->per_ratio[j];
}

static void store_coupled(const fixed_point *f)
{
    slew_step *step = f->step;
    mode_solution s[SLEW_AXES];
    for (int k = 0; k < SLEW_AXES; k++)
        solve_mode(f, k, &s[k]);
    for (int j = 0; j < SLEW_AXES; j++) {
        const double *out = f->m->out[j];
        for (int c = 0; c < SLEW_NODES + 1; c++)
            step->speed[j][c] = out[0] * s[0].speed[c] + out[1] * s[1].speed[c];
        for (int c = 0; c < SLEW_NODES + 2; c++)
            step->angle[j][c] = (out[0] * s[0].angle[c] + out[1] * s[1].angle[c]) * f->per_ratio[j];
        step->angle[j][0] += f->plant->angle[j];
        step->amplitude_rate[j] = step->swing_rate[j] = 0;
        for (int k = 0; k < SLEW_AXES; k++) {
            step->amplitude[j][k] = out[k] * s[k].amplitude;
            step->swing[j][k] = out[k] * s[k].swing * f->per_ratio[j];
        }
    }
}

static void store(const fixed_point *f)
{
    slew_step *step = f->step;
    step->start = f->plant->time;
    step->coupled = f->m->coupled;
    for (int j = 0; j < SLEW_AXES; j++) {
        step->moves[j] = f->plant->moving[j] != 0;
        step->angle[j][0] = f->plant->angle[j];
        step->speed_low[j] = step->speed_high[j] = 0;
        if (step->moves[j] && !f->m->coupled)
            store_alone(f, j);
    }
    if (f->m->coupled)
        store_coupled(f);
}

/* ---- what can be read off the nodes ------------------------------------------------------------
 */

/* one axis with a stiff mode: all is at hand but the speed */
static void fill_nodes_alone(const fixed_point *f, int j)
{
    slew_step *step = f->step;
    const double *c = step->speed[j];
    double speed[SLEW_NODES], rate = f->m->rate[j];
    for (int i = 0; i < SLEW_NODES; i++)
        speed[i] = forcing_at(c, slew_node[i]) +
                   (step->amplitude[j][j] + f->echo * slew_node[i] * step->length) * f->decay[j][i];
    for (int i = 0; i < SLEW_NODES; i++) {
        step->node_angle[i][j] = f->plant->angle[j] + f->turn[j][i];
        step->node_angle[i][!j] = f->plant->angle[!j];
        step->node_speed[i][j] = speed[i];
        step->node_change[i][j] = f->force[j][i] + f->echo * f->decay[j][i] - rate * speed[i];
        step->node_speed[i][!j] = step->node_change[i][!j] = 0;
    }
}

static void fill_nodes(const fixed_point *f)
{
    slew_step *step = f->step;
    const slew_dynamics *d = &f->plant->dynamics;
    for (int i = 0; i < SLEW_NODES; i++) {
        double *speed = step->node_speed[i];
        slew_step_at(step, slew_node[i] * step->length, speed, step->node_angle[i], NULL);
        for (int j = 0; j < SLEW_AXES; j++)
            step->node_change[i][j] =
                step->moves[j] ? d->offset[j] + d->slope[j] * step->node_torque[i][j] -
                                     d->damping[j][0] * speed[0] - d->damping[j][1] * speed[1]
                               : 0;
    }
}

/* Bounds of the speed, and how long it keeps rising or falling. An extreme between two nodes lies
 * within the tangent at the first. */
static void describe(slew_step *step, int j)
{
    double low = step->node_speed[0][j], high = low;
    int turns = SLEW_NODES - 1;
    for (int i = 0; i + 1 < SLEW_NODES; i++) {
        double change = step->node_change[i][j], next = step->node_speed[i + 1][j];
        low = slew_smaller(low, next);
        high = slew_larger(high, next);
        if (change * step->node_change[i + 1][j] < 0) {
            turns = i < turns ? i : turns;
            double tip =
                step->node_speed[i][j] + change * (slew_node[i + 1] - slew_node[i]) * step->length;
            low = slew_smaller(low, tip);
            high = slew_larger(high, tip);
        }
    }
    step->speed_low[j] = low;
    step->speed_high[j] = high;
    step->monotone_until[j] = slew_node[turns] * step->length;
}

/* one exponential from the start to the steady speed */
static void describe_plain(const fixed_point *f, int j)
{
    slew_step *step = f->step;
    double start = f->plant->speed[j], steady = step->speed[j][0];
    step->speed_low[j] = slew_smaller(start, steady);
    step->speed_high[j] = slew_larger(start, steady);
    step->monotone_until[j] = step->length;
    /* only the last node is asked for */
    double *angle = step->node_angle[SLEW_NODES - 1], *speed = step->node_speed[SLEW_NODES - 1];
    double *change = step->node_change[SLEW_NODES - 1];
    slew_step_at(step, step->length, speed, angle, change);
}

static void describe_step(const fixed_point *f)
{
    slew_step *step = f->step;
    int moving = f->m->active[1];
    if (f->plain) {
        describe_plain(f, moving);
        return;
    }
    if (f->alone && f->stiff[moving] && !f->constant)
        fill_nodes_alone(f, moving);
    else
        fill_nodes(f);
    for (int j = 0; j < SLEW_AXES; j++)
        if (step->moves[j])
            describe(step, j);
}

/* torques and, unless the load is plain, their gradients */
static void ask_load(const fixed_point *f, slew_torques *out)
{
    int moving = f->m->active[1];
    if (!f->plain) {
        slew_torques_at(f->model, f->plant->angle, out);
        return;
    }
    memset(out, 0, sizeof *out);
    out->value[moving] = slew_plant_load_torque(f->model, moving, f->plant->angle);
}

void slew_step_build(const slew_plant_model *model, slew_plant *plant)
{
    slew_modes m;
    slew_torques torques;
    fixed_point f;
    slew_modes_find(plant, &m);
    f.model = model;
    f.plant = plant;
    f.m = &m;
    f.step = &plant->step;
    f.alone = !(plant->moving[0] && plant->moving[1]);
    f.constant = load_is_constant(model, plant);
    f.plain = is_plain(&f);
    f.arc = (arc){0, 0, 0};
    ask_load(&f, &torques);
    memcpy(plant->step.node_torque[0], torques.value, sizeof torques.value);
    for (int j = 0; j < SLEW_AXES; j++) {
        f.per_ratio[j] = 1 / model->axis[j].ratio;
        f.per_damping[j] = plant->moving[j] ? 1 / plant->dynamics.damping[j][j] : 0;
        f.per_rate[j] = !m.active[j] ? 0 : m.coupled ? 1 / m.rate[j] : f.per_damping[j];
        if (f.alone && plant->moving[j] && !f.constant)
            f.arc = arc_of(model, plant, j, &torques);
    }
    fit_length(&f, plant, &torques);
    store(&f);
    describe_step(&f);
}
