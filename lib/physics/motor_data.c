/*
 * motor_data.c - the figures of a motor that follow from others of its data sheet. M2.8
 *
 * Each given figure is one equation in four unknowns: the logarithms of no-load speed, stall
 * current and efficiency, and the no-load current as a share of the stall current. Equations that
 * say something new are taken in their order, direct ones first, and solved together by Newton's
 * method; the rest is held against the solution.
 */
#include "slewtime/physics.h"

#include <math.h>

enum { SPEED, STALL, IDLE, GEAR, UNKNOWNS }; /* what the unknowns are */

static const double SAYS_NEW = 0.02;  /* of an equation, what is left of it beside the others */
static const double STEP = 1e-6;      /* of a difference quotient */
static const double CLOSE = 1e-13;    /* of a solution */
static const double AGREES = 0.02;    /* relative, between figures of one data sheet */
static const double GUESS_IDLE = 0.1; /* no-load over stall current, unless it follows */
static const double GUESS_GEAR = 0.4;
enum { STEPS_MAX = 100, HALVINGS_MAX = 40 };

/* ---- the equations ---- */

static bool is_output(slew_motor_figure figure)
{
    return figure >= SLEW_MOTOR_OUTPUT_NO_LOAD_SPEED;
}

/* speed of a rated point at the motor shaft; NaN: not given */
static double rated_speed(const slew_motor_data *d, bool output)
{
    return output ? d->figure[SLEW_MOTOR_OUTPUT_RATED_SPEED] * d->ratio
                  : d->figure[SLEW_MOTOR_RATED_SPEED];
}

/* the rated point's share of the no-load speed: by its speed, or else by its current */
static double rated_share(const slew_motor_data *d, bool output, const double u[UNKNOWNS])
{
    double speed = rated_speed(d, output);
    double current = d->figure[output ? SLEW_MOTOR_OUTPUT_RATED_CURRENT : SLEW_MOTOR_RATED_CURRENT];
    return isnan(speed) ? (1 - current / exp(u[STALL])) / (1 - u[IDLE]) : speed / exp(u[SPEED]);
}

/* log of the torque at a share of the no-load speed: K Is (1 - (1 - v) y) (1 - share) */
static double log_torque(const slew_motor_data *d, bool output, double share, double viscous,
                         const double u[UNKNOWNS])
{
    double gear = output ? log(d->ratio) + u[GEAR] : 0;
    return log(d->voltage * (1 - u[IDLE])) - u[SPEED] + u[STALL] +
           log(1 - (1 - viscous) * u[IDLE]) + log(1 - share) + gear;
}

/* what the model has above what is given, relative; NaN: the figure says nothing */
static double residual(const slew_motor_data *d, slew_motor_figure figure, double viscous,
                       const double u[UNKNOWNS])
{
    double given = d->figure[figure];
    bool output = is_output(figure);
    switch (figure) {
    case SLEW_MOTOR_NO_LOAD_SPEED:
        return u[SPEED] - log(given);
    case SLEW_MOTOR_OUTPUT_NO_LOAD_SPEED:
        return u[SPEED] - log(given * d->ratio);
    case SLEW_MOTOR_STALL_CURRENT:
        return u[STALL] - log(given);
    case SLEW_MOTOR_RESISTANCE:
        return log(d->voltage / given) - u[STALL];
    case SLEW_MOTOR_NO_LOAD_CURRENT:
        return u[IDLE] - given / exp(u[STALL]);
    case SLEW_MOTOR_EFFICIENCY:
        return u[GEAR] - log(given);
    case SLEW_MOTOR_STALL_TORQUE:
    case SLEW_MOTOR_OUTPUT_STALL_TORQUE:
        return log_torque(d, output, 0, viscous, u) - log(given);
    case SLEW_MOTOR_RATED_TORQUE:
    case SLEW_MOTOR_OUTPUT_RATED_TORQUE:
        return log_torque(d, output, rated_share(d, output, u), viscous, u) - log(given);
    case SLEW_MOTOR_RATED_CURRENT:
    case SLEW_MOTOR_OUTPUT_RATED_CURRENT:
        return u[STALL] + log(1 - (1 - u[IDLE]) * rated_speed(d, output) / exp(u[SPEED])) -
               log(given);
    default: /* the speed of a rated point says something beside its torque or current alone */
        return NAN;
    }
}

static void slope(const slew_motor_data *d, slew_motor_figure figure, const double u[UNKNOWNS],
                  double out[UNKNOWNS])
{
    for (int i = 0; i < UNKNOWNS; i++) {
        double moved[UNKNOWNS] = {u[0], u[1], u[2], u[3]};
        moved[i] = u[i] + STEP;
        out[i] = residual(d, figure, d->viscous_share, moved);
        moved[i] = u[i] - STEP;
        out[i] = (out[i] - residual(d, figure, d->viscous_share, moved)) / (2 * STEP);
    }
}

/* ---- a place to start from ---- */

static double first_of(double a, double b)
{
    return isnan(a) ? b : a;
}

static void guess(const slew_motor_data *d, double u[UNKNOWNS])
{
    const double *f = d->figure;
    double rated = first_of(rated_speed(d, false), rated_speed(d, true));
    double current = first_of(f[SLEW_MOTOR_RATED_CURRENT], f[SLEW_MOTOR_OUTPUT_RATED_CURRENT]);
    double speed = first_of(f[SLEW_MOTOR_NO_LOAD_SPEED],
                            first_of(f[SLEW_MOTOR_OUTPUT_NO_LOAD_SPEED] * d->ratio, 1.25 * rated));
    double idle = first_of(f[SLEW_MOTOR_NO_LOAD_CURRENT], current / 3);
    double stall = first_of(f[SLEW_MOTOR_STALL_CURRENT], d->voltage / f[SLEW_MOTOR_RESISTANCE]);
    speed = first_of(speed, 300);
    double least = fmax(idle / GUESS_IDLE, 3 * current);
    stall = first_of(stall, least > 0 ? least : 20);
    u[SPEED] = log(speed);
    u[STALL] = log(stall);
    u[IDLE] = fmin(first_of(idle / stall, GUESS_IDLE), 0.9);
    u[GEAR] = log(first_of(f[SLEW_MOTOR_EFFICIENCY], GUESS_GEAR));
}

/* ---- which equations are taken ---- */

typedef struct choice {
    int count;
    slew_motor_figure figure[UNKNOWNS];   /* SLEW_MOTOR_FIGURES: that the idle share is assumed */
    double direction[UNKNOWNS][UNKNOWNS]; /* orthonormal */
} choice;

static double dot(const double a[UNKNOWNS], const double b[UNKNOWNS])
{
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3];
}

/* leaves of the row what the taken ones do not say; returns its length */
static double what_is_new(const choice *c, double row[UNKNOWNS])
{
    for (int k = 0; k < c->count; k++) {
        double along = dot(row, c->direction[k]);
        for (int i = 0; i < UNKNOWNS; i++)
            row[i] -= along * c->direction[k][i];
    }
    return sqrt(dot(row, row));
}

static void take_if_new(choice *c, slew_motor_figure figure, double row[UNKNOWNS])
{
    double length = sqrt(dot(row, row)), left = what_is_new(c, row);
    if (!(left > SAYS_NEW * length))
        return;
    for (int i = 0; i < UNKNOWNS; i++)
        c->direction[c->count][i] = row[i] / left;
    c->figure[c->count++] = figure;
}

/* true: what is taken says how large this unknown is */
static bool is_told(const choice *c, int unknown)
{
    double alone[UNKNOWNS] = {0};
    alone[unknown] = 1;
    return what_is_new(c, alone) < 1e-6;
}

static choice choose(const slew_motor_data *d, const double u[UNKNOWNS])
{
    choice c = {0};
    for (int figure = 0; figure < SLEW_MOTOR_FIGURES && c.count < UNKNOWNS; figure++) {
        double row[UNKNOWNS];
        slope(d, (slew_motor_figure)figure, u, row);
        if (isfinite(row[0] + row[1] + row[2] + row[3]))
            take_if_new(&c, (slew_motor_figure)figure, row);
    }
    double assumed[UNKNOWNS] = {[IDLE] = 1};
    if (c.count == UNKNOWNS - 1 && is_told(&c, SPEED) && is_told(&c, STALL))
        take_if_new(&c, SLEW_MOTOR_FIGURES, assumed);
    return c;
}

/* ---- solving them ---- */

static double taken_residual(const slew_motor_data *d, const choice *c, int k,
                             const double u[UNKNOWNS])
{
    return c->figure[k] == SLEW_MOTOR_FIGURES ? u[IDLE] - SLEW_MOTOR_IDLE_SHARE
                                              : residual(d, c->figure[k], d->viscous_share, u);
}

static double distance(const slew_motor_data *d, const choice *c, const double u[UNKNOWNS])
{
    double sum = 0;
    for (int k = 0; k < UNKNOWNS; k++)
        sum += fabs(taken_residual(d, c, k, u));
    return u[IDLE] >= 0 && u[IDLE] < 1 ? sum : NAN;
}

/* a x = b by elimination with pivots; x takes the place of b. false: a is singular */
static bool solve(double a[UNKNOWNS][UNKNOWNS], double b[UNKNOWNS])
{
    for (int k = 0; k < UNKNOWNS; k++) {
        int best = k;
        for (int i = k + 1; i < UNKNOWNS; i++)
            best = fabs(a[i][k]) > fabs(a[best][k]) ? i : best;
        if (!(fabs(a[best][k]) > 1e-12))
            return false;
        for (int j = 0; j < UNKNOWNS; j++) {
            double kept = a[k][j];
            a[k][j] = a[best][j];
            a[best][j] = kept;
        }
        double kept = b[k];
        b[k] = b[best];
        b[best] = kept;
        for (int i = 0; i < UNKNOWNS; i++) {
            double times = i == k ? 0 : a[i][k] / a[k][k];
            for (int j = 0; j < UNKNOWNS; j++)
                a[i][j] -= times * a[k][j];
            b[i] -= times * b[k];
        }
    }
    for (int k = 0; k < UNKNOWNS; k++)
        b[k] /= a[k][k];
    return true;
}

static void slopes(const slew_motor_data *d, const choice *c, const double u[UNKNOWNS],
                   double a[UNKNOWNS][UNKNOWNS])
{
    for (int k = 0; k < UNKNOWNS; k++) {
        a[k][SPEED] = a[k][STALL] = a[k][GEAR] = 0;
        a[k][IDLE] = 1;
        if (c->figure[k] != SLEW_MOTOR_FIGURES)
            slope(d, c->figure[k], u, a[k]);
    }
}

/* one step, halved until it comes nearer; false: it does not */
static bool step_nearer(const slew_motor_data *d, const choice *c, double u[UNKNOWNS])
{
    double a[UNKNOWNS][UNKNOWNS], move[UNKNOWNS], before = distance(d, c, u);
    slopes(d, c, u, a);
    for (int k = 0; k < UNKNOWNS; k++)
        move[k] = taken_residual(d, c, k, u);
    if (!solve(a, move))
        return false;
    double part = 1;
    for (int i = 0; i < HALVINGS_MAX; i++, part /= 2) {
        double there[UNKNOWNS];
        for (int k = 0; k < UNKNOWNS; k++)
            there[k] = u[k] - part * move[k];
        if (!(distance(d, c, there) < before))
            continue;
        for (int k = 0; k < UNKNOWNS; k++)
            u[k] = there[k];
        return true;
    }
    return false;
}

static bool solve_from(const slew_motor_data *d, const choice *c, double u[UNKNOWNS])
{
    for (int i = 0; i < STEPS_MAX && distance(d, c, u) > CLOSE; i++)
        if (!step_nearer(d, c, u))
            break;
    return distance(d, c, u) < 1e-9 && u[GEAR] <= 1e-9;
}

/* from the guess, and from others where that leads nowhere */
static bool solve_all(const slew_motor_data *d, const choice *c, double u[UNKNOWNS])
{
    static const double stall[] = {1, 2, 0.5, 4}, idle[] = {1, 0.3, 2};
    for (int i = 0; i < 12; i++) {
        double there[UNKNOWNS] = {u[SPEED], u[STALL] + log(stall[i % 4]), u[IDLE] * idle[i / 4],
                                  u[GEAR]};
        if (!solve_from(d, c, there))
            continue;
        for (int k = 0; k < UNKNOWNS; k++)
            u[k] = there[k];
        return true;
    }
    return false;
}

/* ---- what is too much ---- */

static bool is_taken(const choice *c, slew_motor_figure figure)
{
    for (int k = 0; k < c->count; k++)
        if (c->figure[k] == figure)
            return true;
    return false;
}

/* of a rated point torque and current say something, with its speed or each other */
static bool says_something(const slew_motor_data *d, slew_motor_figure figure)
{
    bool output = is_output(figure), has_speed = !isnan(rated_speed(d, output));
    bool is_torque = figure == SLEW_MOTOR_RATED_TORQUE || figure == SLEW_MOTOR_OUTPUT_RATED_TORQUE;
    double current = d->figure[output ? SLEW_MOTOR_OUTPUT_RATED_CURRENT : SLEW_MOTOR_RATED_CURRENT];
    if (isnan(d->figure[figure]) || (output && isnan(d->ratio)))
        return false;
    if (figure == SLEW_MOTOR_RATED_SPEED || figure == SLEW_MOTOR_OUTPUT_RATED_SPEED)
        return false;
    if (figure == SLEW_MOTOR_RATED_CURRENT || figure == SLEW_MOTOR_OUTPUT_RATED_CURRENT)
        return has_speed;
    return !is_torque || has_speed || !isnan(current);
}

/* by how much a figure is off, whatever share of the losses its sheet counts at standstill */
static double off_by(const slew_motor_data *d, slew_motor_figure figure, const double u[UNKNOWNS])
{
    double a = residual(d, figure, 0, u), b = residual(d, figure, 1, u);
    double least = fmin(fabs(a), fabs(b));
    if (isnan(a + b)) /* a rated point beyond the no-load speed or the stall current */
        return INFINITY;
    return a * b <= 0 ? 0 : a > 0 ? least : -least;
}

/* of the taken figures the one that it depends on most */
static slew_motor_figure main_cause(const slew_motor_data *d, const choice *c,
                                    slew_motor_figure figure, const double u[UNKNOWNS])
{
    double a[UNKNOWNS][UNKNOWNS], across[UNKNOWNS][UNKNOWNS], row[UNKNOWNS];
    slopes(d, c, u, a);
    for (int i = 0; i < UNKNOWNS; i++)
        for (int k = 0; k < UNKNOWNS; k++)
            across[i][k] = a[k][i];
    slope(d, figure, u, row);
    int best = 0;
    if (solve(across, row))
        for (int k = 0; k < UNKNOWNS; k++)
            best = fabs(row[k]) > fabs(row[best]) + 1e-6 ? k : best;
    return c->figure[best];
}

static void hold_against(const slew_motor_data *d, const choice *c, const double u[UNKNOWNS],
                         slew_motor_found *found)
{
    for (int i = 0; i < SLEW_MOTOR_FIGURES; i++) {
        slew_motor_figure figure = (slew_motor_figure)i;
        bool too_much = says_something(d, figure) && !is_taken(c, figure);
        double off = too_much ? off_by(d, figure, u) : 0;
        if (fabs(off) <= log1p(AGREES) || fabs(off) <= fabs(found->off))
            continue;
        found->off = off;
        found->figure = figure;
        found->other = main_cause(d, c, figure, u);
    }
}

/* ---- all together ---- */

static void say_missing(const choice *c, slew_motor_found *found)
{
    static const slew_motor_figure figure[UNKNOWNS] = {
        SLEW_MOTOR_NO_LOAD_SPEED, SLEW_MOTOR_STALL_CURRENT, SLEW_MOTOR_NO_LOAD_CURRENT,
        SLEW_MOTOR_EFFICIENCY};
    for (int i = 0; i < UNKNOWNS; i++)
        found->missing[figure[i]] = !is_told(c, i);
}

/* what is given directly keeps its digits */
static void fill_in(const slew_motor_data *d, const double u[UNKNOWNS], slew_motor_found *found)
{
    const double *f = d->figure;
    found->no_load_speed = first_of(f[SLEW_MOTOR_NO_LOAD_SPEED], exp(u[SPEED]));
    found->stall_current = first_of(f[SLEW_MOTOR_STALL_CURRENT], exp(u[STALL]));
    found->no_load_current = first_of(f[SLEW_MOTOR_NO_LOAD_CURRENT], u[IDLE] * exp(u[STALL]));
    found->efficiency = first_of(f[SLEW_MOTOR_EFFICIENCY], fmin(exp(u[GEAR]), 1));
}

slew_motor_found slew_motor_from_data(const slew_motor_data *data)
{
    slew_motor_found found = {.state = SLEW_MOTOR_LACKS};
    double u[UNKNOWNS];
    guess(data, u);
    choice c = choose(data, u);
    if (c.count < UNKNOWNS) {
        say_missing(&c, &found);
        return found;
    }
    found.idle_is_assumed = is_taken(&c, SLEW_MOTOR_FIGURES);
    found.state = SLEW_MOTOR_CONTRADICTS;
    found.figure = c.figure[UNKNOWNS - 1 - (found.idle_is_assumed ? 1 : 0)];
    if (!solve_all(data, &c, u))
        return found;
    found.state = SLEW_MOTOR_FOUND;
    fill_in(data, u, &found);
    hold_against(data, &c, u, &found);
    return found;
}

/* M2.9 */
double slew_motor_typical_inertia(slew_motor motor)
{
    return SLEW_MOTOR_TYPICAL_TIME * motor.constant * motor.constant / motor.resistance;
}
