/*
 * ref_plant.h - the machine in time: rest, motion, stops, switches, keep-out, meters.
 */
#ifndef REF_PLANT_H
#define REF_PLANT_H

#include "ref_energy.h"
#include "ref_log.h"
#include "ref_stepper.h"

typedef struct ref_meters {
    double lowest, lowest_loaded; /* voltages; INFINITY: never [V] */
    double peak;                  /* of the sum of the drive currents [A] */
    bool below_floor;             /* under load, or when it dropped out */
} ref_meters;

/* Can be copied to come back to it later; the copy shares the stepper. */
typedef struct ref_plant {
    ref_machine machine;
    ref_motion motion; /* its machine is set before every use */
    double t;          /* [s] */
    double y[REF_STATES];
    bool closed[2];       /* home sensors */
    double over_since[2]; /* while motion.over [s] */
    double under_since;   /* while motion.under [s] */
    bool loaded;        /* some axis is driven longer than its blank time: set by the controller */
    bool does_not_hold; /* it stands still from now on */
    bool failed;        /* the solver did */
    ref_meters meters;
    const slew_keepout *keepout; /* NULL: not watched */
    bool inside[SLEW_KEEPOUT_MAX];
    double told_at[SLEW_KEEPOUT_MAX]; /* when it was last entered or left [s] */
    ref_stepper *stepper;
    ref_log *log;         /* NULL: silent */
    ref_balance *balance; /* NULL: no book is kept */
    double lifted_from;   /* potential energy when the book was last closed [J] */
} ref_plant;

/* Places the axes at rest, drives off, time 0. */
void ref_plant_start(ref_plant *plant, const ref_machine *machine, const double angle[2],
                     const ref_options *options, ref_stepper *stepper);

/* Opens a book of energy, closes it: what is stored by then. */
void ref_plant_open_book(ref_plant *plant, ref_balance *balance);
void ref_plant_close_book(ref_plant *plant);

/* Other conditions from now on, all axes at rest. A sensor that they close or open is told. */
void ref_plant_change(ref_plant *plant, const ref_machine *machine);

/* Drive in a commanded direction; 0: off. */
void ref_plant_drive(ref_plant *plant, int axis, int direction);

/* All that happens at the present instant without a lapse of time: starts, contacts, edges. */
void ref_plant_settle(ref_plant *plant);

/* Goes on to `until` or to the next event, which may be one that only the meters or timers of the
 * controller care for. To be called settled. */
void ref_plant_advance(ref_plant *plant, double until);

bool ref_plant_moves(const ref_plant *plant);

/* +1 or -1: rests on that stop; 0: does not. */
int ref_plant_on_stop(const ref_plant *plant, int axis);

/* Tells an event of the present instant. */
void ref_plant_tell(ref_plant *plant, slew_event event);
slew_event ref_event(slew_event_kind kind, int axis, int direction);

/* Lets the meters see the present instant; every advance does so at its start and end. */
void ref_plant_read_meters(ref_plant *plant);

/* Looks at the keep-out boxes. */
void ref_plant_look_at_boxes(ref_plant *plant);

#endif
