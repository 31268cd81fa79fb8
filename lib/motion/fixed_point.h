/*
 * fixed_point.h - the forcing along a step that agrees with the angles it brings about.
 *
 * One guess of the forcing gives the angles, the angles give the load torques, these give a better
 * forcing, and so on until nothing changes (M8.2).
 */
#ifndef SLEW_MOTION_FIXED_POINT_H
#define SLEW_MOTION_FIXED_POINT_H

#include "motion/dynamics.h"
#include "motion/modes.h"
#include "motion/step.h"

/* the load torque of an axis that alone turns by d: still + along cos d + across sin d */
typedef struct slew_arc {
    double still, along, across;
} slew_arc;

/* what the iteration works on: per mode, at the nodes */
typedef struct slew_fixed_point {
    const slew_plant_model *model;
    const slew_plant *plant;
    const slew_modes *m;
    slew_step *step;
    bool constant; /* the forcing does not change along the way */
    bool plain;    /* nor is anything asked along the way: one exponential, however long */
    bool alone;    /* one axis moves: its arc gives the torque */
    slew_arc arc;  /* of that axis */
    bool stiff[SLEW_AXES];
    double per_ratio[SLEW_AXES];
    double per_damping[SLEW_AXES]; /* of the axis by itself; infinite without [s] */
    double per_rate[SLEW_AXES];    /* of the mode; infinite without [s] */
    double per_length;             /* of the step [1/s] */
    double reach[SLEW_AXES];       /* how far a change of a mode's forcing moves an angle, about */
    double gain[SLEW_AXES]; /* of the forcing by its own integral over the step, a Newton step's */
    /* The exponential e of the turn comes back in the load torque: that part of the forcing,
     * (echo + echo_rate t + echo_square e) e, is taken out of the polynomial and solved for itself.
     * Axis alone; else 0. */
    double echo, echo_rate, echo_square;
    double echo_force[SLEW_NODES]; /* that part at the nodes */
    double echo_turn[SLEW_NODES];  /* and what it adds to the integral of y */
    double decay[SLEW_AXES][SLEW_NODES];
    double turn[SLEW_AXES][SLEW_NODES];  /* integral of y; of the axis alone: its angle turned */
    double pace[SLEW_AXES][SLEW_NODES];  /* y itself; soft modes only */
    double force[SLEW_AXES][SLEW_NODES]; /* forcing */
    double p[SLEW_AXES][SLEW_NODES];     /* its polynomial */
} slew_fixed_point;

/* 1/k */
extern const double slew_reciprocal[SLEW_NODES + 2];

/* the forcing's polynomial at the share x of the step; any other of that degree */
static inline double slew_forcing_at(const double p[SLEW_NODES], double x)
{
    double x2 = x * x;
    return ((p[0] + p[1] * x) + (p[2] + p[3] * x) * x2) +
           ((p[4] + p[5] * x) + (p[6] + p[7] * x) * x2) * (x2 * x2);
}

/* The echo in the speed and in the turn of the axis that alone moves. */
slew_echo slew_fixed_point_echo_of_speed(const slew_fixed_point *f, int k);
slew_echo slew_fixed_point_echo_of_turn(const slew_fixed_point *f, int k);

/* What the step's length decides: which modes are stiff, and how far a forcing reaches. */
void slew_fixed_point_begin(slew_fixed_point *f);

/* A first guess of the forcing, from the load torques at the start. */
void slew_fixed_point_predict(slew_fixed_point *f, const slew_torques *torques);

/* Iterates; the error of the fit as an angle [rad], INFINITY if it does not settle. */
double slew_fixed_point_iterate(slew_fixed_point *f);

/* Quasi-steady speed q of a stiff mode: the polynomial with dq/dt = p - rate q. */
void slew_fixed_point_steady_speed(const slew_fixed_point *f, int k, double q[SLEW_NODES]);

/* Speed and angle of a soft mode as polynomials. */
void slew_fixed_point_integrate_soft(const slew_fixed_point *f, int k, double speed[SLEW_NODES + 1],
                                     double angle[SLEW_NODES + 2]);

/* a mode decays within the step by at least exp(-2), or by so little that its decay is forcing */
#define SLEW_STIFF_FROM 2.0
#define SLEW_SOFT_UP_TO 0.25

#endif
