/*
 * ref_rich.c - see ref_rich.h.
 */
#include "ref_rich.h"

#include <cvode/cvode.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <string.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

#include "ref_machine.h"

#define DEGREE (3.14159265358979323846 / 180.0)

enum { E = SLEW_ELEVATION };

/* rotor as an angle of the output, its own speed; load; current; what the battery has sagged */
enum { ROTOR, ROTOR_SPEED, LOAD, LOAD_SPEED, CURRENT, SAG };

static bool has(const ref_truth *t, ref_effect effect)
{
    return t->effects & 1u << effect;
}

/* ---- torques ---- */

static double toward(double speed, double creep)
{
    return tanh(speed / creep);
}

static double through_gear(const ref_axis *x, double torque)
{
    return torque >= 0.0 ? torque / x->eta : x->eta_b * torque;
}

/* both directions of motion mixed by how far the speed has one */
static double geared(const ref_axis *x, double way, double forward, double backward)
{
    return ((1.0 + way) * through_gear(x, forward) - (1.0 - way) * through_gear(x, backward)) /
           (2.0 * x->N);
}

static double stribeck(const ref_truth *t, double motor_speed)
{
    double share = motor_speed / (0.05 * t->no_load);
    double more = t->machine.axis[E].breakaway - 1.0;
    return has(t, REF_STRIBECK) ? 1.0 + more * exp(-share * share) : 1.0;
}

static double viscous(const ref_truth *t, double speed)
{
    double share = speed / t->no_load, b = t->machine.axis[E].b;
    return has(t, REF_GREASE) ? b * speed / cbrt(sqrt(share * share + 1e-6)) : b * speed;
}

static double stop_torque(const ref_truth *t, double angle, double speed)
{
    double into = t->machine.axis[E].low - angle;
    double k = t->stall_torque / ((has(t, REF_SOFT_STOP) ? 0.2 : 0.002) * DEGREE);
    return into > 0.0 ? fmin(-k * into + 0.02 * k * speed, 0.0) : 0.0;
}

static double load_torque(const ref_truth *t, double angle, double speed)
{
    return ref_load_torque(&t->machine, E, 0.0, angle) + stop_torque(t, angle, speed);
}

static double shaft_torque(const ref_truth *t, const double y[])
{
    double k = t->stall_torque / (0.3 * DEGREE), half = 0.1 * DEGREE;
    double twist = y[ROTOR] - y[LOAD];
    double slide = y[ROTOR_SPEED] / t->machine.axis[E].N - y[LOAD_SPEED];
    double damping = 2.0 * 0.05 * sqrt(k * t->JL);
    if (fabs(twist) <= half)
        return 0.0;
    return k * (twist - copysign(half, twist)) + damping * slide;
}

/* ---- current ---- */

static double settled_current(const ref_truth *t, const double y[])
{
    const ref_axis *x = &t->machine.axis[E];
    double back = x->K * y[ROTOR_SPEED];
    double source = t->drive * (t->machine.line_E - y[SAG] - x->drop);
    return t->drive ? (source - back) / (x->R + t->machine.line_R) : -back / x->R;
}

static double current_rate(const ref_truth *t, const double y[])
{
    const ref_axis *x = &t->machine.axis[E];
    double loop = x->R + (t->drive ? t->machine.line_R : 0.0);
    return (settled_current(t, y) - y[CURRENT]) * loop / (1e-3 * x->R);
}

/* ---- the equations of motion ---- */

static void one_mass(const ref_truth *t, const double y[], double torque, double dy[])
{
    const ref_axis *x = &t->machine.axis[E];
    double w = y[ROTOR_SPEED], way = toward(w, REF_RICH_CREEP);
    double T = load_torque(t, y[LOAD], y[LOAD_SPEED]), Tf = x->friction * stribeck(t, w);
    dy[ROTOR_SPEED] = (torque - geared(x, way, T + Tf, Tf - T)) / x->J;
    dy[LOAD] = w / x->N;
    dy[LOAD_SPEED] = dy[ROTOR_SPEED] / x->N;
}

static void two_masses(const ref_truth *t, const double y[], double torque, double dy[])
{
    const ref_axis *x = &t->machine.axis[E];
    double way = toward(y[ROTOR_SPEED], REF_RICH_CREEP), shaft = shaft_torque(t, y);
    double friction = x->friction * toward(y[LOAD_SPEED], REF_RICH_CREEP / x->N);
    double rotor = x->J - t->JL / (x->N * x->N);
    dy[ROTOR_SPEED] = (torque - geared(x, way, shaft, -shaft)) / rotor;
    dy[LOAD] = y[LOAD_SPEED];
    dy[LOAD_SPEED] = (shaft - load_torque(t, y[LOAD], y[LOAD_SPEED]) - friction) / t->JL;
}

static int rates(realtype time, N_Vector state, N_Vector change, void *user)
{
    const ref_truth *t = user;
    const ref_axis *x = &t->machine.axis[E];
    const double *y = N_VGetArrayPointer(state);
    double *dy = N_VGetArrayPointer(change), w = y[ROTOR_SPEED];
    double current = has(t, REF_INDUCTANCE) ? y[CURRENT] : settled_current(t, y);
    double drag = x->Tc * stribeck(t, w) * toward(w, REF_RICH_CREEP) + viscous(t, w);
    (void)time;
    dy[ROTOR] = w / x->N;
    dy[CURRENT] = has(t, REF_INDUCTANCE) ? current_rate(t, y) : 0.0;
    dy[SAG] = has(t, REF_BATTERY) ? (t->battery * current * t->drive - y[SAG]) / 10.0 : 0.0;
    if (has(t, REF_BACKLASH))
        two_masses(t, y, x->K * current - drag, dy);
    else
        one_mass(t, y, x->K * current - drag, dy);
    return 0;
}

static int edge_passed(realtype time, N_Vector state, realtype *g, void *user)
{
    const ref_truth *t = user;
    (void)time;
    g[0] = N_VGetArrayPointer(state)[LOAD] - t->edge;
    return 0;
}

/* ---- parts of the way ---- */

/* Goes on until the edge is passed, or for `seconds`: *at says how long. false: the solver failed,
 * or there was an edge and it was not reached. */
static bool go_on(ref_truth *t, double y[], int drive, double seconds, bool to_edge, double *at)
{
    SUNContext context;
    SUNContext_Create(NULL, &context);
    N_Vector state = N_VMake_Serial(REF_STATES, y, context);
    SUNMatrix matrix = SUNDenseMatrix(REF_STATES, REF_STATES, context);
    SUNLinearSolver linear = SUNLinSol_Dense(state, matrix, context);
    void *cvode = CVodeCreate(CV_BDF, context);
    t->drive = drive;
    CVodeInit(cvode, rates, 0.0, state);
    CVodeSetUserData(cvode, t);
    CVodeSStolerances(cvode, t->accuracy, t->accuracy / 100.0);
    CVodeSetLinearSolver(cvode, linear, matrix);
    CVodeSetMaxNumSteps(cvode, 2000000);
    CVodeSetStopTime(cvode, seconds);
    if (to_edge)
        CVodeRootInit(cvode, 1, edge_passed);
    int status = seconds > 0.0 ? CVode(cvode, seconds, state, at, CV_NORMAL) : CV_SUCCESS;
    CVodeFree(&cvode);
    SUNLinSolFree(linear);
    SUNMatDestroy(matrix);
    N_VDestroy(state);
    SUNContext_Free(&context);
    return to_edge ? status == CV_ROOT_RETURN : status >= 0;
}

static bool go(ref_truth *t, double y[], int drive, double seconds, bool to_edge)
{
    double at;
    return go_on(t, y, drive, seconds, to_edge, &at);
}

static void place(double y[], double angle)
{
    memset(y, 0, REF_STATES * sizeof *y);
    y[ROTOR] = y[LOAD] = angle;
}

/* drives, and runs out: then the speed that friction is smoothed over is taken away */
static bool move(ref_truth *t, double y[], double seconds)
{
    int drive = seconds > 0.0 ? 1 : -1;
    bool ok = go(t, y, drive, fabs(seconds), false) && go(t, y, 0, 1.0, false);
    y[ROTOR_SPEED] = y[LOAD_SPEED] = y[CURRENT] = 0.0;
    return ok;
}

/* down to the edge of the home sensor, and on for the latency */
static bool home(ref_truth *t, double y[], const slew_setup *setup)
{
    const slew_home *h = &setup->axis[E].home;
    t->edge = h->angle + h->operate;
    place(y, t->edge + 8.0 * DEGREE);
    return go(t, y, -1, 30.0, true) && move(t, y, -setup->controller.latency);
}

/* drives on to the lower stop and against it */
static bool press(ref_truth *t, double y[])
{
    t->edge = t->machine.axis[E].low;
    return go(t, y, -1, 60.0, true) && move(t, y, -0.25);
}

/* ---- all of it ---- */

bool ref_truth_build(const slew_setup *setup, unsigned effects, double accuracy, ref_truth *t)
{
    char why[200];
    const slew_axis_setup *a = &setup->axis[E];
    *t = (ref_truth){.effects = effects,
                     .accuracy = accuracy,
                     .battery = setup->supply.main.resistance,
                     .JL = fmax(a->load.inertia, 0.1),
                     .no_load = a->motor.no_load_speed};
    if (!ref_machine_build(setup, &t->machine, why, sizeof why))
        return false;
    const ref_axis *x = &t->machine.axis[E];
    t->stall_torque = x->K * a->motor.stall_current * x->N * x->eta;
    return true;
}

/* where homing and `seconds` lead */
bool ref_truth_stow(ref_truth *t, const slew_setup *setup, double seconds, double y[REF_STATES])
{
    return home(t, y, setup) && move(t, y, seconds);
}

bool ref_truth_teach(ref_truth *t, const slew_setup *setup, double point, double *stored)
{
    double y[REF_STATES], slow = -20.0, fast = 20.0;
    for (int i = 0; i < 34; i++) {
        *stored = (slow + fast) / 2.0;
        if (!ref_truth_stow(t, setup, *stored, y))
            return false;
        if (y[LOAD] < point)
            slow = *stored;
        else
            fast = *stored;
    }
    return fabs(y[LOAD] - point) < 1e-6;
}

/* ---- what is seen of it ---- */

static void read_meters(const ref_truth *t, const double y[], ref_meters *out)
{
    double current = has(t, REF_INDUCTANCE) ? y[CURRENT] : settled_current(t, y);
    out->current = t->drive * current;
    out->voltage = t->machine.line_E - y[SAG] - t->machine.line_R * out->current;
}

bool ref_truth_travel(ref_truth *t, double from, double to, ref_meters *out)
{
    double y[REF_STATES], first, rest;
    int drive = to > from ? 1 : -1;
    place(y, from);
    t->edge = (from + to) / 2;
    if (!go_on(t, y, drive, 100.0, true, &first))
        return false;
    read_meters(t, y, out);
    t->edge = to;
    bool ok = go_on(t, y, drive, 100.0, true, &rest);
    out->seconds = first + rest;
    return ok;
}

bool ref_truth_deploy(ref_truth *t, double angle, int count, const double seconds[], double rest[])
{
    double y[REF_STATES], still[REF_STATES];
    place(y, angle);
    for (int i = 0; i < count; i++) {
        if (!go(t, y, 1, seconds[i] - (i > 0 ? seconds[i - 1] : 0.0), false))
            return false;
        memcpy(still, y, sizeof y);
        if (!go(t, still, 0, 1.0, false))
            return false;
        rest[i] = still[LOAD];
    }
    return true;
}

double ref_truth_angle(const double y[REF_STATES])
{
    return y[LOAD];
}

int ref_rich_run(const slew_scenario *scenario, const slew_setup setup[3], ref_effect effect,
                 bool pressed, ref_rich *out)
{
    ref_truth taught, today, later;
    double y[REF_STATES];
    for (int i = 0; i < 3; i++)
        if (!ref_truth_build(&setup[i], 1u << effect, 1e-9,
                             i == 0   ? &taught
                             : i == 1 ? &today
                                      : &later))
            return 1;
    if (!ref_truth_teach(&taught, &setup[0], scenario->stow.point[E], &out->stored) ||
        !ref_truth_stow(&today, &setup[1], out->stored, y) || (pressed && !press(&today, y)))
        return 2;
    out->stow = y[LOAD];
    y[SAG] = 0.0;
    if (!move(&later, y, scenario->deploy.seconds[E]))
        return 3;
    out->deploy = y[LOAD];
    return 0;
}
