/*
 * controller.h - the built-in controller: drives, clocks and supervision, on the plant's door
 * alone.
 *
 * M6. It counts in commanded directions and decides by home sensors, drive currents and its own
 * voltage; where an axis stands it asks only to name a fault (M6.6).
 */
#ifndef SLEW_MOTION_CONTROLLER_H
#define SLEW_MOTION_CONTROLLER_H

#include "motion/recorder.h"

enum { SLEW_EDGES_MAX = 16 };

/* a home sensor edge that is seen but not yet acted on */
typedef struct slew_edge {
    double act_at; /* [s] */
    bool closed;
} slew_edge;

typedef struct slew_controller {
    const slew_plant_model *model;
    const slew_setup *setup;
    slew_plant *plant;
    slew_recorder *recorder;
    double cancel_at; /* INFINITY: never [s] */

    double on_at[SLEW_AXES];      /* of the present drive [s] */
    bool blanked[SLEW_AXES];      /* the blank time since then is not over */
    double over_since[SLEW_AXES]; /* current at or above the threshold; INFINITY: it is not [s] */
    double stall_at[SLEW_AXES];   /* when a declared stall is acted on; INFINITY: none [s] */
    double under_since;           /* voltage below brownout; INFINITY: it is not [s] */
    double off_at;                /* last drive-off; -INFINITY: none yet [s] */
    double acted_at;              /* last drive-off or fault [s] */
    double first_on;              /* first drive-on of the present part; INFINITY: none yet [s] */

    int sensor; /* axis whose home sensor is looked at; SLEW_NO_AXIS: none */
    bool known; /* its state as last seen */
    double sample_at;
    int edge_count;
    slew_edge edge[SLEW_EDGES_MAX];

    slew_fault fault;
    int fault_axis;
    bool holds; /* false: an axis does not hold; the run is over */
} slew_controller;

/* When a home sensor edge at `time` is looked at: the next instant of the grid; 0: no grid. M5.2 */
double slew_sampling_instant(double grid, double time);

void slew_controller_start(slew_controller *controller, const slew_plant_model *model,
                           const slew_setup *setup, slew_plant *plant, slew_recorder *recorder);

/* Goes on with the same plant under other conditions. */
void slew_controller_transfer(slew_controller *controller, const slew_plant_model *model,
                              const slew_setup *setup);

/* ---- one leg at a time: each returns false once a fault or a slipping axis has ended it all ----
 */

/* Waits until the pause after the last drive-off is over. */
bool slew_controller_pause(slew_controller *controller);

/* Handles what is due at this very instant. */
bool slew_controller_settle(slew_controller *controller);

/* Switches a drive on; the home sensor of that axis is looked at from now on if `look`. */
void slew_controller_on(slew_controller *controller, int axis, int direction, bool look);
void slew_controller_off(slew_controller *controller, int axis);

/* Ends it all: drives off, fault told. Always false. */
bool slew_controller_fail(slew_controller *controller, slew_fault fault, int axis);

typedef enum slew_wait_end {
    SLEW_WAIT_TIME,    /* `until` is reached (or nothing moves any more, if `rest`) */
    SLEW_WAIT_CLOSED,  /* a closing edge is acted on */
    SLEW_WAIT_OPENED,  /* an opening edge is acted on */
    SLEW_WAIT_STALLED, /* a stall is acted on: *stalled */
    SLEW_WAIT_OVER     /* fault, or an axis does not hold */
} slew_wait_end;

/* Lets time go on under supervision until `until` [s] or one of the other ends. */
slew_wait_end slew_controller_wait(slew_controller *controller, double until, int *stalled);

/* Lets time go on until every axis rests, 60 s at most after the last action. Supervised: a
 * brownout still counts. false: fault, or an axis does not hold. */
bool slew_controller_rest(slew_controller *controller, bool supervised);

/* ---- the sequences ---- */

/* Finds the home sensor of one axis. */
bool slew_controller_search(slew_controller *controller, int axis);

/* Signed times for each axis, in the given order; 0 s is skipped. */
bool slew_controller_move(slew_controller *controller, const double seconds[SLEW_AXES],
                          slew_order order);

/* Lift first, then both searches. */
bool slew_controller_home(slew_controller *controller, const slew_stow *stow);

#endif
