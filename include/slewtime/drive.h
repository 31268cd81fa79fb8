/*
 * drive.h - one axis driven alone, the other standing, with a jet or without: where it settles,
 * where on its travel the load holds it back most and least, and how long it takes from stop to
 * stop.
 *
 * The machine is that of plant.h: every figure here is where the plant settles or starts.
 * Directions are true ones, +1 (right, up) and -1 (left, down).
 */
#ifndef SLEWTIME_DRIVE_H
#define SLEWTIME_DRIVE_H

#include "slewtime/api.h"
#include "slewtime/run.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ---- The jet ---- */

/* true: the nozzle has a pressure, and the flow or tip of its kind. */
SLEW_API bool slew_nozzle_is_known(const slew_nozzle *nozzle);

/* The same opening at another pressure [Pa] > 0: the flow of a spray goes with the root of it; with
 * pressure 0 it does not flow. The nozzle is known. */
SLEW_API slew_nozzle slew_nozzle_at(slew_nozzle nozzle, double pressure);

/* ---- One place ---- */

#define SLEW_SPEED_STATES(X)                                                                       \
    X(RUNS, "runs")                 /* starts from rest and runs */                                \
    X(RUNS_ON, "runs_on")           /* runs on once it moves, does not start from rest */          \
    X(STANDS, "stands")             /* does not move, draws stall current */                       \
    X(DRAGGED_BACK, "dragged_back") /* is dragged back by its load */                              \
    X(OFF, "off")                   /* the controller has less voltage than its drives drop */

#define SLEW_SPEED_ENUM(name, word) SLEW_SPEED_##name,
typedef enum slew_speed_state {
    SLEW_SPEED_STATES(SLEW_SPEED_ENUM) SLEW_SPEED_STATE_COUNT
} slew_speed_state;
#undef SLEW_SPEED_ENUM

/* "runs_on"; "?" for a value that is none. */
SLEW_API const char *slew_speed_word(slew_speed_state state);

/* Where an axis settles that is driven alone. Where it does not run: at standstill. */
typedef struct slew_speed_point {
    slew_speed_state state;
    double speed;   /* of the output in the direction asked for, >= 0 [rad/s] */
    double current; /* of the drive; < 0: it feeds back [A] */
    double voltage; /* at the controller [V] */
} slew_speed_point;

/* Steady running at `angle` (within the stops), were the load there everywhere. M10.1
 * SLEW_SPEED_STATE_COUNT and NaN: beyond a stop, no such axis or direction. */
SLEW_API slew_speed_point slew_speed_at(const slew_plant_model *model, int axis, int direction,
                                        const double angle[SLEW_AXES]);

/* What an axis draws that is driven but can't move, the other drive off [A]. */
SLEW_API double slew_speed_blocked_current(const slew_plant_model *model, int axis);

/* The largest load torque [N m] at the output, friction excluded, against which the axis starts
 * from rest; negative: none. M10.2 */
SLEW_API double slew_speed_start_torque(const slew_plant_model *model, int axis);

/* ---- The places that matter ---- */

typedef struct slew_speed_places {
    double slowest[SLEW_AXES]; /* where the load holds the axis back most [rad] */
    double fastest[SLEW_AXES]; /* and least [rad] */
} slew_speed_places;

/* Of all angles of both axes within `range` (inside the stops). Where an angle makes no difference
 * it is that of the home sensor, or the nearest to it in the range. M10.3 */
SLEW_API slew_speed_places slew_speed_find_places(const slew_plant_model *model, int axis,
                                                  int direction, const slew_range range[SLEW_AXES]);

/* ---- Stop to stop ---- */

typedef struct slew_speed_travel {
    double time;      /* drive-on on one stop to contact with the other; NaN: not reached [s] */
    slew_fault fault; /* what the controller says on the way instead; SLEW_FAULT_NONE: nothing */
    bool holds;       /* false: an axis would be moved by its load */
} slew_speed_travel;

/* Drives the axis from the stop behind it to the one ahead under the controller's supervision, the
 * other axis at rest at `other` [rad]. Conditions are those of a resolved setup; its start angles
 * do not matter. Errors: those of slew_prepare about one occasion. M10.4 */
SLEW_API slew_status slew_speed_travel_run(const slew_setup *setup, int axis, int direction,
                                           double other, slew_speed_travel *out, slew_error *error);

#ifdef __cplusplus
}
#endif

#endif
