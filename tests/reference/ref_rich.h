/*
 * ref_rich.h - one axis with one more effect than lib/MODEL.md has, by SUNDIALS CVODE: to measure
 * what leaving it out costs. Elevation alone, from homing to the deploy; rotation stands at 0.
 *
 * Effects go by themselves (ref_rich_run) or together (ref_truth_*). Friction is smoothed over
 * REF_RICH_CREEP of motor speed, with and without the effect alike.
 */
#ifndef REF_RICH_H
#define REF_RICH_H

#include "ref_machine.h"
#include "slewtime/scenario.h"

#define REF_RICH_CREEP 0.02 /* [rad/s] */

typedef enum ref_effect {
    REF_PLAIN,
    REF_INDUCTANCE, /* L/R of 1 ms */
    REF_STRIBECK,   /* all Coulomb friction is `breakaway` times as large at rest, less by exp(-x^2)
                       with x = speed/5 % of the no-load speed */
    REF_BACKLASH,   /* 0.2 deg at the output between rotor and load, and a shaft that stall torque
                       twists by 0.3 deg, 5 % of critical damping */
    REF_BATTERY,    /* the source has its internal resistance once more, after 10 s (RC) */
    REF_GREASE,     /* viscous drag goes with the power 2/3 of speed, the same at no-load speed */
    REF_SOFT_STOP,  /* stall torque presses the stop in by 0.2 deg; else by 0.002 deg */
    REF_EFFECTS
} ref_effect;

typedef struct ref_rich {
    double stored;       /* taught time, signed [s] */
    double stow, deploy; /* where elevation rests [rad] */
} ref_rich;

/* Taught at the point, homed and stowed today, deployed on the deploy day, all with the effect.
 * `pressed`: the stow drives on to the lower stop and 0.25 s against it. The three setups are
 * resolved, without an auxiliary battery. 0, or nonzero if the solver fails or no time leads to the
 * point. */
int ref_rich_run(const slew_scenario *scenario, const slew_setup setup[3], ref_effect effect,
                 bool pressed, ref_rich *out);

/* ---- one occasion, with any of the effects together ---- */

enum { REF_STATES = 6 };

typedef struct ref_truth {
    unsigned effects; /* 1u << REF_INDUCTANCE and so on */
    double accuracy;  /* of the solver, as a share */
    ref_machine machine;
    double battery;      /* internal resistance [ohm] */
    double JL;           /* of the load, at the output */
    double no_load;      /* speed of the motor [rad/s] */
    double stall_torque; /* at the output [N m] */
    int drive;           /* +1, -1, 0: off */
    double edge;         /* whose passing ends a part of the way [rad] */
} ref_truth;

/* What is read of a travel: how long it takes [s], and half way the voltage at the controller [V]
 * and the current of the drive [A]. */
typedef struct ref_meters {
    double seconds, voltage, current;
} ref_meters;

/* All of these: false if the setup makes no machine, the solver fails or it does not arrive. */
bool ref_truth_build(const slew_setup *setup, unsigned effects, double accuracy, ref_truth *out);

/* The time that leads from home to `point` [s]. */
bool ref_truth_teach(ref_truth *t, const slew_setup *setup, double point, double *stored);

/* Homing and `seconds` after it; ref_truth_angle says where that rests [rad]. */
bool ref_truth_stow(ref_truth *t, const slew_setup *setup, double seconds, double y[REF_STATES]);
double ref_truth_angle(const double y[REF_STATES]);

/* From standstill at `from` until `to` is passed. */
bool ref_truth_travel(ref_truth *t, double from, double to, ref_meters *out);

/* Where it rests, driven up from `angle` for each of `seconds`, which grow [rad]. */
bool ref_truth_deploy(ref_truth *t, double angle, int count, const double seconds[], double rest[]);

#endif
