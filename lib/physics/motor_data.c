/*
 * motor_data.c - the figures of a motor that follow from others of its data sheet. M2.8
 *
 * Each given figure is one equation in four unknowns (motor_equations.h). Equations that
 * say something new are taken in their order, direct ones first, and solved together by Newton's
 * method; the rest is held against the solution.
 */
#include "physics/motor_equations.h"

#include <math.h>

#define SPEED SLEW_MOTOR_U_SPEED
#define STALL SLEW_MOTOR_U_STALL
#define IDLE  SLEW_MOTOR_U_IDLE
#define GEAR  SLEW_MOTOR_U_GEAR
enum { UNKNOWNS = SLEW_MOTOR_US };

static const double SAYS_NEW = 0.02;  /* of an equation, what is left of it beside the others */
static const double CLOSE = 1e-13;    /* of a solution */
static const double AGREES = 0.02;    /* relative, between figures of one data sheet */
static const double GUESS_IDLE = 0.1; /* no-load over stall current, unless it follows */
static const double GUESS_GEAR = 0.4;
enum { STEPS_MAX = 100, HALVINGS_MAX = 40 };

/* ---- a place to start from ---- */

static double first_of(double a, double b)
{
    return isnan(a) ? b : a;
}

static void guess(const slew_motor_data *d, double u[UNKNOWNS])
{
    const double *f = d->figure;
    double rated = first_of(slew_motor_rated_speed(d, false), slew_motor_rated_speed(d, true));
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
        slew_motor_slope(d, (slew_motor_figure)figure, u, row);
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
    return c->figure[k] == SLEW_MOTOR_FIGURES
               ? u[IDLE] - SLEW_MOTOR_IDLE_SHARE
               : slew_motor_residual(d, c->figure[k], d->viscous_share, u);
}

static double distance(const slew_motor_data *d, const choice *c, const double u[UNKNOWNS])
{
    double sum = 0;
    for (int k = 0; k < UNKNOWNS; k++)
        sum += fabs(taken_residual(d, c, k, u));
    return u[IDLE] >= 0 && u[IDLE] < 1 ? sum : NAN;
}

/* the row with the largest entry of the column takes the place of row k */
static void take_pivot(double a[UNKNOWNS][UNKNOWNS], double b[UNKNOWNS], int k)
{
    int best = k;
    for (int i = k + 1; i < UNKNOWNS; i++)
        best = fabs(a[i][k]) > fabs(a[best][k]) ? i : best;
    for (int j = 0; j <= UNKNOWNS; j++) {
        double *own = j < UNKNOWNS ? &a[k][j] : &b[k];
        double *other = j < UNKNOWNS ? &a[best][j] : &b[best];
        double kept = *own;
        *own = *other;
        *other = kept;
    }
}

/* a x = b by elimination; x takes the place of b. false: a is singular */
static bool solve(double a[UNKNOWNS][UNKNOWNS], double b[UNKNOWNS])
{
    for (int k = 0; k < UNKNOWNS; k++) {
        take_pivot(a, b, k);
        if (!(fabs(a[k][k]) > 1e-12))
            return false;
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
            slew_motor_slope(d, c->figure[k], u, a[k]);
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

/* of the taken figures the one that it depends on most */
static slew_motor_figure main_cause(const slew_motor_data *d, const choice *c,
                                    slew_motor_figure figure, const double u[UNKNOWNS])
{
    double a[UNKNOWNS][UNKNOWNS], across[UNKNOWNS][UNKNOWNS], row[UNKNOWNS];
    slopes(d, c, u, a);
    for (int i = 0; i < UNKNOWNS; i++)
        for (int k = 0; k < UNKNOWNS; k++)
            across[i][k] = a[k][i];
    slew_motor_slope(d, figure, u, row);
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
        double off = is_taken(c, figure) ? 0 : slew_motor_off_by(d, figure, u);
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
    if (!data)
        return found;
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
