/*
 * machine.h - the plant with slewtime's own controller, stepped from outside: a monitor in a loop
 * of somebody else's, a panel, a simulator.
 *
 * Start it, give commands at any time, and let time go on: each advance stops at the next event or
 * at the time asked for. A slew_machine is plain data without pointers: copied by assignment, the
 * copy goes its own way. Nothing is allocated. slew_run is the same machine, run to its end: the
 * same commands give the same digits, and how time is cut into advances changes nothing, to the
 * last bit.
 *
 * One machine belongs to one thread at a time; different machines may run in different threads.
 */
#ifndef SLEWTIME_MACHINE_H
#define SLEWTIME_MACHINE_H

#include "slewtime/run.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ---- What it is doing ---- */

typedef enum slew_task {
    SLEW_TASK_NONE, /* nothing: axes may still run out */
    SLEW_TASK_STOW,
    SLEW_TASK_DEPLOY,
    SLEW_TASK_JOG
} slew_task;

/* What stow and deploy do. Times are signed, in commanded directions [s]. */
typedef struct slew_program {
    double lift_first;     /* up, before the search */
    slew_order home_order; /* ROTATION_FIRST or ELEVATION_FIRST */
    double stored[SLEW_AXES];
    slew_order stow_order;
    double seconds[SLEW_AXES]; /* of the deploy */
    slew_order deploy_order;
} slew_program;

/* What was drawn and how low the voltage went since the start. */
typedef struct slew_meters {
    double lowest_voltage;        /* at the controller [V] */
    double lowest_loaded_voltage; /* see slew_result; INFINITY: never under load [V] */
    bool below_floor;             /* see slew_result */
    double peak_current;          /* of the sum of the drive currents [A] */
    double charge;                /* of the same [A s] */
} slew_meters;

/* ---- Private parts of the state: plain, so that it can be copied; see lib/motion ---- */

enum { SLEW_EDGES_MAX = 16, SLEW_TOLD_MAX = 32 };

/* a home sensor edge that is seen but not yet acted on */
typedef struct slew_edge {
    double act_at; /* [s] */
    bool closed;
} slew_edge;

/* the controller: clocks, and where it is in its sequence */
typedef struct slew_controller {
    double cancel_at; /* INFINITY: never [s] */

    double on_at[SLEW_AXES];      /* of the present drive [s] */
    bool blanked[SLEW_AXES];      /* the blank time since then is not over */
    double over_since[SLEW_AXES]; /* current at or above the threshold; INFINITY: it is not [s] */
    double stall_at[SLEW_AXES];   /* when a declared stall is acted on; INFINITY: none [s] */
    double under_since;           /* voltage below brownout; INFINITY: it is not [s] */
    double off_at;                /* last drive-off; -INFINITY: none yet [s] */
    double acted_at;              /* last drive-off, fault or change [s] */
    double first_on;              /* first drive-on of the task; INFINITY: none yet [s] */

    int sensor; /* axis whose home sensor is looked at; SLEW_NO_AXIS: none */
    bool known; /* its state as last seen */
    double sample_at;
    int edge_count;
    slew_edge edge[SLEW_EDGES_MAX];

    int phase;                 /* what it waits for */
    double wait_until;         /* [s] */
    int leg, last_leg;         /* of the sequence: the next one, and the one after the last */
    int axis, direction;       /* of the search */
    int stalls;                /* in it */
    double seconds[SLEW_AXES]; /* of the timed move */
    double end_at[SLEW_AXES];  /* [s] */
    int wanted[SLEW_AXES];     /* of a jog: commanded direction, 0 off */
} slew_controller;

/* where the barrel is against the keep-out boxes */
typedef struct slew_keepout_state {
    int count;
    bool within[SLEW_KEEPOUT_MAX][SLEW_AXES][2]; /* above the low, below the high bound */
    int open_visit[SLEW_KEEPOUT_MAX];            /* number of the visit that goes on; -1: none */
    int visits;
} slew_keepout_state;

/* ---- The machine ---- */

typedef struct slew_machine {
    double time; /* since the start [s] */
    slew_task task;
    slew_verdict says; /* of the last task: SLEW_NOT_RUN while it goes on, and of a jog */
    slew_fault fault;  /* of the last task; the next command clears it */
    int fault_axis;    /* SLEW_NO_AXIS: none */
    bool holds;        /* false: an axis would be moved by its load; the machine stands still */
    bool gave_up;      /* more pieces of motion than can be followed; see SLEW_ERROR_PIECES */
    double duration;  /* of the last stow or deploy, first drive-on to the verdict; NaN: none [s] */
    slew_setup setup; /* what it runs on */
    slew_program program; /* may be written while there is no task, or before a stow or deploy,
                             which ends it */

    /* private from here on */
    slew_plant_model model;
    slew_plant plant; /* at the end of its last piece before `time` */
    slew_controller controller;
    slew_keepout_state keepout;
    slew_meters recorded; /* up to the plant's last span */
    bool underway;        /* a span of the plant has begun before `time` */
    bool low_voltage_seen;
    int told_count; /* events that wait to be told, the first one first */
    slew_event told[SLEW_TOLD_MAX];
} slew_machine;

/* Places the axes at rest at the start angles of `occasion` (SLEW_OCCASION_STOW or, with a deploy,
 * SLEW_OCCASION_DEPLOY), drives off, no task, time 0, on the conditions of that occasion.
 * `prepared` is the scenario's own, for all parts that are asked of the machine. */
SLEW_API void slew_machine_start(const slew_scenario *scenario, const slew_prepared *prepared,
                                 slew_occasion occasion, slew_machine *machine);

/* Goes on to `until` [s] or to the next event, whichever is first. true: *event is it, and the
 * present time its own; events at one instant come one by one, in the order of slew_run. false:
 * `until` is reached, or lies before the present time, or is NaN; or nothing will happen any more
 * and `until` is INFINITY; or the machine stands still for good (holds, gave_up): then time stays.
 */
SLEW_API bool slew_machine_advance(slew_machine *machine, double until, slew_event *event);

/* What a trace shows of the present instant. */
SLEW_API slew_sample slew_machine_look(const slew_machine *machine);

/* Extremes and charge up to the present instant. */
SLEW_API slew_meters slew_machine_meters(const slew_machine *machine);

/* true: all axes rest, and the pause after the last drive-off is over. */
SLEW_API bool slew_machine_is_ready(const slew_machine *machine);

/* When the pause after the last drive-off is over, past or to come [s]: no event tells of it.
 * -INFINITY before the first; NaN: no machine. */
SLEW_API double slew_machine_pause_end(const slew_machine *machine);

/* ---- Commands: at any time, effective at the present instant ----
 *
 * Each ends what goes on: its drives go off at once, without a fault, and the pause of M6.4 is kept
 * before the next drive-on. A fault of the task before is cleared: the machine goes on after it.
 * What a command brings about is told by the next advances. Between tasks a brownout is no fault,
 * but its time counts: one that still lasts ends the next task. false: the machine stands still for
 * good (holds, gave_up), more than 16 events wait to be told, or there is no such axis or
 * direction; nothing is done then. */

/* Lift, search and stored times (M6.7). stow.cancel_at counts from the start of the machine and,
 * once past, no more. */
SLEW_API bool slew_machine_stow(slew_machine *machine);

/* The deploy seconds, once all axes rest and the pause is over. */
SLEW_API bool slew_machine_deploy(slew_machine *machine);

/* All drives off, fault `cancelled`; without a task nothing happens. */
SLEW_API bool slew_machine_cancel(slew_machine *machine);

/* Drives one axis, +1 or -1 in commanded directions, until 0 is asked for: a timed move whose end
 * is not known yet, supervised like one (M6.6). Both axes may be jogged beside each other. A jog of
 * another direction waits for the pause first. */
SLEW_API bool slew_machine_jog(slew_machine *machine, int axis, int direction);

/* ---- Other conditions, in motion too ---- */

/* Goes on under another setup from the present instant on: write what is different into a copy of
 * machine->setup. Supply, temperature, warmth of the motors, tilt, grease, nozzle, loads, friction,
 * controller and sensors may change in motion; ratio, wiring and stops of an axis only while it
 * rests with its drive off.
 * - Angles, speeds and drives stay. Currents and voltage jump. A motor's inertia takes its speed
 * along.
 * - Closed home sensors stay closed as long as the axis is within `release` of the new window, and
 *   others close within `operate`; one that is as it was stays as it is. What changes is an edge:
 * told, and looked at by the controller on its grid (M5.2).
 * - The marks of the keep-out boxes stay; the stored times are not taught anew.
 * - Timers of the controller that run go on with the new times. Current and voltage that are past a
 *   threshold by the change count from now on.
 * - Whether an axis at rest starts or holds is asked anew, also of one that did not hold.
 * Errors, with the machine unchanged: SLEW_ERROR_INPUT with the reason in *error unless it is NULL.
 */
SLEW_API slew_status slew_machine_change(slew_machine *machine, const slew_setup *setup,
                                         slew_error *error);

/* Sets the load torque from outside at the output of an axis [N m], positive against motion in the
 * + direction: wind, a hose, a hand. 0 at the start; kept when conditions change. M3.3
 * SLEW_ERROR_INPUT: no finite number, or no such axis. */
SLEW_API slew_status slew_machine_load(slew_machine *machine, int axis, double torque);

/* ---- As bytes ---- */

/* length of a saved machine */
enum { SLEW_MACHINE_BYTES = (int)sizeof(slew_machine) + 64 };

/* Writes the machine as a block that restores it bit by bit, by the same build of the library on
 * the same kind of computer. */
SLEW_API void slew_machine_save(const slew_machine *machine,
                                unsigned char block[SLEW_MACHINE_BYTES]);

/* Reads a block back. Errors, with the machine unchanged: SLEW_ERROR_BUILD, saved by another build
 * or no such block at all; SLEW_ERROR_DAMAGED, cut short, too long, or not as it was saved: any
 * damage to one byte is found, and others but for one chance in 2^64. The block is trusted
 * otherwise: it is no format for strangers. */
SLEW_API slew_status slew_machine_restore(const unsigned char *block, size_t length,
                                          slew_machine *machine);

#ifdef __cplusplus
}
#endif

#endif
