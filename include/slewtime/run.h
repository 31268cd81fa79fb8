/*
 * run.h - the main job: a scenario in; events, verdicts and the truth out.
 */
#ifndef SLEWTIME_RUN_H
#define SLEWTIME_RUN_H

#include "slewtime/api.h"
#include "slewtime/plant.h"
#include "slewtime/scenario.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ---- Events ---- */

/* One list gives the enum and the words of the output. */
#define SLEW_EVENT_KINDS(X)                                                                        \
    X(DRIVE_ON, "drive_on")               /* direction: commanded */                               \
    X(DRIVE_OFF, "drive_off")             /* direction: that of the drive that ended */            \
    X(MOVING, "moving")                   /* starts from rest; direction: true */                  \
    X(AT_REST, "at_rest")                 /* direction: 0 */                                       \
    X(SWITCH_CLOSED, "switch_closed")     /* true edge; direction: true */                         \
    X(SWITCH_OPEN, "switch_open")         /* true edge; direction: true */                         \
    X(HOME_FOUND, "home_found")           /* acted on, or found without moving */                  \
    X(STOP_CONTACT, "stop_contact")       /* direction: of the stop; energy: lost */               \
    X(STALL, "stall")                     /* declared; direction: commanded */                     \
    X(LOW_VOLTAGE, "low_voltage")         /* first fall below the floor while under load */        \
    X(BROWNOUT, "brownout")               /* dwell is over, drives go off */                       \
    X(KEEPOUT_ENTERED, "keepout_entered") /* box: index */                                         \
    X(KEEPOUT_LEFT, "keepout_left")       /* box: index */                                         \
    X(DONE, "done")                       /* verdict stowed or deployed */                         \
    X(FAULT, "fault")                     /* fault: which */                                       \
    X(DOES_NOT_HOLD, "does_not_hold")     /* direction: true, of the motion that would begin */

#define SLEW_EVENT_ENUM(name, word) SLEW_EVENT_##name,
typedef enum slew_event_kind {
    SLEW_EVENT_KINDS(SLEW_EVENT_ENUM) SLEW_EVENT_KIND_COUNT
} slew_event_kind;
#undef SLEW_EVENT_ENUM

#define SLEW_FAULTS(X)                                                                             \
    X(NONE, "none")                                                                                \
    X(HOME_NOT_FOUND, "home_not_found") /* the search met no home sensor */                        \
    X(HARD_STOP, "hard_stop")           /* stalled on the stop in the direction of drive */        \
    X(OVERLOAD, "overload")             /* stalled elsewhere */                                    \
    X(TIMEOUT, "timeout")               /* a drive lasted longer than the move limit */            \
    X(UNDERVOLTAGE, "undervoltage")     /* brownout */                                             \
    X(CANCELLED, "cancelled")           /* the operator cancelled */

#define SLEW_FAULT_ENUM(name, word) SLEW_FAULT_##name,
typedef enum slew_fault { SLEW_FAULTS(SLEW_FAULT_ENUM) SLEW_FAULT_COUNT } slew_fault;
#undef SLEW_FAULT_ENUM

typedef enum slew_verdict {
    SLEW_NOT_RUN, /* no verdict: not asked, not reached, or an axis would not hold before one */
    SLEW_STOWED,
    SLEW_DEPLOYED,
    SLEW_FAULTED
} slew_verdict;

/* The words of the JSON output, such as "rotation", "left", "falling"; "?" for a value that is none
 * of the enum's, "" for no direction. */
SLEW_API const char *slew_event_word(slew_event_kind kind);
SLEW_API const char *slew_fault_word(slew_fault fault);
SLEW_API const char *slew_verdict_word(slew_verdict verdict);
SLEW_API const char *slew_axis_word(int axis);
SLEW_API const char *slew_direction_word(int axis, int direction);
SLEW_API const char *slew_approach_word(slew_approach approach);

/* A fault as people read it: "home sensor not found", "brownout"; "?" as above. */
SLEW_API const char *slew_fault_in_words(slew_fault fault);

typedef struct slew_event {
    double time; /* since the start of the run [s] */
    slew_event_kind kind;
    int axis;                /* SLEW_NO_AXIS where it belongs to none */
    int direction;           /* +1, -1, 0: see SLEW_EVENT_KINDS */
    double angle[SLEW_AXES]; /* true angles [rad] */
    double voltage;          /* at the controller, just after the event [V] */
    double current;          /* sum of the drive currents, just after the event [A] */
    double energy;           /* of a stop contact: kinetic energy lost [J], else 0 */
    slew_fault fault;        /* of a fault */
    int box;                 /* of a keep-out event: index into scenario.keepout, else -1 */
} slew_event;

/* ---- Result ---- */

/* One part, stow or deploy: what the controller says and where the axes truly are. */
typedef struct slew_part {
    slew_verdict says;
    slew_fault fault;
    int axis;                /* of the fault; SLEW_NO_AXIS: none (cancelled, undervoltage) */
    bool holds;              /* false: an axis would be moved by its load; the run ended there */
    double angle[SLEW_AXES]; /* where the axes rest at the end of the part [rad] */
    bool has_target;         /* on_target means something: a point or target is given */
    bool on_target;          /* within stow.tolerance of the point; inside the deploy target */
    double duration;         /* first drive-on to the verdict [s]; NaN without either */
} slew_part;

enum { SLEW_KEEPOUT_VISITS_MAX = 64 };

typedef struct slew_keepout_visit {
    int box;
    double entered, left; /* left: INFINITY = still inside at the end [s] */
} slew_keepout_visit;

typedef struct slew_result {
    double stored[SLEW_AXES]; /* the stored times [s] */
    slew_part stow, deploy;
    double end;                   /* of the run [s] */
    double lowest_voltage;        /* at the controller, over everything [V] */
    double lowest_loaded_voltage; /* while some axis is driven longer than the blank time; INFINITY:
                                     never [V] */
    bool below_floor;             /* lowest_loaded_voltage < supply.floor, or a brownout below it
                                     dropped the controller out, even before anything ran */
    double peak_current;          /* of the sum of the drive currents [A] */
    double charge;                /* of the same, to the end of the run [A s] */
    int visit_count;              /* every visit; only the first SLEW_KEEPOUT_VISITS_MAX are kept */
    slew_keepout_visit visit[SLEW_KEEPOUT_VISITS_MAX];
} slew_result;

/* Which parts are run. */
typedef enum slew_parts { SLEW_STOW_AND_DEPLOY, SLEW_STOW_ONLY, SLEW_DEPLOY_ONLY } slew_parts;

/* The hard stop of the setup on which an axis rests at that angle [rad]: -1 the low one, +1 the
 * high one, 0 none. */
SLEW_API int slew_stop_under(const slew_setup *setup, int axis, double angle);

/* The axis that rests on a hard stop of the part's setup while the controller takes the part for
 * done: gear and motor were pressed on it, and nobody was told. SLEW_NO_AXIS: none. */
SLEW_API int slew_pressed_axis(const slew_setup *setup, const slew_part *part);

/* true: the part is where it should be. The controller says stowed or deployed, the axes hold, on
 * target, none of them pressed on a hard stop. */
SLEW_API bool slew_part_ok(const slew_setup *setup, const slew_part *part);

/* true: stow and deploy (where asked) are where they should be, no keep-out entered, not below the
 * floor. */
SLEW_API bool slew_result_ok(const slew_scenario *scenario, slew_parts parts,
                             const slew_result *result);

/* ---- Running ---- */

/* What a trace or a picture is drawn from, one instant. */
typedef struct slew_sample {
    double time;               /* [s] */
    double angle[SLEW_AXES];   /* [rad] */
    double speed[SLEW_AXES];   /* of the output [rad/s] */
    double current[SLEW_AXES]; /* drawn by each drive [A] */
    double voltage;            /* at the controller [V] */
    int drive[SLEW_AXES];      /* commanded direction */
    bool closed[SLEW_AXES];    /* home sensor */
} slew_sample;

/* Samples closer together than this are refused [s]. */
#define SLEW_LEAST_INTERVAL 1e-5

/* Who looks on. The callbacks are called from slew_run itself, one at a time, in the order of time;
 * what they are given is theirs only during the call. They may do anything but write what the run
 * reads or fills (scenario, prepared, result): start other runs, step machines, ask to stop.
 * Nothing that they see changes by their looking, to the last bit. */
typedef struct slew_observer {
    void (*event)(void *context, const slew_event *event);    /* may be NULL */
    void (*sample)(void *context, const slew_sample *sample); /* may be NULL; on the grid of
                                                                 `interval`, and just before and
                                                                 just after each jump */
    double interval; /* of samples, SLEW_LEAST_INTERVAL or more [s] */
    void *context;
    bool (*stop)(void *context); /* may be NULL; asked after each event and sample: true ends the
                                    run, with SLEW_ERROR_STOPPED, before time goes on */
} slew_observer;

/* Everything about a scenario that a run needs, derived once: the models of both parts and the
 * stored times. Plain data; a prepared scenario can be run any number of times, from any thread. */
typedef struct slew_prepared {
    slew_plant_model stow, deploy;
    slew_setup stow_setup, deploy_setup;
    double stored[SLEW_AXES]; /* [s] */
} slew_prepared;

/* Teaches the stow point at the teaching conditions: the stored times [s].
 * SLEW_ERROR_TEACH with the reason when it can't be taught. Given times are returned as they are,
 * SLEW_ERROR_INPUT: unless they are no numbers. */
SLEW_API slew_status slew_teach(const slew_scenario *scenario, double stored[SLEW_AXES],
                                slew_error *error);

/* Resolves, derives and (unless only the deploy is asked for) teaches. */
SLEW_API slew_status slew_prepare(const slew_scenario *scenario, slew_parts parts,
                                  slew_prepared *out, slew_error *error);

/* Runs a prepared scenario from its start angles. `observer` may be NULL. Allocates nothing.
 * SLEW_ERROR_STOPPED: the observer asked to stop; SLEW_ERROR_PIECES: see there. *result then holds
 * what was known by then: parts without a verdict are SLEW_NOT_RUN. SLEW_ERROR_INPUT, with nothing
 * done: an observer of samples whose interval is none. */
SLEW_API slew_status slew_run_prepared(const slew_scenario *scenario, const slew_prepared *prepared,
                                       slew_parts parts, const slew_observer *observer,
                                       slew_result *result);

/* Both at once. */
SLEW_API slew_status slew_run(const slew_scenario *scenario, slew_parts parts,
                              const slew_observer *observer, slew_result *result,
                              slew_error *error);

#ifdef __cplusplus
}
#endif

#endif
