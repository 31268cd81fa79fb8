/*
 * physics.h - what nature does: pure functions of plain numbers, no state, no memory, no I/O.
 *
 * SI throughout. Equation numbers (M1.2) are those of README's companion page, lib/MODEL.md.
 */
#ifndef SLEWTIME_PHYSICS_H
#define SLEWTIME_PHYSICS_H

#include <stdbool.h>

#include "slewtime/api.h"

#ifdef __cplusplus
extern "C" {
#endif

#define SLEW_GRAVITY             9.80665           /* standard acceleration of free fall [m/s2] */
#define SLEW_WATER_DENSITY       1000.0            /* [kg/m3] */
#define SLEW_ZERO_CELSIUS        273.15            /* [K] */
#define SLEW_COPPER_RESISTIVITY  1.7241e-8         /* 100 % IACS at 20 degC [ohm m] */
#define SLEW_COPPER_COEFFICIENT  0.00393           /* of resistance, at 20 degC [1/K] */
#define SLEW_INCH                0.0254            /* [m] */
#define SLEW_POUND_FORCE         4.4482216152605   /* [N] */
#define SLEW_US_GALLON           3.785411784e-3    /* [m3] */
#define SLEW_PSI                 6894.757293168361 /* [Pa] */
#define SLEW_FERRITE_COEFFICIENT (-0.002)          /* of remanence, from 25 degC [1/K] */

/* ---- Cable ---- */

/* Diameter [m] of a solid conductor of American wire gauge `number` (0, -1, -2, -3 for 1/0 to 4/0).
 * d = 0.127 mm * 92^((36 - n)/39), ASTM B258. M1.1 */
SLEW_API double slew_awg_diameter(double number);

/* Its cross-section [m2]. */
SLEW_API double slew_awg_area(double number);

/* Resistance of copper at `temperature` [K] over that at 20 degC. M1.2 */
SLEW_API double slew_copper_factor(double temperature);

/* Resistance [ohm/m] at 20 degC of one copper conductor of `area` [m2], its strands longer than the
 * conductor by the share `stranding`. M1.3 */
SLEW_API double slew_conductor_resistance(double area, double stranding);

/* ---- Conductors in trade ---- */

/* Sizes in which conductors are sold, thinnest first. */
typedef enum slew_ladder {
    SLEW_LADDER_AWG,     /* 18 AWG to 4/0 AWG, stranded copper of the gauge's own area */
    SLEW_LADDER_CLASS_2, /* IEC 60228 class 2, stranded, 1 to 120 mm2 */
    SLEW_LADDER_CLASS_5  /* IEC 60228 class 5, flexible, 1 to 120 mm2 */
} slew_ladder;

enum { SLEW_LADDERS = 3, SLEW_LADDER_MAX = 14 };

/* How many sizes it has; index is 0 to count - 1 below. */
SLEW_API int slew_ladder_count(slew_ladder ladder);

/* AWG number (0, -1, -2, -3 for 1/0 to 4/0), or nominal area [m2]. */
SLEW_API double slew_ladder_size(slew_ladder ladder, int index);

/* Resistance [ohm/m] of one conductor at 20 degC: by M1.3 of a gauge whose strands are longer by
 * the share `stranding`; of the others the largest that IEC 60228 allows plain copper, whatever the
 * stranding. M1.7 */
SLEW_API double slew_ladder_resistance(slew_ladder ladder, int index, double stranding);

/* The thinnest size with at most that resistance [ohm/m at 20 degC]; -1: the ladder has none. */
SLEW_API int slew_ladder_thinnest(slew_ladder ladder, double stranding, double most);

/* ---- Supply ---- */

/* A source seen from the controller: V = voltage - resistance * I. */
typedef struct slew_source {
    double voltage;    /* [V] */
    double resistance; /* [ohm] */
} slew_source;

/* The main source of open-circuit `voltage` [V] through source and feed resistance `line` >= 0
 * [ohm], with `shared_load` [A] at the far end. M1.4 */
SLEW_API slew_source slew_source_main(double voltage, double line, double shared_load);

/* `main` and an auxiliary battery of open-circuit `voltage` [V] and internal `resistance` [ohm] in
 * parallel. Holds while the result's V is below the battery's voltage; at that voltage both regimes
 * give the same V. main.resistance and resistance > 0. M1.5 */
SLEW_API slew_source slew_source_joint(slew_source main, double voltage, double resistance);

/* ---- Grease ---- */

/* Kinematic viscosity against temperature, log10 log10 (nu + 0.7) = A - B log10 T, nu in mm2/s,
 * T in K (Walther; ASTM D341). M2.3 */
typedef struct slew_viscosity_line {
    double a, b; /* A and B of the formula [1], B > 0 for an oil */
} slew_viscosity_line;

/* The line through two points. Viscosities [m2/s] above 0.3 mm2/s (where the formula's logarithm
 * ends; its use begins at about 2 mm2/s), temperatures [K] > 0 and different. NaN otherwise. */
SLEW_API slew_viscosity_line slew_viscosity_through(double viscosity_1, double temperature_1,
                                                    double viscosity_2, double temperature_2);

/* Viscosity [m2/s] at `temperature` [K]. */
SLEW_API double slew_viscosity_at(slew_viscosity_line line, double temperature);

/* Factor on viscous drag at `viscosity_ratio` = viscosity over that at 25 degC, >= 0: its power
 * 2/3, after Palmgren's lubricant torque. M2.4 */
SLEW_API double slew_drag_factor(double viscosity_ratio);

/* ---- Motor ---- */

/* Permanent-magnet DC motor: V = R I + K w, torque K I = coulomb + viscous w + load. M2.1 */
typedef struct slew_motor {
    double resistance; /* armature [ohm] */
    double constant;   /* K [V s/rad = N m/A] */
    double viscous;    /* [N m s/rad] */
    double coulomb;    /* [N m] */
} slew_motor;

/* From data-sheet figures at 25 degC: rated voltage [V], no-load speed [rad/s], no-load and stall
 * current [A], and the share (0 to 1) of the no-load torque that grows with speed. M2.1 */
SLEW_API slew_motor slew_motor_from_sheet(double rated_voltage, double no_load_speed,
                                          double no_load_current, double stall_current,
                                          double viscous_share);

/* Resistance of a copper winding that is `rise` [K] above `temperature` [K], over that at
 * `temperature`: (235 + t2)/(235 + t1) in degC, IEC 60034-1. M2.2 */
SLEW_API double slew_winding_factor(double temperature, double rise);

/* What a motor's constants hang on. */
typedef struct slew_motor_warmth {
    double temperature; /* of the surroundings [K] */
    double winding;     /* above it, >= 0 [K] */
    double magnets;     /* above it, >= 0 [K] */
    double coefficient; /* of the magnets, from 25 degC: SLEW_FERRITE_COEFFICIENT or so [1/K] */
} slew_motor_warmth;

/* The same motor so warm: copper's resistance and the magnet's constant follow from 25 degC, the
 * viscous drag is multiplied by `drag_factor`, Coulomb torque stays. M2.2 */
SLEW_API slew_motor slew_motor_at(slew_motor motor, slew_motor_warmth warmth, double drag_factor);

/* ---- Motor from a data sheet ---- */

/* The figures of a data sheet at its voltage, in the order in which they are believed: a later one
 * counts only where the earlier ones leave something open. Those of OUTPUT are at the output shaft
 * of the gear, the others at the motor shaft. Currents are the same at both. */
typedef enum slew_motor_figure {
    SLEW_MOTOR_NO_LOAD_SPEED,   /* [rad/s] */
    SLEW_MOTOR_NO_LOAD_CURRENT, /* [A] */
    SLEW_MOTOR_STALL_CURRENT,   /* [A] */
    SLEW_MOTOR_EFFICIENCY,      /* of the gear [1] */
    SLEW_MOTOR_RESISTANCE,      /* of the armature [ohm] */
    SLEW_MOTOR_STALL_TORQUE,    /* [N m] */
    SLEW_MOTOR_RATED_SPEED,     /* of a point under load [rad/s] */
    SLEW_MOTOR_RATED_TORQUE,    /* [N m] */
    SLEW_MOTOR_RATED_CURRENT,   /* [A] */
    SLEW_MOTOR_OUTPUT_NO_LOAD_SPEED,
    SLEW_MOTOR_OUTPUT_STALL_TORQUE,
    SLEW_MOTOR_OUTPUT_RATED_SPEED,
    SLEW_MOTOR_OUTPUT_RATED_TORQUE,
    SLEW_MOTOR_OUTPUT_RATED_CURRENT,
    SLEW_MOTOR_FIGURES
} slew_motor_figure;

typedef struct slew_motor_data {
    double voltage;                    /* > 0 [V] */
    double viscous_share;              /* of the no-load torque, 0 to 1 [1] */
    double ratio;                      /* of the gear [1] */
    double figure[SLEW_MOTOR_FIGURES]; /* > 0, the no-load current >= 0; NaN: not given */
} slew_motor_data;

typedef enum slew_motor_state {
    SLEW_MOTOR_FOUND,
    SLEW_MOTOR_LACKS,      /* too little: see `missing` */
    SLEW_MOTOR_CONTRADICTS /* no motor has these figures together: see `figure` */
} slew_motor_state;

typedef struct slew_motor_found {
    slew_motor_state state;
    double no_load_speed, no_load_current, stall_current, efficiency;
    bool missing[SLEW_MOTOR_EFFICIENCY + 1]; /* which of these four nothing tells */
    bool idle_is_assumed; /* the no-load current: SLEW_MOTOR_IDLE_SHARE of the stall current */
    double off; /* what the model has over a figure that is too much, as a logarithm; 0: nothing is
                   off by more than 2 % [1] */
    slew_motor_figure figure; /* that one, or with CONTRADICTS the last that was believed */
    slew_motor_figure other;  /* what it depends on most; SLEW_MOTOR_FIGURES: an assumption */
} slew_motor_found;

/* No-load over stall current where nothing tells it: common practice. */
#define SLEW_MOTOR_IDLE_SHARE 0.1

/* What follows from any sufficient set of figures. A figure given directly keeps its digits. The
 * torque of a sheet may or may not count the losses at standstill: it disagrees only if it does
 * either way. M2.8 */
SLEW_API slew_motor_found slew_motor_from_data(const slew_motor_data *data);

/* Mechanical time constant J R/K^2 that a motor is given whose inertia nobody tells [s]. Common
 * practice. */
#define SLEW_MOTOR_TYPICAL_TIME 0.020

/* Rotor inertia [kg m2] of a motor with that time constant. M2.9 */
SLEW_API double slew_motor_typical_inertia(slew_motor motor);

/* ---- Gear ---- */

/* Backward efficiency of a worm or screw of forward efficiency `forward` (> 0): 2 - 1/forward,
 * negative when self-locking. M3.1 */
SLEW_API double slew_backward_efficiency(double forward);

/* Efficiencies at `temperature` [K] of a gear that has `forward` and `backward` at 25 degC, its
 * losses 1/forward - 1 and 1 - backward changing by the share `coefficient` per K, so little that
 * some are left. M3.9 */
SLEW_API double slew_forward_efficiency_at(double forward, double coefficient, double temperature);
SLEW_API double slew_backward_efficiency_at(double backward, double coefficient,
                                            double temperature);

/* Torque at the output side that the motor has to bring for output torque `torque` opposing the
 * motion: torque/forward, or backward * torque when it drives the motion (< 0). M3.2 */
SLEW_API double slew_gear_torque(double torque, double forward, double backward);

/* Forward and backward efficiency of a worm gear: lead angle and normal pressure angle [rad],
 * coefficient of friction; both angles below 90 degrees, lead angle > 0, friction >= 0. For those
 * who have the gear's geometry, not its efficiency.
 * (cos pn - f tan l)/(cos pn + f cot l); (cos pn - f cot l)/(cos pn + f tan l).
 * Shigley, Mechanical Engineering Design, worm gearing. A square-thread screw has pn = 0. M3.8 */
SLEW_API double slew_worm_forward_efficiency(double lead_angle, double pressure_angle,
                                             double friction);
SLEW_API double slew_worm_backward_efficiency(double lead_angle, double pressure_angle,
                                              double friction);

/* ---- Nozzle ---- */

/* Smooth bore: tip diameter [m], nozzle pressure [Pa], discharge coefficient (1 = ideal).
 * Reaction [N]: 2 Cd^2 (pi/4) d^2 p. Flow [m3/s]: Cd (pi/4) d^2 sqrt(2 p/rho). M4.1, M4.2 */
SLEW_API double slew_bore_reaction(double tip, double pressure, double coefficient);
SLEW_API double slew_bore_flow(double tip, double pressure, double coefficient);

/* Spray: flow [m3/s] at nozzle pressure [Pa], velocity coefficient. Reaction [N]:
 * Cv Q sqrt(2 rho p). M4.3 */
SLEW_API double slew_spray_reaction(double flow, double pressure, double coefficient);

/* The fire service's rules: 1.57 d^2 P and 0.0505 Q sqrt(P) in lbf, in, psi, US gpm; SI here.
 * M4.4, M4.5 */
SLEW_API double slew_bore_reaction_trade(double tip, double pressure);
SLEW_API double slew_spray_reaction_trade(double flow, double pressure);

/* Its rule for the flow of a smooth bore, 29.7 d^2 sqrt(P) in US gpm, in, psi; SI here. M4.6 */
SLEW_API double slew_bore_flow_trade(double tip, double pressure);

/* ---- Home sensor ---- */

/* Voltage across `shunt` [ohm] behind `series` [ohm], > 0 together, from `supply` [V]: a closed
 * sensor of that resistance behind its resistor. M5.8 */
SLEW_API double slew_divider_voltage(double supply, double series, double shunt);

#ifdef __cplusplus
}
#endif

#endif
