/*
 * keys.c - the one table of keys; reading, checking, printing and help are derived from it. It is
 * as long as the format has keys.
 */
#include "keys/keys.h"

#define PI  3.14159265358979323846
#define RPM (PI / 30)

/* ranges, in SI; some end where the motion would come in too many pieces (M8.6) */
#define ANY                   .low = -INFINITY, .high = INFINITY
#define AT_LEAST(bound)       .low = (bound), .high = INFINITY
#define ABOVE(bound)          .low = (bound), .low_open = true, .high = INFINITY
#define AT_MOST(bound)        .low = -INFINITY, .high = (bound)
#define BETWEEN(least, most)  .low = (least), .high = (most)
#define ABOVE_TO(least, most) .low = (least), .low_open = true, .high = (most)

/* ten turns either way */
#define STOPS BETWEEN(-20 * PI, 20 * PI)

/* defaults: a value, none (zero), required, or a rule in words */
#define DEFAULT(text) .default_text = text
#define NONE          .default_text = "none"
#define REQUIRED      .default_text = "required", .required = true
#define RULE(text)    .default_text = text

/* what a stepped machine makes of it */
#define USED(what) .use = SLEW_USE_##what

/* what a fresh scenario holds, by the kind of default */
#define START_DEFAULT  .initial = SLEW_INITIAL_DEFAULT
#define START_NONE     .initial = SLEW_INITIAL_ZERO
#define START_REQUIRED .initial = SLEW_INITIAL_NOT_GIVEN
#define START_RULE     .initial = SLEW_INITIAL_NOT_GIVEN

/* where a key lives: conditions may differ from layer to layer, the rest may not */
#define CONDITION(field) offsetof(slew_scenario, setup.field)
#define THE_REST(field)  offsetof(slew_scenario, field)
#define IN_CONDITION     .layered = true
#define IN_THE_REST      .layered = false

#define NUMBER(where, path_, field, quantity_, unit_, range, start, default_, example_, meaning_)  \
    .key = {.path = path_,                                                                         \
            .kind = SLEW_KEY_NUMBER,                                                               \
            .quantity = quantity_,                                                                 \
            .unit = unit_,                                                                         \
            range,                                                                                 \
            default_,                                                                              \
            .example = example_,                                                                   \
            IN_##where,                                                                            \
            .meaning = meaning_},                                                                  \
    .offset = where(field), START_##start

#define YES_NO(where, path_, field, default_, meaning_)                                            \
    .key = {.path = path_,                                                                         \
            .kind = SLEW_KEY_YES_NO,                                                               \
            .default_text = default_,                                                              \
            ANY,                                                                                   \
            .example = "yes",                                                                      \
            IN_##where,                                                                            \
            .meaning = meaning_},                                                                  \
    .offset = where(field), START_DEFAULT

#define CHOICE(where, path_, field, words_, values_, start, default_, example_, meaning_)          \
    .key = {.path = path_,                                                                         \
            .kind = SLEW_KEY_CHOICE,                                                               \
            .words = words_,                                                                       \
            ANY,                                                                                   \
            default_,                                                                              \
            .example = example_,                                                                   \
            IN_##where,                                                                            \
            .meaning = meaning_},                                                                  \
    .offset = where(field), START_##start, .values = values_

/* a figure of a home sensor's magnet, above 0: all of them, or none */
#define MAGNET(name, at, last, field, quantity_, unit_, most, example_, meaning_)                  \
    NUMBER(CONDITION, name ".home.magnet." last, axis[at].home.magnet.field, quantity_, unit_,     \
           ABOVE_TO(0, most), RULE, RULE("required with a magnet"), example_, meaning_),           \
        .effect = SLEW_EFFECT_MAGNET

/* a figure of a motor that others follow from */
#define FOLLOWS RULE("required, unless other figures of the data sheet tell it")

/* a further figure of a data sheet, above 0 */
#define SHEET(path_, at, figure, quantity_, unit_, example_, meaning_)                             \
    NUMBER(THE_REST, path_, sheet[at][SLEW_MOTOR_##figure], quantity_, unit_, ABOVE(0), RULE,      \
           RULE("not given"), example_, meaning_),                                                 \
        .effect = SLEW_EFFECT_SHEET

#define TIMES(path_, field, meaning_)                                                              \
    .key = {.path = path_,                                                                         \
            .kind = SLEW_KEY_LIST,                                                                 \
            .quantity = "time",                                                                    \
            .unit = "s",                                                                           \
            ANY,                                                                                   \
            RULE("the seconds alone"),                                                             \
            .example = "[1.5 s, 3 s]",                                                             \
            .meaning = meaning_},                                                                  \
    .offset = THE_REST(field), .effect = SLEW_EFFECT_DEPLOY, START_RULE

/* a share of the cases over all days */
#define SHARE(path_, field, default_, meaning_)                                                    \
    NUMBER(THE_REST, path_, demands.field, "share", "%", BETWEEN(0, 1), DEFAULT,                   \
           DEFAULT(default_), default_, meaning_)

/* where the stow point may be moved to, by who chooses it */
#define RANGE_END(path_, field, example_)                                                          \
    NUMBER(THE_REST, path_, field, "angle", "deg", ANY, RULE, RULE("the point stays where it is"), \
           example_, "where the stow point may lie, bounds included")

#define STRUCTURE(path_, structure_, example_, meaning_)                                           \
    .key = {.path = path_,                                                                         \
            .kind = SLEW_KEY_STRUCTURE,                                                            \
            ANY,                                                                                   \
            NONE,                                                                                  \
            .example = example_,                                                                   \
            .meaning = meaning_},                                                                  \
    .offset = SLEW_NO_FIELD, .structure = structure_, START_NONE

/* values of the words of each choice, in the order of the words */
static const int UNITS[] = {SLEW_UNITS_US, SLEW_UNITS_SI};
static const int NOZZLE_KINDS[] = {SLEW_SPRAY, SLEW_SMOOTH_BORE};
static const int REACTIONS[] = {SLEW_REACTION_TRADE, SLEW_REACTION_MOMENTUM};
static const int STOP_MODES[] = {SLEW_BRAKE, SLEW_COAST};
static const int DIRECTIONS[] = {-1, +1};
static const int APPROACHES[] = {SLEW_APPROACH_EITHER, SLEW_APPROACH_RISING, SLEW_APPROACH_FALLING};
static const int ORDERS[] = {SLEW_ROTATION_FIRST, SLEW_ELEVATION_FIRST, SLEW_TOGETHER};

#define ONE_ORDER      "rotation, elevation | elevation, rotation"
#define ANY_ORDER      ONE_ORDER " | together"
#define APPROACH_WORDS "either | rising | falling"

/* clang-format off */

/* the keys that both axes have; `at` is the axis, `words` its directions */
/* analyzer: cppcheck counts the parameters of NUMBER before BETWEEN and the like are put in */
#define AXIS(name, at, words, direction)                                                           \
    {NUMBER(CONDITION, name ".start", axis[at].start, "angle", "deg", ANY,                         \
        REQUIRED, REQUIRED, "10 deg", "where the axis is when stowing begins"), USED(START)},      \
    {NUMBER(CONDITION, name ".stops.low", axis[at].stops.low, "angle", "deg", STOPS,               \
        REQUIRED, REQUIRED, "-20 deg", "lower or left hard stop"), USED(START)},                   \
    {NUMBER(CONDITION, name ".stops.high", axis[at].stops.high, "angle", "deg", STOPS,             \
        REQUIRED, REQUIRED, "90 deg", "upper or right hard stop"), USED(START)},                   \
    {YES_NO(CONDITION, name ".reversed", axis[at].reversed, "no",                                  \
        "the motor is wired the wrong way round"), USED(START)},                                   \
    {NUMBER(CONDITION, name ".motor.rated_voltage", axis[at].motor.rated_voltage, "voltage", "V",  \
        ABOVE(0), REQUIRED, REQUIRED, "12 V", "voltage of the motor's data sheet")},               \
    {NUMBER(CONDITION, name ".motor.no_load_speed", axis[at].motor.no_load_speed,                  \
        "speed of rotation", "rpm", ABOVE_TO(0, 50000 * RPM),                                      \
        RULE, FOLLOWS, "3200 rpm", "of the motor shaft, gearmotor running free"),                  \
     .effect = SLEW_EFFECT_MOTOR},                                                                 \
    {NUMBER(CONDITION, name ".motor.no_load_current", axis[at].motor.no_load_current,              \
        "current", "A", AT_LEAST(0),                                                               \
        RULE, FOLLOWS, "1.2 A", "of the gearmotor running free"), .effect = SLEW_EFFECT_MOTOR},    \
    {NUMBER(CONDITION, name ".motor.stall_current", axis[at].motor.stall_current,                  \
        "current", "A", ABOVE(0),                                                                  \
        RULE, FOLLOWS, "20 A", "at standstill and rated voltage"), .effect = SLEW_EFFECT_MOTOR},   \
    {NUMBER(CONDITION, name ".motor.inertia", axis[at].motor.inertia,                              \
        "moment of inertia", "kg.m2", AT_LEAST(1e-9),                                              \
        RULE, RULE("a mechanical time constant of 20 ms"), "4.5e-5 kg.m2", "of the rotor"),        \
     .effect = SLEW_EFFECT_INERTIA},                                                               \
    {NUMBER(CONDITION, name ".motor.viscous_share", axis[at].motor.viscous_share,                  \
        "share", "%", BETWEEN(0, 1),                                                               \
        DEFAULT, DEFAULT("30 %"), "30 %", "viscous part of the no-load torque")},                  \
    {NUMBER(CONDITION, name ".motor.winding_rise", axis[at].motor.winding_rise,                    \
        "temperature difference", "K", BETWEEN(0, 200),                                            \
        NONE, NONE, "40 K", "of the winding above the surroundings, warm from use")},              \
    {NUMBER(CONDITION, name ".motor.magnet_share", axis[at].motor.magnet_share,                    \
        "share", "%", BETWEEN(0, 1),                                                               \
        DEFAULT, DEFAULT("50 %"), "20 %", "of the winding's rise that magnets and case have")},    \
    {NUMBER(CONDITION, name ".motor.magnet_coefficient", axis[at].motor.magnet_coefficient,        \
        "share per temperature", "%/K", BETWEEN(-0.003, 0),                                        \
        DEFAULT, DEFAULT("-0.2 %/K"), "-0.11 %/K",                                                 \
        "change of the motor constant from 25 degC; ferrite -0.2, neodymium -0.11")},              \
    {NUMBER(CONDITION, name ".motor.breakaway", axis[at].motor.breakaway,                          \
        "plain number", "", AT_LEAST(1),                                                           \
        DEFAULT, DEFAULT("1.2"), "1.2", "static over sliding Coulomb torque of the motor")},       \
    {SHEET(name ".motor.armature_resistance", at, RESISTANCE, "resistance", "mohm", "600 mohm",    \
        "at rest, at the terminals; in place of stall_current")},                                  \
    {SHEET(name ".motor.stall_torque", at, STALL_TORQUE, "torque", "N.m", "0.65 N.m",              \
        "at the motor shaft, standstill and rated voltage")},                                      \
    {SHEET(name ".motor.rated.speed", at, RATED_SPEED, "speed of rotation", "rpm", "2600 rpm",     \
        "of the motor shaft under load, above half of the no-load speed")},                        \
    {SHEET(name ".motor.rated.torque", at, RATED_TORQUE, "torque", "N.m", "0.12 N.m",              \
        "of that load at the motor shaft")},                                                       \
    {SHEET(name ".motor.rated.current", at, RATED_CURRENT, "current", "A", "4.7 A",                \
        "at that load")},                                                                          \
    {SHEET(name ".gearmotor.no_load_speed", at, OUTPUT_NO_LOAD_SPEED,                              \
        "speed of rotation", "rpm", "1.8 rpm", "of the output shaft, running free")},              \
    {SHEET(name ".gearmotor.stall_torque", at, OUTPUT_STALL_TORQUE, "torque", "N.m", "400 N.m",    \
        "at the output shaft, standstill and rated voltage")},                                     \
    {SHEET(name ".gearmotor.rated.speed", at, OUTPUT_RATED_SPEED, "speed of rotation", "rpm",      \
        "1.5 rpm", "of the output shaft under load, above half of the no-load speed")},            \
    {SHEET(name ".gearmotor.rated.torque", at, OUTPUT_RATED_TORQUE, "torque", "N.m", "75 N.m",     \
        "of that load at the output shaft")},                                                      \
    {SHEET(name ".gearmotor.rated.current", at, OUTPUT_RATED_CURRENT, "current", "A", "4.7 A",     \
        "at that load")},                                                                          \
    {NUMBER(CONDITION, name ".gear.ratio", axis[at].gear.ratio, "plain number", "", AT_LEAST(1),   \
        REQUIRED, REQUIRED, "1750", "motor turns per output turn"), USED(START)},                  \
    {NUMBER(CONDITION, name ".gear.efficiency", axis[at].gear.efficiency,                          \
        "share", "%", ABOVE_TO(0, 1),                                                              \
        RULE, RULE("required, unless a gearmotor torque tells it"), "36 %",                        \
        "from motor to output"), .effect = SLEW_EFFECT_MOTOR},                                     \
    {NUMBER(CONDITION, name ".gear.backward_efficiency", axis[at].gear.backward_efficiency,        \
        "share", "%", AT_MOST(1),                                                                  \
        RULE, RULE("2 - 1/efficiency"), "-20 %", "from output to motor; negative: self-locking")}, \
    {NUMBER(CONDITION, name ".gear.loss_coefficient", axis[at].gear.loss_coefficient,              \
        "share per temperature", "%/K", BETWEEN(-0.01, 0.01),                                      \
        NONE, NONE, "-0.3 %/K", "change of the gear's losses from 25 degC; negative: less warm")}, \
    {NUMBER(CONDITION, name ".load.inertia", axis[at].load.inertia,                                \
        "moment of inertia", "kg.m2", AT_LEAST(0), NONE, NONE, "2.5 kg.m2", "at the output")},     \
    {NUMBER(CONDITION, name ".load.friction", axis[at].load.friction,                              \
        "torque", "N.m", AT_LEAST(0), NONE, NONE, "8 N.m", "at the output")},                      \
    {NUMBER(CONDITION, name ".load.seal_friction", axis[at].load.seal_friction,                    \
        "torque per pressure", "N.m/bar", AT_LEAST(0),                                             \
        NONE, NONE, "1.5 N.m/bar", "at the output, while flowing")},                               \
    {NUMBER(CONDITION, name ".load.reaction_arm", axis[at].load.reaction_arm,                      \
        "length", "mm", ANY, NONE, NONE, "4 mm", "arm of the nozzle reaction, signed")}

#define AXIS_SENSOR(name, at, words, direction)                                                    \
    {NUMBER(CONDITION, name ".home.angle", axis[at].home.angle, "angle", "deg", ANY,               \
        REQUIRED, REQUIRED, "0 deg", "center of the home window")},                       \
    {NUMBER(CONDITION, name ".home.operate", axis[at].home.operate, "angle", "deg", ABOVE(0),      \
        DEFAULT, DEFAULT("3 deg"), "3 deg", "the sensor closes within it"),                        \
     .effect = SLEW_EFFECT_WINDOW},                                                                \
    {NUMBER(CONDITION, name ".home.release", axis[at].home.release, "angle", "deg", ABOVE(0),      \
        DEFAULT, DEFAULT("4 deg"), "4 deg", "the sensor opens beyond it"),                         \
     .effect = SLEW_EFFECT_WINDOW},                                                                \
    {MAGNET(name, at, "remanence", remanence, "flux density", "T", 2, "1.2 T",                     \
        "of a cylinder magnet that gives operate and release")},                                   \
    {MAGNET(name, at, "diameter", diameter, "length", "mm", INFINITY, "8 mm",                      \
        "of the magnet")},                                                                         \
    {MAGNET(name, at, "length", length, "length", "mm", INFINITY, "5 mm",                          \
        "of the magnet along its axis, which is parallel to the axis of rotation")},               \
    {MAGNET(name, at, "radius", radius, "length", "mm", INFINITY, "120 mm",                        \
        "of the circle on which it passes the switch")},                                           \
    {MAGNET(name, at, "gap", gap, "length", "mm", INFINITY, "6 mm",                                \
        "from the magnet's face to the switch, along the axis")},                                  \
    {MAGNET(name, at, "operate_flux", operate_flux, "flux density", "mT", INFINITY, "5 mT",        \
        "the switch closes at it")},                                                               \
    {MAGNET(name, at, "release_flux", release_flux, "flux density", "mT", INFINITY, "3 mT",        \
        "the switch opens at it")},                                                                \
    {YES_NO(CONDITION, name ".home.present", axis[at].home.present, "yes",                         \
        "no: the sensor never closes")},                                                           \
    {YES_NO(CONDITION, name ".home.stuck", axis[at].home.stuck, "no",                              \
        "yes: the sensor is closed everywhere")},                                                  \
    {CHOICE(CONDITION, name ".search", axis[at].search, words, DIRECTIONS,                         \
        REQUIRED, REQUIRED, direction, "first direction of the search"), USED(CONTROLLER)},        \
    {CHOICE(CONDITION, name ".approach", axis[at].approach, APPROACH_WORDS, APPROACHES,            \
        DEFAULT, DEFAULT("falling"), "falling", "sensor edge used as home: met turning up or right (rising), down or left (falling)"), USED(CONTROLLER)},\
    {NUMBER(CONDITION, name ".overrun", axis[at].overrun, "time", "ms", AT_LEAST(0),               \
        DEFAULT, DEFAULT("300 ms"), "300 ms", "driven on past the opening edge, then back"), USED(CONTROLLER)}

static const slew_key_row KEYS[] = {
    {.key = {.path = "format", .kind = SLEW_KEY_NUMBER, .quantity = "plain number", .unit = "",
             BETWEEN(1, 1), REQUIRED, .example = "1", .meaning = "version of the file format"},
     .offset = SLEW_NO_FIELD, START_REQUIRED, .bounds_only = true},
    {.key = {.path = "title", .kind = SLEW_KEY_TEXT, ANY, NONE, .example = "Roof monitor",
             .meaning = "one line that names the scenario"},
     .offset = THE_REST(title), START_NONE},
    {CHOICE(THE_REST, "units", units, "us | si", UNITS, DEFAULT, DEFAULT("us"), "si",
        "units of texts and pictures; files, JSON and CSV name their own"),
        .effect = SLEW_EFFECT_SHOWN},
    {YES_NO(THE_REST, "fitted", fitted, "no",
        "spread.truck is this one truck's, fitted to readings; `slewtime fit --write` says so")},

    {NUMBER(CONDITION, "supply.system", supply.system, "voltage", "V", BETWEEN(12, 24),
        DEFAULT, DEFAULT("12 V"), "24 V", "nominal voltage, 12 V or 24 V"), USED(NONE), .bounds_only = true},
    {NUMBER(CONDITION, "supply.floor", supply.floor, "voltage", "V", AT_LEAST(0),
        RULE, RULE("10.5 V, at 24 V: 22 V"), "11.2 V",
        "minimum voltage at the controller while running: told, no fault; the default is the low "
        "end of a device's range in ISO 16750-2 (code D, at 24 V code G), no advice")},
    {NUMBER(CONDITION, "supply.main.voltage", supply.main.voltage, "voltage", "V", ABOVE(0),
        REQUIRED, REQUIRED, "13.4 V", "open circuit"), USED(CONDITION)},
    {NUMBER(CONDITION, "supply.main.resistance", supply.main.resistance,
        "resistance", "mohm", AT_LEAST(0), NONE, NONE, "10 mohm", "internal")},
    {NUMBER(CONDITION, "supply.shared_load", supply.shared_load, "current", "A", AT_LEAST(0),
        NONE, NONE, "6 A", "constant current of the other load, at the controller"), USED(CONDITION)},
    {NUMBER(CONDITION, "supply.feed.gauge", supply.feed.gauge, "wire gauge", "AWG",
        BETWEEN(-3, 40), RULE, RULE("required, unless area or per_length is given"), "8 AWG",
        "size of the conductor by gauge"), .effect = SLEW_EFFECT_GAUGE},
    {NUMBER(CONDITION, "supply.feed.area", supply.feed.area, "area", "mm2", ABOVE(0),
        RULE, RULE("required, unless gauge or per_length is given"), "10 mm2",
        "size of the conductor by cross-section"), .effect = SLEW_EFFECT_AREA},
    {NUMBER(CONDITION, "supply.feed.per_length", supply.feed.per_length,
        "resistance per length", "ohm/km", AT_LEAST(0),
        RULE, RULE("required, unless gauge or area is given"), "2.1 ohm/km",
        "of one conductor at 20 degC as it stands"), .effect = SLEW_EFFECT_PER_LENGTH},
    {NUMBER(CONDITION, "supply.feed.length", supply.feed.length, "length", "m", AT_LEAST(0),
        REQUIRED, REQUIRED, "9 m", "one way")},
    {NUMBER(CONDITION, "supply.feed.stranding", supply.feed.stranding, "share", "%", AT_LEAST(0),
        DEFAULT, DEFAULT("2 %"), "2 %", "extra length of the strands")},
    {NUMBER(CONDITION, "supply.feed.joints", supply.feed.joints, "plain number", "", AT_LEAST(0),
        NONE, NONE, "8", "connections in the whole loop: lugs, splices, connectors, slip rings")},
    {NUMBER(CONDITION, "supply.feed.joint_resistance", supply.feed.joint_resistance,
        "resistance", "mohm", AT_LEAST(0), NONE, NONE, "1.5 mohm", "of one connection")},
    {YES_NO(CONDITION, "supply.auxiliary.fitted", supply.auxiliary_fitted, "no",
        "a battery behind an ideal isolator at the controller")},
    {NUMBER(CONDITION, "supply.auxiliary.voltage", supply.auxiliary.voltage,
        "voltage", "V", ABOVE(0), DEFAULT, DEFAULT("12.7 V"), "12.7 V", "open circuit")},
    {NUMBER(CONDITION, "supply.auxiliary.resistance", supply.auxiliary.resistance,
        "resistance", "mohm", AT_LEAST(1e-5), DEFAULT, DEFAULT("20 mohm"), "20 mohm", "internal")},

    {NUMBER(CONDITION, "environment.temperature", environment.temperature,
        "temperature", "degC", BETWEEN(273.15 - 60, 273.15 + 100),
        DEFAULT, DEFAULT("20 degC"), "20 degC", "of everything but motors warm from use"), USED(CONDITION)},
    {NUMBER(CONDITION, "environment.tilt", environment.tilt, "angle", "deg", BETWEEN(0, PI / 2),
        DEFAULT, DEFAULT("0 deg"), "5 deg", "of the base")},
    {NUMBER(CONDITION, "environment.tilt_direction", environment.tilt_direction,
        "angle", "deg", ANY, DEFAULT, DEFAULT("0 deg"), "90 deg",
        "azimuth of the downhill side, in the sense of rotation")},

    {NUMBER(CONDITION, "grease.viscosity_40", grease.viscosity_40,
        "kinematic viscosity", "mm2/s", ABOVE(0.3e-6),
        DEFAULT, DEFAULT("100 mm2/s"), "100 mm2/s", "of the base oil at 40 degC")},
    {NUMBER(CONDITION, "grease.viscosity_100", grease.viscosity_100,
        "kinematic viscosity", "mm2/s", ABOVE(0.3e-6),
        DEFAULT, DEFAULT("11.1 mm2/s"), "11.1 mm2/s", "of the base oil at 100 degC")},

    {YES_NO(CONDITION, "nozzle.flowing", nozzle.flowing, "no", "water flows while it moves"), USED(CONDITION)},
    {CHOICE(CONDITION, "nozzle.kind", nozzle.kind, "spray | smooth_bore", NOZZLE_KINDS,
        DEFAULT, DEFAULT("spray"), "smooth_bore", "what the flow is worked out from")},
    {NUMBER(CONDITION, "nozzle.flow", nozzle.flow, "flow", "gpm", AT_LEAST(0),
        NONE, NONE, "1000 gpm", "of a spray nozzle at its pressure"), USED(CONDITION)},
    {NUMBER(CONDITION, "nozzle.tip", nozzle.tip, "length", "in", AT_LEAST(0),
        NONE, NONE, "1.75 in", "diameter of a smooth bore")},
    {NUMBER(CONDITION, "nozzle.pressure", nozzle.pressure, "pressure", "bar", AT_LEAST(0),
        NONE, NONE, "7 bar", "at the nozzle, gauge"), USED(CONDITION)},
    {CHOICE(CONDITION, "nozzle.reaction", nozzle.reaction, "trade | momentum", REACTIONS,
        DEFAULT, DEFAULT("trade"), "momentum", "which formula of the reaction force")},
    {NUMBER(CONDITION, "nozzle.coefficient", nozzle.coefficient, "plain number", "",
        BETWEEN(0, 1), DEFAULT, DEFAULT("1.0"), "0.97", "of the momentum form")},

    {NUMBER(CONDITION, "controller.drive_resistance", controller.drive_resistance,
        "resistance", "mohm", AT_LEAST(0),
        DEFAULT, DEFAULT("20 mohm"), "20 mohm", "switches and motor leads")},
    {NUMBER(CONDITION, "controller.drive_drop", controller.drive_drop, "voltage", "V", AT_LEAST(0),
        DEFAULT, DEFAULT("0.6 V"), "0.6 V", "constant drop of the switches")},
    {CHOICE(CONDITION, "controller.stop", controller.stop, "brake | coast", STOP_MODES,
        DEFAULT, DEFAULT("brake"), "coast", "what motor off does to the motor")},
    {NUMBER(CONDITION, "controller.sample", controller.sample, "time", "ms", AT_LEAST(0),
        DEFAULT, DEFAULT("5 ms"), "5 ms", "grid on which the home sensors are looked at"), USED(CONTROLLER)},
    {NUMBER(CONDITION, "controller.latency", controller.latency, "time", "ms", AT_LEAST(0),
        DEFAULT, DEFAULT("15 ms"), "15 ms", "from seen or declared to acted on"), USED(CONTROLLER)},
    {NUMBER(CONDITION, "controller.clock", controller.clock, "time", "ms", AT_LEAST(0),
        DEFAULT, DEFAULT("10 ms"), "10 ms", "taught times are rounded to it"), USED(TEACHING)},
    {NUMBER(CONDITION, "controller.pause", controller.pause, "time", "ms", BETWEEN(0, 3600),
        DEFAULT, DEFAULT("500 ms"), "500 ms", "from motor off to the next motor on"), USED(CONTROLLER)},
    {NUMBER(CONDITION, "controller.move_limit", controller.move_limit, "time", "s", ABOVE_TO(0, 3600),
        DEFAULT, DEFAULT("60 s"), "60 s", "longest drive"), USED(CONTROLLER)},
    {NUMBER(CONDITION, "controller.stall.current", controller.stall_current,
        "current", "A", ABOVE(0), REQUIRED, REQUIRED, "13 A", "from which a stall is suspected")},
    {NUMBER(CONDITION, "controller.stall.dwell", controller.stall_dwell,
        "time", "ms", AT_LEAST(0), DEFAULT, DEFAULT("250 ms"), "250 ms",
        "without a break until a stall is declared"), USED(CONTROLLER)},
    {NUMBER(CONDITION, "controller.stall.blank", controller.stall_blank,
        "time", "ms", AT_LEAST(0), DEFAULT, DEFAULT("200 ms"), "200 ms",
        "after motor on, not looked at"), USED(CONTROLLER)},
    {NUMBER(CONDITION, "controller.brownout.voltage", controller.brownout_voltage,
        "voltage", "V", AT_LEAST(0), RULE, RULE("9 V, at 24 V: 18 V"), "9 V",
        "brownout: below it the controller drops out and all motors go off")},
    {NUMBER(CONDITION, "controller.brownout.dwell", controller.brownout_dwell,
        "time", "ms", AT_LEAST(0), DEFAULT, DEFAULT("50 ms"), "50 ms",
        "without a break until it acts"), USED(CONTROLLER)},

    AXIS("rotation", SLEW_ROTATION, "left | right", "right"),
    AXIS_SENSOR("rotation", SLEW_ROTATION, "left | right", "right"),

    AXIS("elevation", SLEW_ELEVATION, "down | up", "down"),
    {NUMBER(CONDITION, "elevation.load.mass", axis[SLEW_ELEVATION].load.mass,
        "mass", "kg", AT_LEAST(0), NONE, NONE, "11 kg", "what moves with the barrel")},
    {NUMBER(CONDITION, "elevation.load.water_mass", axis[SLEW_ELEVATION].load.water_mass,
        "mass", "kg", AT_LEAST(0), NONE, NONE, "5 kg", "water in it while flowing")},
    {NUMBER(CONDITION, "elevation.load.centre_of_mass", axis[SLEW_ELEVATION].load.centre_of_mass,
        "length", "m", AT_LEAST(0), NONE, NONE, "0.34 m", "distance along the barrel")},
    AXIS_SENSOR("elevation", SLEW_ELEVATION, "down | up", "down"),

    {NUMBER(THE_REST, "stow.lift_first", stow.lift_first, "time", "s", AT_LEAST(0),
        NONE, NONE, "1 s", "timed move up before the search"), USED(PROGRAM)},
    {CHOICE(THE_REST, "stow.home_order", stow.home_order, ONE_ORDER, ORDERS,
        REQUIRED, REQUIRED, "elevation, rotation", "which axis is homed first"), USED(PROGRAM)},
    {CHOICE(THE_REST, "stow.order", stow.order, ANY_ORDER, ORDERS,
        REQUIRED, REQUIRED, "rotation, elevation", "of the stored times"), USED(PROGRAM)},
    {NUMBER(THE_REST, "stow.point.rotation", stow.point[SLEW_ROTATION], "angle", "deg", ANY,
        RULE, RULE("required, unless times are given"), "0 deg", "where it is taught"), USED(TEACHING),
     .effect = SLEW_EFFECT_POINT},
    {NUMBER(THE_REST, "stow.point.elevation", stow.point[SLEW_ELEVATION], "angle", "deg", ANY,
        RULE, RULE("required, unless times are given"), "-16 deg", "where it is taught"), USED(TEACHING),
     .effect = SLEW_EFFECT_POINT},
    {NUMBER(THE_REST, "stow.times.rotation", stow.times[SLEW_ROTATION], "time", "s", ANY,
        RULE, RULE("taught at the point"), "0.31 s", "stored time, signed"), USED(TEACHING),
     .effect = SLEW_EFFECT_TIMES},
    {NUMBER(THE_REST, "stow.times.elevation", stow.times[SLEW_ELEVATION], "time", "s", ANY,
        RULE, RULE("taught at the point"), "-2.31 s", "stored time, signed"), USED(TEACHING),
     .effect = SLEW_EFFECT_TIMES},
    {NUMBER(THE_REST, "stow.tolerance", stow.tolerance, "angle", "deg", AT_LEAST(0),
        DEFAULT, DEFAULT("2 deg"), "2 deg", "on target within it, on both axes")},
    {RANGE_END("stow.range.rotation.low", stow.range[SLEW_ROTATION].low, "-5 deg")},
    {RANGE_END("stow.range.rotation.high", stow.range[SLEW_ROTATION].high, "5 deg")},
    {RANGE_END("stow.range.elevation.low", stow.range[SLEW_ELEVATION].low, "-18 deg")},
    {RANGE_END("stow.range.elevation.high", stow.range[SLEW_ELEVATION].high, "-12 deg")},
    {NUMBER(CONDITION, "stow.cancel_at", stow_cancel_at, "time", "s", AT_LEAST(0),
        DEFAULT, DEFAULT("never"), "4 s", "when the operator cancels"), USED(CONTROLLER), .infinite = "never"},

    {NUMBER(THE_REST, "deploy.seconds.rotation", deploy.seconds[SLEW_ROTATION], "time", "s", ANY,
        RULE, RULE("required with a deploy"), "0 s", "deploy seconds, signed"), USED(PROGRAM),
     .effect = SLEW_EFFECT_DEPLOY},
    {NUMBER(THE_REST, "deploy.seconds.elevation", deploy.seconds[SLEW_ELEVATION], "time", "s", ANY,
        RULE, RULE("required with a deploy"), "7.5 s", "deploy seconds, signed"), USED(PROGRAM),
     .effect = SLEW_EFFECT_DEPLOY},
    {CHOICE(THE_REST, "deploy.order", deploy.order, ANY_ORDER, ORDERS,
        RULE, RULE("required with a deploy"), "elevation, rotation", "of the deploy seconds"), USED(PROGRAM),
     .effect = SLEW_EFFECT_DEPLOY},
    {TIMES("deploy.choices.rotation", deploy.choices[SLEW_ROTATION],
        "what the controller can be set to, signed")},
    {TIMES("deploy.choices.elevation", deploy.choices[SLEW_ELEVATION],
        "what the controller can be set to, signed")},
    {NUMBER(THE_REST, "deploy.target.rotation.low", deploy.target[SLEW_ROTATION].low,
        "angle", "deg", ANY, RULE, RULE("required with a deploy"), "-6 deg",
        "where it should end, bounds included"), .effect = SLEW_EFFECT_DEPLOY},
    {NUMBER(THE_REST, "deploy.target.rotation.high", deploy.target[SLEW_ROTATION].high,
        "angle", "deg", ANY, RULE, RULE("required with a deploy"), "6 deg",
        "where it should end, bounds included"), .effect = SLEW_EFFECT_DEPLOY},
    {NUMBER(THE_REST, "deploy.target.elevation.low", deploy.target[SLEW_ELEVATION].low,
        "angle", "deg", ANY, RULE, RULE("required with a deploy"), "30 deg",
        "where it should end, bounds included"), .effect = SLEW_EFFECT_DEPLOY},
    {NUMBER(THE_REST, "deploy.target.elevation.high", deploy.target[SLEW_ELEVATION].high,
        "angle", "deg", ANY, RULE, RULE("required with a deploy"), "50 deg",
        "where it should end, bounds included"), .effect = SLEW_EFFECT_DEPLOY},
    {YES_NO(THE_REST, "deploy.same_day", deploy.same_day, "no",
        "in an ensemble the deploy shares the day of its stow"), .effect = SLEW_EFFECT_DEPLOY},

    {SHARE("demands.deploy_inside", deploy_inside, "95 %",
        "deploys that end inside the target, at least")},
    {SHARE("demands.stow_on_target", stow_on_target, "95 %",
        "stows that end within tolerance of the point, at least")},
    {SHARE("demands.keepout_entered", keepout_entered, "0.1 %",
        "days on which a keep-out zone is entered, at most")},
    {SHARE("demands.hard_stop", hard_stop, "0.1 %",
        "days stopped by a hard stop or jammed against it, at most")},
    {SHARE("demands.other_fault", other_fault, "0.1 %",
        "days that end in another fault, at most")},
    {SHARE("demands.below_floor", below_floor, "5 %",
        "days below the minimum voltage while running, at most")},
    {NUMBER(THE_REST, "demands.confidence", demands.confidence, "share", "%", BETWEEN(0.5, 0.999999),
        DEFAULT, DEFAULT("95 %"), "95 %", "with which a demand has to be met")},

    {STRUCTURE("keepout", SLEW_STRUCTURE_KEEPOUT,
        "[{name: mast, rotation: {low: -25 deg, high: 25 deg}}]",
        "keep-out zones that the barrel should not enter; a missing axis spans all")},
    {STRUCTURE("teach", SLEW_STRUCTURE_TEACH, "{supply.main.voltage: 12.6 V}",
        "what differs while the point is taught")},
    {STRUCTURE("today", SLEW_STRUCTURE_TODAY, "{rotation.home.present: no}",
        "what has changed since")},
    {STRUCTURE("deploy_day", SLEW_STRUCTURE_DEPLOY_DAY, "{environment.temperature: -5 degC}",
        "what has changed again by the time it deploys, on top of today")},
    {STRUCTURE("spread.truck", SLEW_STRUCTURE_TRUCK,
        "{elevation.gear.efficiency: {uniform: {low: 32 %, high: 40 %}}}",
        "what varies from truck to truck: drawn before teaching")},
    {STRUCTURE("spread.day", SLEW_STRUCTURE_DAY,
        "{environment.temperature: {normal: {mean: 15 degC, sd: 12 K}}}",
        "what varies from day to day: taught times are kept")},
    {STRUCTURE("spread.correlation", SLEW_STRUCTURE_CORRELATION,
        "[{between: [supply.main.voltage, environment.temperature], coefficient: 0.5}]",
        "pairs of varied keys that go together, by their correlation coefficient")},
};
/* clang-format on */

#define KEY_COUNT ((int)(sizeof KEYS / sizeof KEYS[0]))
_Static_assert(KEY_COUNT <= SLEW_KEYS_MAX, "marks have room for every key");

int slew_key_count(void)
{
    return KEY_COUNT;
}

const slew_key *slew_key_at(int index)
{
    return index >= 0 && index < KEY_COUNT ? &KEYS[index].key : NULL;
}

const slew_key_row *slew_key_row_at(int index)
{
    return &KEYS[index];
}
