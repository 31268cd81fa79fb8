/*
 * facts.h - what follows from a scenario before anything is asked of it: what each axis does today,
 * and which defaults the answers hang on.
 */
#ifndef SLEWTIME_FACTS_H
#define SLEWTIME_FACTS_H

#include "slewtime/drive.h"
#include "slewtime/study.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ---- Each axis ---- */

/* Of one direction: [0] left or down, [1] right or up. */
typedef struct slew_axis_way {
    slew_speed_point slowest; /* where the load holds it back most, and it settles there */
    double travel;            /* from stop to stop, as slew_speed_travel; NaN: not reached [s] */
    slew_fault fault;         /* what the controller says on the way instead */
} slew_axis_way;

typedef struct slew_axis_facts {
    slew_axis_way way[2];
    double stalled; /* current at standstill: when it is blocked, and at drive-on as a bound [A] */
    double backward_efficiency; /* of the gear; below 0: it locks itself [1] */
    double home;                /* [rad] */
    double home_from_stop[2];   /* from the low and from the high stop [rad] */
    double point_from_home;     /* signed; NaN: the times are given, not the point [rad] */
    double point_from_stop;     /* from the nearer one [rad] */
} slew_axis_facts;

/* Of the conditions of one occasion, an axis alone, the other at its slowest place. Errors: those
 * of slew_speed_travel_run. */
SLEW_API slew_status slew_axis_facts_run(const slew_scenario *scenario, slew_occasion occasion,
                                         int axis, slew_axis_facts *out, slew_error *error);

/* ---- Defaults ---- */

enum { SLEW_HANGS_MAX = 40, SLEW_HANG_VALUES = 3 };

/* What one value of such a key makes of stow [0] and deploy [1], against the default: over the
 * scenario's spread, each case beside the same case; without a spread of the one case. */
typedef struct slew_hang_outcome {
    double moves[2]; /* root mean square of how far the axis that moves more ends elsewhere [rad] */
    double fails;    /* share of the cases that end in a fault or can't be taught [1] */
    double share;    /* of the cases that deploy inside the target, without a deploy that stow
                        within tolerance; NaN: not asked [1] */
} slew_hang_outcome;

/* A key that is left to its default, with a lower and an upper value that trucks have beside it. */
typedef struct slew_hang {
    int key;
    double value[SLEW_HANG_VALUES]; /* lower, the default, upper; SI */
    slew_hang_outcome of[SLEW_HANG_VALUES];
    double moves;        /* the most of all these; INFINITY: more or fewer cases fail [rad] */
    const char *measure; /* what to measure in its place */
} slew_hang;

typedef struct slew_hangs {
    int64_t samples; /* behind each share; 0: nothing varies */
    int count;       /* by `moves`, the largest first; what moves less than 0.02 deg is left out */
    slew_hang item[SLEW_HANGS_MAX];
} slew_hangs;

/* Varies each default by itself, teaching repeated; few cases find those that matter, and the
 * shares of the first of them are asked of more. `given` says of each key of the table whether the
 * scenario sets it (slew_reading). Errors: those of slew_ensemble_run for the scenario itself. */
SLEW_API slew_status slew_hangs_run(const slew_scenario *scenario, const bool *given,
                                    slew_hangs *out, slew_error *error);

#ifdef __cplusplus
}
#endif

#endif
