/*
 * plant.h - the machine without its controller: supply, motors, gears, load, stops and switches.
 *
 * Set the drives, advance to a time or to the next event, read angle, speed, current, voltage and
 * switches. Somebody's own controller code can be run against it; slewtime's own uses nothing else.
 *
 * A slew_plant_model holds the constants of one occasion and is never changed by a plant; a
 * slew_plant holds all that changes, has no pointers, and can be copied by assignment to go back to
 * it later. Nothing is allocated. The equations are in lib/MODEL.md.
 */
#ifndef SLEWTIME_PLANT_H
#define SLEWTIME_PLANT_H

#include "slewtime/api.h"
#include "slewtime/scenario.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { SLEW_MARKS_MAX = 2 * SLEW_KEEPOUT_MAX, SLEW_STEP_DEGREE = 7 };

/* Pieces of motion that a plant goes through within one second and after one drive command, at
 * most: smooth steps and events. A machine needs some ten; one that needs more than this is none.
 * M8.6 */
enum { SLEW_PIECES_MAX = 10000 };

/* ---- Model: constants, derived once ---- */

/* An angle whose passing is told. An axis that stands exactly on it counts as beyond it (on = +1)
 * or as before it (on = -1), seen in the + direction. */
typedef struct slew_mark {
    double angle; /* [rad] */
    int on;       /* +1 or -1 */
    int tag;      /* the caller's own number */
} slew_mark;

typedef struct slew_plant_axis {
    double sign;              /* of true over commanded direction: -1 where the motor is reversed */
    double constant;          /* motor K [V s/rad = N m/A] */
    double resistance;        /* motor and drive [ohm] */
    double drop;              /* drive's constant drop [V] */
    double viscous, coulomb;  /* motor friction [N m s/rad], [N m] */
    double breakaway;         /* on the Coulomb torque at rest [1] */
    double ratio;             /* motor turns per output turn [1] */
    double forward, backward; /* gear efficiencies [1] */
    double inertia;           /* all of it, at the motor [kg m2] */
    double friction;          /* at the output, seals included [N m] */
    double largest_torque;    /* bound of the load torque over all angles [N m] */
    slew_range stops;         /* [rad] */
    slew_home home;           /* with operate and release as they follow from its magnet [rad] */
    double watch_current;     /* drive current to be told about; INFINITY: none [A] */
    int mark_count;           /* angles to be told about, ascending */
    slew_mark mark[SLEW_MARKS_MAX];
} slew_plant_axis;

typedef struct slew_plant_model {
    double line_voltage;    /* at the controller without motors, main source alone [V] */
    double line_resistance; /* source and feed [ohm] */
    bool auxiliary;
    double auxiliary_voltage;               /* [V] */
    double joint_voltage, joint_resistance; /* both sources as one [V], [ohm] */
    double gravity_up;                      /* m g r cos(tilt) [N m] */
    double gravity_side;                    /* m g r sin(tilt) [N m] */
    double downhill;                        /* azimuth of the downhill side [rad] */
    double reaction[SLEW_AXES];             /* nozzle reaction times its arm [N m] */
    double outside[SLEW_AXES];              /* load torque from outside, constant [N m] */
    bool brake;                             /* drive-off shorts the motor; false: opens it */
    double watch_voltage[2]; /* told about: 0 floor, 1 brownout; -INFINITY: none [V] */
    slew_plant_axis axis[SLEW_AXES];
} slew_plant_model;

/* Derives the constants from a resolved setup (slew_scenario_resolve). Errors, in *error unless it
 * is NULL: values that together make no machine, for example a controller that has less than the
 * drive's own drop at rest, or an auxiliary battery on a feed without resistance; in the core of
 * the library SLEW_ERROR_MAGNET, a home sensor with a magnet.
 * Watches: stall current per axis, voltage floor and brownout. */
SLEW_API slew_status slew_plant_model_build(const slew_setup *setup, slew_plant_model *model,
                                            slew_error *error);

/* Resistance of one conductor of a feed [ohm/m] at 20 degC, however its size is given. M1.3 */
SLEW_API double slew_feed_per_length(const slew_feed *feed);

/* true: at rest the auxiliary battery stands above what the main source brings to the controller.
 * An isolator that works one way only then lets it feed the line and the shared load as well. */
SLEW_API bool slew_plant_isolator_feeds_line(const slew_plant_model *model);

/* Adds an angle whose passing is told as SLEW_PLANT_MARK. false: there is no more room. */
SLEW_API bool slew_plant_model_watch_angle(slew_plant_model *model, int axis, slew_mark mark);

/* Sets the load torque from outside at the output of an axis, positive against motion in the +
 * direction [N m]; a plant that is under way is to be transferred then. M3.3 */
SLEW_API void slew_plant_model_load(slew_plant_model *model, int axis, double torque);

/* Torque [N m] at the output that opposes motion in the + direction, friction excluded. */
SLEW_API double slew_plant_load_torque(const slew_plant_model *model, int axis,
                                       const double angle[SLEW_AXES]);

/* Reaction [N] of a nozzle in the form that it names; 0 unless it flows. M4 */
SLEW_API double slew_plant_nozzle_reaction(const slew_nozzle *nozzle);

/* ---- State ---- */

/* What happened, in the order of its handling at one instant. */
typedef enum slew_plant_event_kind {
    SLEW_PLANT_NOTHING,       /* the asked-for time is reached */
    SLEW_PLANT_SWITCH_CLOSED, /* home sensor, true edge */
    SLEW_PLANT_SWITCH_OPEN,
    SLEW_PLANT_MARK,          /* passes a watched angle: `index` = its tag */
    SLEW_PLANT_MOVING,        /* starts from rest in `direction` */
    SLEW_PLANT_AT_REST,       /* its speed has reached zero */
    SLEW_PLANT_STOP_CONTACT,  /* meets the stop in `direction`: `value` = energy lost [J] */
    SLEW_PLANT_CURRENT,       /* drive current passes watch_current; see over_current */
    SLEW_PLANT_VOLTAGE,       /* voltage passes watch_voltage[index]; see under_voltage */
    SLEW_PLANT_DOES_NOT_HOLD, /* would be moved by its load in `direction`; the plant stands still
                               */
    SLEW_PLANT_GAVE_UP /* more than SLEW_PIECES_MAX pieces within a second; the plant stands still
                        */
} slew_plant_event_kind;

typedef struct slew_plant_event {
    slew_plant_event_kind kind;
    int axis;      /* SLEW_NO_AXIS where it belongs to none */
    int direction; /* true direction of motion, +1 or -1; of a watch: +1 it rises, -1 it falls */
    int index;     /* of watch_voltage; tag of a mark */
    double value;
} slew_plant_event;

/* What a voltmeter and an ammeter with memory saw during the last advance. */
typedef struct slew_plant_span {
    double lowest_voltage; /* [V] */
    double peak_current;   /* of the sum of the drive currents [A] */
    double charge;         /* of the same [A s] */
} slew_plant_span;

/* ---- Private parts of the state: plain, so that it can be copied; see lib/motion ---- */

/* Voltage and drive currents as linear functions of the motor speeds, for one set of drives and one
 * regime of the supply. */
typedef struct slew_electrics {
    double voltage_0, voltage_1[SLEW_AXES]; /* V = v0 + sum v1[k] w[k] */
    double current_0[SLEW_AXES];            /* i[j] = i0[j] + sum i1[j][k] w[k] */
    double current_1[SLEW_AXES][SLEW_AXES];
} slew_electrics;

/* dw/dt = offset + slope T(angles) - damping w, for one discrete state. */
typedef struct slew_dynamics {
    double offset[SLEW_AXES];             /* [rad/s2] */
    double slope[SLEW_AXES];              /* [rad/s2 per N m] */
    double damping[SLEW_AXES][SLEW_AXES]; /* [1/s] */
} slew_dynamics;

/* What an exponential e of an axis alone brings with it: the factor of e is value + rate t + bend
 * t2, that of its square is square. M8.2 */
typedef struct slew_echo {
    double rate, bend, square;
} slew_echo;

/* One smooth piece of motion: speed and angle of each axis as a polynomial of the share x of the
 * step that is past, and decaying exponentials. An axis at rest has its angle in angle[axis][0]. */
typedef struct slew_step {
    double start, length;                   /* [s] */
    bool moves[SLEW_AXES];                  /* the axis moves in this step */
    bool coupled;                           /* the axes share their modes */
    double rate[SLEW_AXES];                 /* of each mode; 0: no exponential [1/s] */
    double amplitude[SLEW_AXES][SLEW_AXES]; /* [axis][mode] of the speed [rad/s] */
    double swing[SLEW_AXES][SLEW_AXES];     /* [axis][mode] of the angle [rad] */
    slew_echo amplitude_echo[SLEW_AXES];    /* of the axis' own amplitude */
    slew_echo swing_echo[SLEW_AXES];        /* and swing */
    double speed[SLEW_AXES][SLEW_STEP_DEGREE + 2];
    double angle[SLEW_AXES][SLEW_STEP_DEGREE + 3];
    bool plain; /* one exponential: the speed only rises or only falls; of the nodes the last alone
                 */
    /* from any moment on the speed stays between what it is then and these bounds [rad/s] */
    double speed_low[SLEW_AXES], speed_high[SLEW_AXES];
    double node_torque[SLEW_STEP_DEGREE + 1][SLEW_AXES]; /* load torque T [N m] */
    double node_speed[SLEW_STEP_DEGREE + 1][SLEW_AXES];
    double node_angle[SLEW_STEP_DEGREE + 1][SLEW_AXES];
    double node_change[SLEW_STEP_DEGREE + 1][SLEW_AXES]; /* dw/dt */
    int peak_count; /* where the sum of the drive currents has a maximum inside the step */
    double peak[SLEW_STEP_DEGREE];
} slew_step;

/* Something that will happen inside the step. */
typedef struct slew_watch {
    int kind;
    int axis;
    int index;
    double at; /* time since the start of the step; INFINITY: nothing happens inside it [s] */
} slew_watch;

typedef struct slew_plant {
    double time;               /* since the start of the run [s] */
    double angle[SLEW_AXES];   /* [rad] */
    double speed[SLEW_AXES];   /* of the motor shaft, signed in the true direction [rad/s] */
    double current[SLEW_AXES]; /* drawn by each drive; 0 when off [A] */
    double voltage;            /* at the controller [V] */
    int drive[SLEW_AXES];      /* commanded: +1, -1, 0 off */
    int moving[SLEW_AXES];     /* true direction of motion, 0 at rest */
    bool closed[SLEW_AXES];    /* home sensor */
    bool over_current[SLEW_AXES];
    bool deaf[SLEW_AXES]; /* what over_current says has no meaning: lib/motion/progress.h */
    bool under_voltage[2];
    bool does_not_hold;
    bool gave_up;
    slew_plant_span span; /* of the last advance */

    /* private from here on */
    bool unsettled;                        /* rest and motion have to be asked for anew */
    bool has_step, has_smooth, has_angles; /* these are valid */
    bool auxiliary_on;                     /* the auxiliary battery feeds */
    bool helped[SLEW_AXES];                /* the load drives the gear backward */
    int passed[SLEW_AXES];                 /* marks that lie behind, seen in the + direction */
    int crowd;                             /* pieces since crowd_since */
    double crowd_since;                    /* [s] */
    double next_length;                    /* of the next step; 0: after a jump [s] */
    slew_electrics electrics;
    slew_dynamics dynamics;
    slew_step step;
    slew_watch smooth; /* what comes first of speeds, currents, voltage and loads */
    slew_watch angles; /* and of stops, switches and marks before that */
} slew_plant;

/* Places the axes at rest at `angle` [rad], drives off, time 0. Sensors are closed within operate.
 * SLEW_ERROR_INPUT, with nothing done: no such angles, or beyond a stop. */
SLEW_API slew_status slew_plant_start(const slew_plant_model *model, const double angle[SLEW_AXES],
                                      slew_plant *plant);

/* Goes on under other conditions, in motion too: time, angles, speeds and drives stay; whether an
 * axis at rest starts or holds is asked anew. A closed sensor stays closed within the new release;
 * one that is as it was stays as it is. Both models must have the same marks while an axis moves,
 * the same ratio, wiring and stops. false, with nothing done: the angles are beyond the new
 * stops. */
SLEW_API bool slew_plant_transfer(const slew_plant_model *from, const slew_plant_model *to,
                                  slew_plant *plant);

/* Sets one drive: +1 or -1 in the commanded direction, 0 off (then brake or coast). Takes effect at
 * the present time; whether an axis starts or holds is told by the next advance. false, with
 * nothing done: no such axis or direction. */
SLEW_API bool slew_plant_drive(const slew_plant_model *model, slew_plant *plant, int axis,
                               int direction);

/* Goes on to `until` [s] (the present time instead of an earlier one, or of NaN) or to the next
 * event, whichever is first, and says which. Events at one instant come one by one. Event times are
 * located to 1e-9 s; the motion does not depend on where earlier advances stopped. Once an axis
 * does not hold, or the plant gave up, it stands still and says so at once, whatever is asked. */
SLEW_API slew_plant_event slew_plant_advance(const slew_plant_model *model, slew_plant *plant,
                                             double until);

/* true once it stands still for good: an axis does not hold, or the plant gave up. */
SLEW_API bool slew_plant_is_over(const slew_plant *plant);

/* true while any axis moves. */
SLEW_API bool slew_plant_is_moving(const slew_plant *plant);

/* Output speed of an axis [rad/s]. */
SLEW_API double slew_plant_output_speed(const slew_plant_model *model, const slew_plant *plant,
                                        int axis);

#ifdef __cplusplus
}
#endif

#endif
