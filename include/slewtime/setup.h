/*
 * setup.h - the conditions of one occasion: all that one simulated part runs on, as plain data.
 *
 * Everything is in SI (rad, s, V, A, ohm, m, Pa, K, N m, kg m2, m3/s, m2/s); a share such as an
 * efficiency is a plain number (0.36 for 36 %).
 *
 * Signs. Rotation: 0 straight ahead, + to the right seen from behind. Elevation: 0 parallel to the
 * base of the mount, + up. Directions are +1 (right, up) and -1 (left, down).
 */
#ifndef SLEWTIME_SETUP_H
#define SLEWTIME_SETUP_H

#include <math.h>
#include <stdbool.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ---- The axes ---- */

enum { SLEW_ROTATION = 0, SLEW_ELEVATION = 1, SLEW_AXES = 2, SLEW_NO_AXIS = -1 };

/* A key that is left out and has no fixed default holds SLEW_NOT_GIVEN, a NaN. */
#define SLEW_NOT_GIVEN ((double)NAN)

/* ---- Conditions: all that a layer may change ---- */

typedef enum slew_conductor {
    SLEW_CONDUCTOR_NOT_GIVEN,
    SLEW_CONDUCTOR_GAUGE,      /* gauge is used */
    SLEW_CONDUCTOR_AREA,       /* area is used */
    SLEW_CONDUCTOR_PER_LENGTH, /* per_length is used, without stranding */
} slew_conductor;

typedef struct slew_feed {
    slew_conductor conductor; /* which of the three sizes counts */
    double gauge;             /* AWG number, -3 (4/0) to 40 [1] */
    double area;              /* conductor cross-section, > 0 [m2] */
    double per_length;       /* resistance of one conductor at 20 degC as it stands, >= 0 [ohm/m] */
    double length;           /* one way, >= 0 [m] */
    double stranding;        /* extra length of the strands, >= 0 [1] */
    double joints;           /* connectors and slip-ring contacts in the whole loop, >= 0 [1] */
    double joint_resistance; /* of one, >= 0 [ohm] */
} slew_feed;

typedef struct slew_battery {
    double voltage;    /* open circuit [V] */
    double resistance; /* internal [ohm] */
} slew_battery;

typedef struct slew_supply {
    double system;      /* nominal, 12 or 24 [V] */
    double floor;       /* minimum voltage under load, told; not given: 10.5 or 22 [V] */
    slew_battery main;  /* main source */
    double shared_load; /* constant current of other equipment at the far end, >= 0 [A] */
    slew_feed feed;
    bool auxiliary_fitted;
    slew_battery auxiliary; /* behind an ideal isolator at the controller */
} slew_supply;

typedef struct slew_environment {
    double temperature;    /* of everything but a warm motor (winding_rise) [K] */
    double tilt;           /* of the base, 0 to pi/2 [rad] */
    double tilt_direction; /* azimuth of the downhill side, in rotation's sense [rad] */
} slew_environment;

typedef struct slew_grease {
    double viscosity_40;  /* base oil at 40 degC [m2/s] */
    double viscosity_100; /* base oil at 100 degC, < viscosity_40 [m2/s] */
} slew_grease;

typedef enum slew_nozzle_kind { SLEW_SPRAY, SLEW_SMOOTH_BORE } slew_nozzle_kind;
typedef enum slew_reaction_form { SLEW_REACTION_TRADE, SLEW_REACTION_MOMENTUM } slew_reaction_form;

typedef struct slew_nozzle {
    bool flowing;
    slew_nozzle_kind kind;
    double flow;     /* spray: rated flow at `pressure`, >= 0 [m3/s] */
    double tip;      /* smooth bore: tip diameter, >= 0 [m] */
    double pressure; /* at the nozzle, gauge, >= 0 [Pa] */
    slew_reaction_form reaction;
    double coefficient; /* Cd or Cv of the momentum form, 0 to 1 [1] */
} slew_nozzle;

typedef enum slew_stop_mode { SLEW_BRAKE, SLEW_COAST } slew_stop_mode;

typedef struct slew_controller_settings {
    double drive_resistance; /* switches and motor leads [ohm] */
    double drive_drop;       /* constant drop of the switches [V] */
    slew_stop_mode stop;     /* brake: motor shorted through drive_resistance; coast: open */
    double sample;           /* grid on which the home sensors are looked at; 0 = no grid [s] */
    double latency;          /* from seen (edge) or declared (stall) to acted on [s] */
    double clock;            /* taught times are rounded to it; 0 = not rounded [s] */
    double pause;            /* from drive-off to the next drive-on [s] */
    double move_limit;       /* longest drive, > 0 [s] */
    double stall_current;    /* [A] */
    double stall_dwell;      /* [s] */
    double stall_blank;      /* [s] */
    double brownout_voltage; /* not given: 9 or 18 [V] */
    double brownout_dwell;   /* [s] */
} slew_controller_settings;

typedef struct slew_motor_sheet { /* the gearmotor running free, at 25 degC */
    double rated_voltage;         /* > 0 [V] */
    double no_load_speed;         /* of the motor shaft, > 0 [rad/s] */
    double no_load_current;       /* >= 0, < stall_current [A] */
    double stall_current;         /* > 0 [A] */
    double inertia;               /* rotor, > 0 [kg m2] */
    double viscous_share;         /* of the no-load torque, 0 to 1 [1] */
    double breakaway;             /* static over sliding Coulomb torque of the motor, >= 1 [1] */
    double magnet_coefficient;    /* change of its constant, from 25 degC, -0.003 to 0 [1/K] */
    double winding_rise;          /* of the winding above environment.temperature, 0 to 200 [K] */
    double magnet_share;          /* of that, which the magnets are above it, 0 to 1 [1] */
} slew_motor_sheet;

typedef struct slew_gear {      /* efficiencies at 25 degC */
    double ratio;               /* motor turns per output turn, > 0 [1] */
    double efficiency;          /* forward, > 0 to 1 [1] */
    double backward_efficiency; /* < 0: self-locking; not given: 2 - 1/efficiency [1] */
    double loss_coefficient;    /* change of its losses, from 25 degC, -0.01 to 0.01 [1/K] */
} slew_gear;

typedef struct slew_load {
    double inertia;        /* at the output, >= 0 [kg m2] */
    double friction;       /* at the output, >= 0 [N m] */
    double seal_friction;  /* while flowing, >= 0 [N m/Pa] */
    double reaction_arm;   /* of the nozzle reaction, signed [m] */
    double mass;           /* elevation only: what moves with the barrel, >= 0 [kg] */
    double water_mass;     /* elevation only: while flowing, >= 0 [kg] */
    double centre_of_mass; /* elevation only: distance along the barrel, >= 0 [m] */
} slew_load;

/* A cylinder magnet, its axis parallel to the axis of rotation, that passes a switch for its axial
 * field. */
typedef struct slew_magnet {
    bool given;          /* operate and release of the home sensor follow from it */
    double remanence;    /* > 0 to 2 [T] */
    double diameter;     /* > 0 [m] */
    double length;       /* > 0 [m] */
    double radius;       /* of the circle on which magnet or switch travels, > 0 [m] */
    double gap;          /* from the magnet's face to the switch, along the axis, > 0 [m] */
    double operate_flux; /* the switch closes at this flux density, > 0 [T] */
    double release_flux; /* and opens at this one, > 0, <= operate_flux [T] */
} slew_magnet;

typedef struct slew_home {
    double angle;   /* centre of the window [rad] */
    double operate; /* closes within, > 0; unless a magnet is given [rad] */
    double release; /* opens beyond, >= operate; unless a magnet is given [rad] */
    bool present;   /* no: never closes */
    bool stuck;     /* yes: closed everywhere (unless not present) */
    slew_magnet magnet;
} slew_home;

typedef enum slew_approach {
    SLEW_APPROACH_EITHER,
    SLEW_APPROACH_RISING, /* only an edge met while driven + */
    SLEW_APPROACH_FALLING /* only an edge met while driven - */
} slew_approach;

typedef struct slew_range {
    double low;
    double high;
} slew_range;

typedef struct slew_axis_setup {
    double start;     /* where the axis is when stowing begins [rad] */
    slew_range stops; /* hard stops, low < high [rad] */
    bool reversed;    /* the motor is wired the wrong way round */
    slew_motor_sheet motor;
    slew_gear gear;
    slew_load load;
    slew_home home;
    int search; /* first commanded direction, +1 or -1; 0: not given */
    slew_approach approach;
    double overrun; /* driven on past the opening edge before coming back [s] */
} slew_axis_setup;

/* Everything that holds on one occasion: what one simulated part runs on. */
typedef struct slew_setup {
    slew_supply supply;
    slew_environment environment;
    slew_grease grease;
    slew_nozzle nozzle;
    slew_controller_settings controller;
    slew_axis_setup axis[SLEW_AXES];
    double stow_cancel_at; /* from the start of the run; INFINITY: never [s] */
} slew_setup;

#ifdef __cplusplus
}
#endif

#endif
