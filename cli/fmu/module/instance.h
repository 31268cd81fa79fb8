/*
 * instance.h - one instance of an FMU: a stepped machine (machine.h) or plant (plant.h), the values
 * that an importer sets, and where the instance is in the standard's order of calls.
 *
 * There are no globals: any number of instances go on beside each other, each in one thread at a
 * time.
 */
#ifndef SLEW_CLI_FMU_INSTANCE_H
#define SLEW_CLI_FMU_INSTANCE_H

#include "fmi3.h"
#include "numbers.h"
#include "slewtime/machine.h"
#include "variables.h"

/* Where it is: FMI 3.0, 4.2.1, figure of the state machine of Co-Simulation; as a set of bits. */
typedef enum fmu_mode {
    FMU_INSTANTIATED = 1,
    FMU_INITIALIZATION = 2,
    FMU_EVENT_MODE = 4,
    FMU_STEP_MODE = 8,
    FMU_TERMINATED = 16,
    FMU_ANY_MODE = 31
} fmu_mode;

/* the inputs that are no keys */
typedef struct fmu_inputs {
    bool stow, deploy, cancel;
    int direction[SLEW_AXES]; /* of the jog, or of the drive */
    double torque[SLEW_AXES]; /* from outside [N m] */
} fmu_inputs;

enum { FMU_KEYS_MAX = 256 };

/* What lasts beside the machine, as plain data. */
typedef struct fmu_values {
    fmu_mode mode;
    bool started;                /* the machine stands at its start, or has gone on */
    double time;                 /* [s] */
    double stop;                 /* infinite: no stop time was given [s] */
    double ahead;                /* of the machine's own time: it begins at 0 [s] */
    double key[FMU_KEYS_MAX];    /* as set [SI] */
    double taught[FMU_KEYS_MAX]; /* the same while teaching [SI] */
    double used[FMU_KEYS_MAX];   /* what the machine goes by [SI] */
    fmu_inputs wanted, taken;    /* as set, and what the machine was told */
    double stored[SLEW_AXES];    /* [s] */
    int64_t events;              /* so far */
    int last_event;              /* slew_event_kind; -1: none yet */
    unsigned inside;             /* keep-out zones, a bit each */
} fmu_values;

typedef struct fmu_state {
    fmu_values v;
    slew_machine machine; /* of a plant only setup, model and plant are used */
} fmu_state;

typedef struct fmu_instance {
    fmi3InstanceEnvironment environment;
    fmi3LogMessageCallback log;
    bool logs[FMU_CATEGORIES];
    bool event_mode_used, early_return_allowed;
    fmu_kind kind;
    char token[FMU_TOKEN_MAX];
    fmu_variables variables;
    slew_scenario scenario; /* as packed, with the values put in */
    slew_prepared prepared;
    fmu_state first, now;

    bool has_seen;  /* these show what `now` comes to */
    fmu_state seen; /* with all that is set taken over */
    slew_sample sample;
    slew_meters meters;
} fmu_instance;

/* ---- words to the importer (instance.c) ---- */

/* Says what is wrong, or with fmi3Warning what is not done; always `status`. */
fmi3Status fmu_say(const fmu_instance *instance, fmi3Status status, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* true: there is an instance, in one of these modes. Otherwise it says so: return fmi3Error. */
bool fmu_may(const fmu_instance *instance, unsigned modes, const char *call);

/* ---- what the machine does (behavior.c) ---- */

/* Places the machine at its start, with the values as they are set. */
fmi3Status fmu_start(fmu_instance *instance, fmu_state *state);

/* Takes over what was set since: conditions, load torques, commands. *happened: something did. */
fmi3Status fmu_take(fmu_instance *instance, fmu_state *state, bool *happened);

/* Goes on to `until` [s], or to the first event after the present time if `stops`. */
fmi3Status fmu_advance(fmu_instance *instance, fmu_state *state, double until, bool stops,
                       bool *happened);

/* ---- what it shows (outputs.c) ---- */

/* Brings `seen` up to date. */
fmi3Status fmu_see(fmu_instance *instance);

/* An output or calculated parameter of what is seen. */
double fmu_output(const fmu_instance *instance, unsigned reference);

#endif
