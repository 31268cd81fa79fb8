/*
 * ref_controller.h - the controller: its supervision by time, and its sequences.
 */
#ifndef REF_CONTROLLER_H
#define REF_CONTROLLER_H

#include "ref_plant.h"

/* What a sequence waits for. */
typedef enum ref_signal {
    REF_SIGNAL_TIME,  /* the deadline */
    REF_SIGNAL_STALL, /* a stall is acted on */
    REF_SIGNAL_EDGE,  /* an edge of a home sensor is acted on */
    REF_SIGNAL_REST,  /* all axes are at rest: only while asked for */
    REF_SIGNAL_OVER   /* a fault, an axis that does not hold, or a failed solver */
} ref_signal;

enum { REF_EDGES = 32 };

/* Edges seen and not yet acted on. */
typedef struct ref_edges {
    int count;
    double at[REF_EDGES]; /* acted on [s] */
    bool closed[REF_EDGES];
} ref_edges;

typedef struct ref_controller {
    ref_plant plant;
    const slew_setup *setup;
    int drive[2];     /* commanded */
    double on_at[2];  /* last drive-on [s] */
    double off_at;    /* last drive-off; -INFINITY: none [s] */
    double cancel_at; /* INFINITY: never [s] */
    bool watches_brownout;
    bool waits_for_rest;
    bool declared[2];    /* a stall of this drive */
    double act_at[2];    /* on it; INFINITY: none or acted on [s] */
    bool known[2];       /* home sensors as the controller last saw them */
    double sample_at[2]; /* next look that can show something new; INFINITY: none [s] */
    bool seen[2];        /* true states at the last look for edges */
    ref_edges edges[2];
    int signal_axis;    /* of the last signal */
    bool signal_closed; /* of an edge */
    bool told_low_voltage;
    slew_fault fault; /* NONE: none so far */
    int fault_axis;
    double fault_at;    /* [s] */
    double first_on_at; /* of the present part; NaN: none [s] */
} ref_controller;

/* At time 0 with the axes at rest. */
void ref_controller_start(ref_controller *c, const slew_setup *setup);

/* Lets time pass until something that a sequence must decide, at the latest at `deadline`. */
ref_signal ref_wait(ref_controller *c, double deadline);

/* Waits for rest; an axis that still moves 60 s after the last action does not hold. False: over.
 */
bool ref_wait_for_rest(ref_controller *c);

/* Waits until a drive may go on again. False: over. */
bool ref_wait_for_pause(ref_controller *c);

void ref_drive_on(ref_controller *c, int axis, int direction);
void ref_drive_off(ref_controller *c, int axis);
void ref_fault(ref_controller *c, slew_fault fault, int axis);
void ref_tell(ref_controller *c, slew_event_kind kind, int axis, int direction);

/* Moves by time, started together; 0 s: none. False: over. */
bool ref_timed_moves(ref_controller *c, const double seconds[2]);

/* The same in an order, one after the other or together. */
bool ref_ordered_moves(ref_controller *c, const double seconds[2], slew_order order);

/* Search for home on one axis. False: over. */
bool ref_search(ref_controller *c, int axis);

/* Lift and both searches. False: over. */
bool ref_home_all(ref_controller *c, const slew_stow *stow);

/* Finds the stored times from a controller that has homed all at the teaching conditions and rests.
 * False with the reason. */
bool ref_teach_times(ref_controller *c, const slew_stow *stow, double stored[2], char *why,
                     size_t why_size);

#endif
