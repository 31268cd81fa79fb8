/*
 * reference.h - a second, slower implementation of the whole model, for comparison only.
 *
 * It shares nothing with the library but the plain data of scenario.h and run.h: the physics, the
 * event logic, the controller and the teaching are written anew, and the motion is integrated by a
 * general solver (SUNDIALS CVODE, or the Cash-Karp method of GSL) that is stopped at every event.
 * It allocates, and it is meant for tests and benchmarks.
 */
#ifndef REFERENCE_H
#define REFERENCE_H

#include <stdbool.h>
#include <stddef.h>

#include "slewtime/run.h"

typedef enum ref_solver {
    REF_CVODE,   /* Adams, Newton with a dense matrix, roots by CVodeRootInit */
    REF_GSL_RKCK /* Runge-Kutta Cash-Karp, roots bracketed and refined by shorter steps */
} ref_solver;

/* Where the energy of a run has come from and gone to [J]. M1 to M3:
 * supplied = line + other + drives + motors + friction + gears + jet + stops + lifted + kinetic. */
typedef struct ref_balance {
    double supplied; /* by main source and auxiliary battery, less what they took back */
    double line;     /* heat of both sources and the feed */
    double other;    /* other equipment at the controller */
    double drives;   /* heat of the drives' drop, less what a regenerated current gains in it */
    double motors;   /* heat of windings, switches and leads */
    double friction; /* of motors and outputs */
    double gears;    /* what they lose, either way */
    double jet;      /* work against the nozzle reaction */
    double stops;    /* kinetic energy lost at hard stops */
    double lifted;   /* potential energy gained */
    double kinetic;  /* that is left at the end */
    double turned;   /* all of the axes' share, whatever its sign */
} ref_balance;

typedef struct ref_options {
    ref_solver solver;
    double rtol, atol;      /* on the state in SI units; 0: 1e-11 and 1e-13 */
    bool inductance;        /* the motor's current is a state of its own (REF_CVODE only) */
    double inductance_h[2]; /* of each motor, > 0 [H] */
    ref_balance *balance;   /* filled in by a run (not with inductance); may be NULL */
    void (*event)(void *ctx, const slew_event *event); /* may be NULL */
    void *ctx;
} ref_options;

typedef struct ref_statistics {
    int64_t rhs_evaluations; /* of the right-hand side, by the solver */
    int64_t steps;           /* accepted ones */
} ref_statistics;

/* Teaches (unless times are given or only the deploy is asked for) and runs. The three setups are
 * resolved ones: layers applied, floor, brownout and backward efficiency filled in. `options` NULL:
 * the defaults; `stats` may be NULL. Returns 0, or something else with the reason in `why`: the
 * scenario makes no machine, teaching failed, or the solver failed. */
int ref_run(const slew_scenario *scenario, const slew_setup *teach, const slew_setup *stow,
            const slew_setup *deploy, slew_parts parts, const ref_options *options,
            slew_result *result, ref_statistics *stats, char *why, size_t why_size);

/* The same with the stored times [s] already known. */
int ref_run_taught(const slew_scenario *scenario, const double stored[SLEW_AXES],
                   const slew_setup *stow, const slew_setup *deploy, slew_parts parts,
                   const ref_options *options, slew_result *result, ref_statistics *stats,
                   char *why, size_t why_size);

/* Teaching alone: the stored times [s]; `why` must have room. */
int ref_teach(const slew_scenario *scenario, const slew_setup *teach, const ref_options *options,
              double stored[SLEW_AXES], ref_statistics *stats, char *why, size_t why_size);

/* A plain linear motor, J dw/dt = K I - b w, L dI/dt = V - K w - R I, from rest at t = 0 through
 * the right-hand side of the inductance option: speed [rad/s] and current [A] at t [s]. Returns 0,
 * or nonzero if the solver fails. */
int ref_motor_step(double J, double b, double K, double R, double L, double V, double t,
                   double *speed, double *current);

#endif
