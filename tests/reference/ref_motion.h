/*
 * ref_motion.h - the smooth motion between two events: the right-hand side, and the functions whose
 * zeros are the next events.
 *
 * The continuous state is an array of numbers; all that jumps is in ref_motion and stays as it is
 * while a solver integrates.
 */
#ifndef REF_MOTION_H
#define REF_MOTION_H

#include "ref_machine.h"

/* Continuous state: angles [rad], motor speeds [rad/s], charge [A s], and with inductance the motor
 * currents, signed like the torque [A]. */
enum { REF_ANGLE = 0, REF_SPEED = 2, REF_CHARGE = 4, REF_CURRENT = 5, REF_STATES = 7 };

/* Root functions: six of each axis, three of the whole. */
enum {
    REF_ROOT_REST,    /* speed */
    REF_ROOT_KINK,    /* load and friction together change sign */
    REF_ROOT_PLACE,   /* nearest place ahead: stop, switch edge or keep-out bound */
    REF_ROOT_TRIP,    /* stall current */
    REF_ROOT_FORWARD, /* at rest: it starts, or does not hold in the + direction */
    REF_ROOT_BACK,    /* at rest: it is dragged back, or does not hold in the - direction */
    REF_ROOTS_PER_AXIS,
    REF_ROOT_SOURCE = 2 * REF_ROOTS_PER_AXIS, /* the auxiliary battery joins or leaves */
    REF_ROOT_BROWNOUT,
    REF_ROOT_FLOOR,
    REF_ROOTS
};

typedef struct ref_motion {
    const ref_machine *machine;
    bool inductance;
    double L[2];      /* [H] */
    int states;       /* REF_STATES, or without the currents */
    int s[2];         /* drive in true direction, 0: off */
    int q[2];         /* true direction of motion, 0: at rest */
    bool forward[2];  /* the gear carries load forward: tau >= 0 */
    double place[2];  /* what REF_ROOT_PLACE waits for; infinite: nothing [rad] */
    bool over[2];     /* drive current is at or over the stall current */
    bool joint;       /* the auxiliary battery carries current */
    bool under;       /* voltage is below brownout */
    bool below_floor; /* voltage is below the floor */
} ref_motion;

typedef struct ref_electric {
    double voltage;  /* at the controller [V] */
    double motor[2]; /* current of each motor, signed like its torque [A] */
    double drawn[2]; /* by each drive, 0 when off [A] */
    double sum;      /* of what is drawn [A] */
} ref_electric;

/* Voltages and currents at a state, in the supply regime of `motion`. */
void ref_electric_at(const ref_motion *motion, const double y[], ref_electric *out);

/* Sets the supply regime to the one that is consistent at this state. */
void ref_choose_source(ref_motion *motion, const double y[]);

/* q T + Tf at the output [N m] for motion in direction q. */
double ref_tau(const ref_motion *motion, int axis, int q, const double y[]);

/* The gear's g(tau), by the sign of tau. */
double ref_gear(const ref_axis *x, double tau);

/* Torque at the motor by which an axis at rest would begin to move [N m]; it does when positive.
 * back = false: driven it starts, not driven it does not hold in the + direction; back = true:
 * driven it is dragged back, not driven it does not hold in the - direction. */
double ref_rest_margin(const ref_motion *motion, int axis, bool back, const double y[],
                       const ref_electric *e);

/* True direction of the motion asked about by ref_rest_margin. */
int ref_rest_direction(const ref_motion *motion, int axis, bool back);

/* false: that way it rests on a stop. */
bool ref_rest_is_free(const ref_motion *motion, int axis, bool back, const double y[]);

/* The right-hand side. */
void ref_rates(const ref_motion *motion, const double y[], double dy[]);

/* Time derivative of the sum of the drive currents [A/s]. */
double ref_current_slope(const ref_motion *motion, const double dy[]);

/* Values of all root functions; one that waits for nothing is 1. */
void ref_roots(const ref_motion *motion, const double y[], double g[REF_ROOTS]);

/* In which direction each root function is awaited to cross zero, by the discrete state. */
void ref_root_directions(const ref_motion *motion, int direction[REF_ROOTS]);

#endif
