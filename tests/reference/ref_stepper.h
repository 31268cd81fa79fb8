/*
 * ref_stepper.h - one door to the two general solvers.
 *
 * A stepper is made once and begins anew at every event: its solver objects are kept.
 */
#ifndef REF_STEPPER_H
#define REF_STEPPER_H

#include "ref_motion.h"
#include "reference.h"

typedef enum ref_step_end {
    REF_STEP_GOES_ON, /* one step further */
    REF_STEP_STOP,    /* the time asked for is reached */
    REF_STEP_ROOT,    /* an event is reached; see `found` */
    REF_STEP_FAILED
} ref_step_end;

typedef struct ref_stepper ref_stepper;

/* What a solver must do. */
typedef struct ref_stepper_kind {
    void *(*open)(ref_stepper *stepper);
    void (*close)(void *solver);
    bool (*begin)(ref_stepper *stepper, double t, const double y[], double until);
    ref_step_end (*step)(ref_stepper *stepper, double until);
    bool (*dense)(ref_stepper *stepper, double t, double y[]); /* inside the last step */
} ref_stepper_kind;

struct ref_stepper {
    const ref_stepper_kind *kind;
    void *solver;
    double rtol, atol;
    const ref_motion *motion; /* of the present segment */
    int states;
    double t, y[REF_STATES];   /* where the last step ended */
    double slope;              /* of the sum of the drive currents there */
    double last_t, last_slope; /* where the last step began */
    bool found[REF_ROOTS];
    ref_statistics statistics;
};

extern const ref_stepper_kind ref_stepper_cvode, ref_stepper_gsl;

/* `states` is that of every motion it will integrate. NULL: no memory. */
ref_stepper *ref_stepper_open(const ref_options *options, int states);
void ref_stepper_close(ref_stepper *stepper);

/* Starts a segment that is not to go beyond `until`, > t. */
bool ref_stepper_begin(ref_stepper *stepper, const ref_motion *motion, double t, const double y[],
                       double until);
ref_step_end ref_stepper_step(ref_stepper *stepper, double until);

/* For the solvers: the right-hand side, counted. */
void ref_stepper_rates(ref_stepper *stepper, const double y[], double dy[]);

/* The time in the last step at which the sum of the drive currents is largest; false: at an end. */
bool ref_stepper_current_peak(ref_stepper *stepper, double y[]);

/* A zero of f between a and b, where it has values fa and fb of different sign, to within `tol`. */
double ref_find_root(double (*f)(void *ctx, double x), void *ctx, double a, double fa, double b,
                     double fb, double tol);

#endif
