/* integrate.c - building a step: the exponential integrator; see step.h. */
#include "motion/fixed_point.h"
#include "motion/least.h"
#include "motion/step_read.h"
#include "motion/turns.h"

#include <string.h>

/* of the step after a jump, in time constants: enough to come to rest; most of a start */
static const double first_length_off = 4, first_length_on = 9;
static const double largest_turn = 0.6;    /* of an axis in one step [rad] */
static const double fit_tolerance = 7e-12; /* of an angle [rad] */
static const double longest = 1e4;         /* step [s] */
enum { HALVINGS_MAX = 30 };

/* ---- the load along the way ---- */

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

static slew_arc arc_of(const slew_plant_model *model, const slew_plant *plant, int j,
                       const slew_torques *torques)
{
    slew_arc a = {.across = torques->gradient[j][j]};
    a.still = j == SLEW_ELEVATION ? model->reaction[j]
                                  : model->reaction[j] * cos(plant->angle[SLEW_ELEVATION]);
    a.still += model->outside[j];
    a.along = torques->value[j] - a.still;
    return a;
}

/* ---- length ---- */

/* time in which an axis turns no further than `largest_turn`, by its speed and its acceleration */
static double free_time(double turn, double speed, double change)
{
    return 2 * turn / (speed + sqrt(speed * speed + 2 * turn * change));
}

/* the same for all axes */
static double time_to_turn(const slew_fixed_point *f, const slew_torques *torques)
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
        if (!(damped * d->damping[j][j] > SLEW_STIFF_FROM))
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
            if (z >= SLEW_STIFF_FROM || z <= SLEW_SOFT_UP_TO)
                continue;
            bool raise = may_grow && tries == 0 && SLEW_STIFF_FROM / m->rate[k] <= limit;
            length = (raise ? SLEW_STIFF_FROM * (1 + 1e-12) : SLEW_SOFT_UP_TO) / m->rate[k];
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
    return slew_smaller((error < fit_tolerance ? 32 : 2) * length, longest);
}

/* ---- building ---- */

/* true: one axis moves, and the other needs no questions while it rests: it is neither driven, so
 * that it might start, nor could its load move it */
static bool leaves_other_alone(const slew_fixed_point *f)
{
    int moving = f->m->active[1];
    return f->alone && !f->plant->drive[!moving] && f->model->axis[!moving].backward <= 0;
}

/* the same with a constant load, and damped */
static bool is_plain(const slew_fixed_point *f)
{
    return f->constant && leaves_other_alone(f) &&
           f->m->rate[f->m->active[1]] * longest > SLEW_STIFF_FROM;
}

static bool is_driven(const slew_plant *plant)
{
    return plant->drive[0] || plant->drive[1];
}

/* true: the first step after a jump may be as long as any, with the exponential in closed form.
 * After a drive went off nothing is asked beyond the rest. */
static bool may_be_whole(const slew_fixed_point *f)
{
    return f->plain || (leaves_other_alone(f) && is_driven(f->plant));
}

/* Finds a length that fits, and its forcing; sets the length of the next step. */
static void fit_length(slew_fixed_point *f, slew_plant *plant, const slew_torques *torques)
{
    slew_step *step = f->step;
    double limit = f->constant ? longest : time_to_turn(f, torques);
    double wish = plant->next_length;
    bool fresh = !(wish > 0), whole = fresh && may_be_whole(f);
    if (fresh)
        wish = whole ? longest : first_length(f->m, is_driven(plant));
    for (int halvings = 0;; halvings++) {
        step->length = allowed_length(f->m, wish, limit, halvings == 0);
        slew_fixed_point_begin(f);
        slew_fixed_point_predict(f, torques);
        bool stiff = (!f->m->active[0] || f->stiff[0]) && (!f->m->active[1] || f->stiff[1]);
        if (f->constant && stiff) {
            for (int i = 1; i < SLEW_NODES; i++)
                memcpy(step->node_torque[i], step->node_torque[0], sizeof step->node_torque[0]);
            plant->next_length = grown(step->length, 0);
            return;
        }
        double error = slew_fixed_point_iterate(f);
        if (error <= fit_tolerance || halvings == HALVINGS_MAX) {
            plant->next_length = grown(step->length, error);
            return;
        }
        wish = whole && halvings == 0 ? first_length(f->m, is_driven(plant)) : step->length / 2;
    }
}

/* speed and integral of one mode, as the step has them: polynomials, amplitude of the exponential
 */
typedef struct mode_solution {
    double speed[SLEW_NODES + 1], angle[SLEW_NODES + 2];
    double amplitude, swing;
    slew_echo echo; /* of the swing */
} mode_solution;

static void solve_mode(const slew_fixed_point *f, int k, mode_solution *out)
{
    double length = f->step->length;
    if (!f->stiff[k]) {
        slew_fixed_point_integrate_soft(f, k, out->speed, out->angle);
        out->amplitude = out->swing = 0;
        out->echo = (slew_echo){0, 0, 0};
        return;
    }
    slew_fixed_point_steady_speed(f, k, out->speed);
    out->speed[SLEW_NODES] = 0;
    for (int c = 0; c <= SLEW_NODES; c++)
        out->angle[c + 1] = out->speed[c] * length * slew_reciprocal[c + 1];
    out->amplitude = f->m->start[k] - out->speed[0] + f->echo_square * f->per_rate[k];
    out->echo = slew_fixed_point_echo_of_turn(f, k);
    out->swing = (out->echo.rate - out->amplitude) * f->per_rate[k];
    out->angle[0] = -out->swing - out->echo.square;
}

static void store_alone(const slew_fixed_point *f, int j)
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
    step->amplitude_echo[j] =
        f->stiff[j] ? slew_fixed_point_echo_of_speed(f, j) : (slew_echo){0, 0, 0};
    step->swing_echo[j] = (slew_echo){s.echo.rate * f->per_ratio[j], s.echo.bend * f->per_ratio[j],
                                      s.echo.square * f->per_ratio[j]};
}

/* the steady speed and one exponential */
static void store_plain(const slew_fixed_point *f, int j)
{
    slew_step *step = f->step;
    double steady = f->p[j][0] * f->per_rate[j], lag = f->m->start[j] - steady;
    memset(step->speed[j], 0, sizeof step->speed[j]);
    memset(step->angle[j], 0, sizeof step->angle[j]);
    step->speed[j][0] = steady;
    step->amplitude[j][j] = lag;
    step->swing[j][j] = -lag * f->per_rate[j] * f->per_ratio[j];
    step->amplitude_echo[j] = step->swing_echo[j] = (slew_echo){0, 0, 0};
    step->angle[j][0] = f->plant->angle[j] - step->swing[j][j];
    step->angle[j][1] = steady * step->length * f->per_ratio[j];
}

static void store_coupled(const slew_fixed_point *f)
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
        step->amplitude_echo[j] = step->swing_echo[j] = (slew_echo){0, 0, 0};
        for (int k = 0; k < SLEW_AXES; k++) {
            step->amplitude[j][k] = out[k] * s[k].amplitude;
            step->swing[j][k] = out[k] * s[k].swing * f->per_ratio[j];
        }
    }
}

static void store(const slew_fixed_point *f)
{
    slew_step *step = f->step;
    step->start = f->plant->time;
    step->coupled = f->m->coupled;
    step->plain = f->plain;
    for (int j = 0; j < SLEW_AXES; j++) {
        step->moves[j] = f->plant->moving[j] != 0;
        step->angle[j][0] = f->plant->angle[j];
        step->speed_low[j] = step->speed_high[j] = 0;
        if (step->moves[j] && f->plain)
            store_plain(f, j);
        else if (step->moves[j] && !f->m->coupled)
            store_alone(f, j);
    }
    if (f->m->coupled)
        store_coupled(f);
}

/* ---- what can be read off the nodes ---- */

/* one axis with a stiff mode: all is at hand but the speed */
static void fill_nodes_alone(const slew_fixed_point *f, int j)
{
    slew_step *step = f->step;
    const double *c = step->speed[j];
    double speed[SLEW_NODES], rate = f->m->rate[j], value = step->amplitude[j][j];
    for (int i = 0; i < SLEW_NODES; i++)
        speed[i] = slew_forcing_at(c, slew_node[i]) +
                   slew_step_exponential(value, &step->amplitude_echo[j],
                                         slew_node[i] * step->length, f->decay[j][i]);
    for (int i = 0; i < SLEW_NODES; i++) {
        step->node_angle[i][j] = f->plant->angle[j] + f->turn[j][i];
        step->node_angle[i][!j] = f->plant->angle[!j];
        step->node_speed[i][j] = speed[i];
        step->node_change[i][j] = f->force[j][i] + f->echo_force[i] - rate * speed[i];
        step->node_speed[i][!j] = step->node_change[i][!j] = 0;
    }
}

static void fill_nodes(const slew_fixed_point *f)
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

/* Bounds of the speed. An extreme between two nodes lies within the tangents at both. */
static void bound(slew_step *step, int j)
{
    const double share[SLEW_AXES] = {j == 0, j == 1};
    double rate[SLEW_NODES], low = step->node_speed[0][j], high = low;
    for (int i = 0; i < SLEW_NODES; i++)
        rate[i] = step->node_change[i][j];
    for (int i = 0; i + 1 < SLEW_NODES; i++) {
        double speed = step->node_speed[i][j], next = step->node_speed[i + 1][j];
        low = slew_smaller(low, next);
        high = slew_larger(high, next);
        if (!slew_turns_between(step, share, rate, i))
            continue;
        double gap = (slew_node[i + 1] - slew_node[i]) * step->length;
        double tip = speed + rate[i] * gap, back = next - rate[i + 1] * gap;
        low = slew_smaller(low, slew_smaller(tip, back));
        high = slew_larger(high, slew_larger(tip, back));
    }
    step->speed_low[j] = low;
    step->speed_high[j] = high;
}

/* One axis, stiff: the speed is s + (now - s) e with s within the bounds of the steady speed q and
 * some more, e falling from 1 to 0: what q changes while e lasts, and the echo, are at most (1 - e)
 * times that. */
static void bound_alone(const slew_fixed_point *f, int j)
{
    slew_step *step = f->step;
    const double *q = step->speed[j];
    double low = q[0], high = q[0], slopes = 0;
    for (int c = 1; c < SLEW_NODES; c++) {
        low += slew_smaller(q[c], 0);
        high += slew_larger(q[c], 0);
        slopes += c * fabs(q[c]);
    }
    double echo = fabs(f->echo) + fabs(f->echo_rate) * f->per_rate[j] + fabs(f->echo_square);
    double more = (slopes * f->per_length + echo) * f->per_rate[j];
    step->speed_low[j] = low - more;
    step->speed_high[j] = high + more;
}

/* one exponential from the start to the steady speed */
static void describe_plain(const slew_fixed_point *f, int j)
{
    slew_step *step = f->step;
    step->speed_low[j] = step->speed_high[j] = step->speed[j][0];
    double *angle = step->node_angle[SLEW_NODES - 1], *speed = step->node_speed[SLEW_NODES - 1];
    double *change = step->node_change[SLEW_NODES - 1];
    slew_step_at(step, step->length, speed, angle, change);
}

static void describe_step(const slew_fixed_point *f)
{
    slew_step *step = f->step;
    int moving = f->m->active[1];
    if (f->plain) {
        describe_plain(f, moving);
        return;
    }
    if (f->alone && f->stiff[moving] && !f->constant) {
        fill_nodes_alone(f, moving);
        bound_alone(f, moving);
        return;
    }
    fill_nodes(f);
    for (int j = 0; j < SLEW_AXES; j++)
        if (step->moves[j])
            bound(step, j);
}

/* torques and, unless the load is plain, their gradients */
static void ask_load(const slew_fixed_point *f, slew_torques *out)
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
    slew_fixed_point f;
    slew_modes_find(plant, &m);
    f.model = model;
    f.plant = plant;
    f.m = &m;
    f.step = &plant->step;
    f.alone = !(plant->moving[0] && plant->moving[1]);
    f.constant = load_is_constant(model, plant);
    f.plain = is_plain(&f);
    f.arc = (slew_arc){0, 0, 0};
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
