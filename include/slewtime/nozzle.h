/*
 * nozzle.h - reaction and flow of a nozzle in both of their forms, and what the reaction asks of
 * the motors of a monitor.
 *
 * The reaction is the momentum of the jet: it pushes on whatever holds the nozzle, a mount or
 * people. The pull at a hose coupling is another, larger force.
 */
#ifndef SLEWTIME_NOZZLE_H
#define SLEWTIME_NOZZLE_H

#include "slewtime/api.h"
#include "slewtime/drive.h"

#ifdef __cplusplus
extern "C" {
#endif

/* One jet, by the trade's rules (M4.4 to M4.6) and by its momentum (M4.1 to M4.3, with the nozzle's
 * coefficient). */
typedef struct slew_jet {
    double flow_rule, flow; /* of a smooth bore; of a spray both are its own flow [m3/s] */
    double rule, momentum;  /* reaction [N] */
    double off;             /* rule over momentum, less 1; NaN without any momentum [1] */
} slew_jet;

/* Of a nozzle that flows, whatever nozzle.flowing says. */
SLEW_API slew_jet slew_jet_of(const slew_nozzle *nozzle);

enum { SLEW_JET_POINTS = 61 };

typedef struct slew_jet_point {
    slew_nozzle nozzle; /* at its pressure */
    slew_jet jet;
} slew_jet_point;

/* The same tip, or the same flow of a spray, from no pressure to the `highest` [Pa]: denser at the
 * foot, where reactions go with a root. */
SLEW_API void slew_jet_curve(const slew_nozzle *nozzle, double highest,
                             slew_jet_point out[SLEW_JET_POINTS]);

/* What the reaction of a flowing nozzle asks of one axis. Places are those of the whole travel of
 * both axes where it asks most. */
typedef struct slew_jet_load {
    double arm;       /* of the reaction, signed [m] */
    int pushes;       /* true direction in which it pushes the axis: +1, -1; 0: its arm is 0 */
    double moment;    /* of the reaction alone, against motion the other way, >= 0 [N m] */
    double load;      /* of all of the load, the same way; friction excluded [N m] */
    double available; /* against which the motor starts, friction overcome; M10.2 [N m] */
    double share;     /* moment/available; INFINITY: nothing is available [1] */
    double whole;     /* load/available; more than 1: it does not start there [1] */
} slew_jet_load;

/* On one occasion of a scenario, with this nozzle flowing in place of its own. Errors: those of
 * slew_plant_model_build. */
SLEW_API slew_status slew_jet_loads(const slew_scenario *scenario, slew_occasion occasion,
                                    const slew_nozzle *nozzle, slew_jet_load out[SLEW_AXES],
                                    slew_error *error);

#ifdef __cplusplus
}
#endif

#endif
