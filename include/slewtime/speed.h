/*
 * speed.h - how fast an axis runs, what it draws and where it stands still, against the supply
 * voltage and the nozzle's reaction.
 *
 * One axis is driven, the other stands, at the places of drive.h. Directions are true ones, +1
 * (right, up) and -1 (left, down).
 */
#ifndef SLEWTIME_SPEED_H
#define SLEWTIME_SPEED_H

#include "slewtime/api.h"
#include "slewtime/drive.h"
#include "slewtime/run.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ---- The question ---- */

enum { SLEW_SPEED_LEVELS_MAX = 8, SLEW_SPEED_CURVES_MAX = 2 * SLEW_AXES * SLEW_SPEED_LEVELS_MAX };

/* Lowest source voltages are found by bisection to this [V]. */
#define SLEW_SPEED_TOLERANCE 1e-4

typedef struct slew_speed_question {
    slew_occasion occasion; /* whose conditions count */
    double from, to;        /* open-circuit voltage of the main source, 0 < from < to [V] */
    int steps;              /* between the two, > 0 */
    int level_count;        /* 1 to SLEW_SPEED_LEVELS_MAX */
    double pressure[SLEW_SPEED_LEVELS_MAX]; /* at the nozzle; 0: dry [Pa] */
    double at[SLEW_AXES];                   /* SLEW_NOT_GIVEN: anywhere between the stops [rad] */
} slew_speed_question;

/* 0.75 to 1.25 of the system voltage in 12 steps; dry and, where the occasion's nozzle is known
 * (slew_nozzle_is_known), half and all of its pressure; between the stops. */
SLEW_API slew_speed_question slew_speed_question_default(const slew_scenario *scenario,
                                                         slew_occasion occasion);

/* ---- The answer ---- */

/* One reaction, of the scenario's nozzle at this pressure (slew_nozzle_at). */
typedef struct slew_speed_level {
    double pressure; /* 0: dry [Pa] */
    double flow;     /* of a spray [m3/s] */
    double reaction; /* [N] */
} slew_speed_level;

/* The lowest source voltages, at the slowest place, to SLEW_SPEED_TOLERANCE. 0: any will do (an
 * auxiliary battery does it alone); INFINITY: none up to the question's `to` will [V]. */
typedef struct slew_speed_needs {
    double runs;     /* steady running is possible */
    double starts;   /* it starts from rest */
    double arrives;  /* the controller brings it from stop to stop: no fault on the way */
    double brownout; /* the controller keeps its brownout voltage under the steady load */
    double floor;    /* and the advisory floor */
    double trips;    /* the steady current reaches the stall threshold: declared a stall */
    double noticed;  /* a blocked axis draws the stall threshold; below, a stop is not noticed */
} slew_speed_needs;

typedef struct slew_speed_row {
    double supply; /* [V] */
    slew_speed_point slowest, fastest;
    slew_speed_travel travel;
} slew_speed_row;

typedef struct slew_speed_curve {
    int axis, direction, level;
    slew_speed_places place;
    double other; /* angle of the other axis while it travels: of the slowest place [rad] */
    slew_speed_needs need;
    slew_speed_row own;  /* at the scenario's own voltage */
    slew_speed_row *row; /* owned by the answer: steps + 1, ascending */
} slew_speed_curve;

typedef struct slew_speed {
    slew_setup setup; /* the conditions, as the scenario has them */
    int level_count;
    slew_speed_level level[SLEW_SPEED_LEVELS_MAX];
    int curve_count; /* by axis, then direction (-1 first), then level */
    slew_speed_curve curve[SLEW_SPEED_CURVES_MAX];
    int row_count;       /* of each curve */
    slew_speed_row *row; /* owned */
} slew_speed;

/* Asks all of it. Errors: SLEW_ERROR_INPUT for a question out of its ranges, water without nozzle
 * data, an angle beyond a stop, or a scenario that makes no machine at its own voltage;
 * SLEW_ERROR_MEMORY. After an error nothing is to be freed. */
SLEW_API slew_status slew_speed_run(const slew_scenario *scenario,
                                    const slew_speed_question *question, slew_speed *out,
                                    slew_error *error);
SLEW_API void slew_speed_free(slew_speed *speed);

#ifdef __cplusplus
}
#endif

#endif
