/*
 * feed.h - the voltage that reaches the controller through its feed, and which conductor suffices.
 *
 * Asked for steady running, for drives that are just on and for stalled motors, by the equations of
 * the run (M11). Running means: each driven axis at the place and in the direction of its travel
 * between the stops where its load holds it back most, speeds settled. What a controller sees in a
 * run is not below that while the axes run.
 *
 * Voltage alone is looked at. Whether a conductor carries the current without getting too hot, and
 * how it is fused, is for the codes and the maker's instructions.
 */
#ifndef SLEWTIME_FEED_H
#define SLEWTIME_FEED_H

#include "slewtime/api.h"
#include "slewtime/demands.h"
#include "slewtime/physics.h"
#include "slewtime/run.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ---- Voltage and currents ---- */

/* Which drives are on: SLEW_ROTATION or SLEW_ELEVATION alone, or both. */
enum { SLEW_FEED_BOTH = SLEW_AXES, SLEW_FEED_DRIVES };

typedef struct slew_feed_state {
    double voltage; /* at the controller [V] */
    double current; /* of the drives together [A] */
    double line;    /* through the feed, shared load included; < 0: back into the main source [A] */
    double auxiliary; /* out of the auxiliary battery, >= 0 [A] */
    double drop;      /* over conductors and joints of the feed [V] */
} slew_feed_state;

/* Where an axis is held back most, of all angles of both axes between their stops. */
typedef struct slew_feed_place {
    double torque;           /* that opposes its motion there, friction excluded, >= 0 [N m] */
    bool anywhere;           /* there is no such torque: direction and angles say nothing */
    int direction;           /* true direction of motion, +1 or -1 */
    double angle[SLEW_AXES]; /* NaN: it makes no difference [rad] */
} slew_feed_place;

/* M11.2 */
SLEW_API slew_feed_place slew_feed_worst_place(const slew_plant_model *model, int axis);

/* The controller's view under the conditions of one setup. With both drives on each axis is at its
 * own worst place, whether or not the two can be there at once: a bound. */
typedef struct slew_feed_figures {
    double conductors, joints; /* resistance of both conductors at their temperature; of joints
                                  [ohm] */
    slew_feed_place place[SLEW_AXES];
    slew_feed_state idle;
    slew_feed_state running[SLEW_FEED_DRIVES];  /* an axis that can't go on stands, and stalls */
    slew_feed_state standing[SLEW_FEED_DRIVES]; /* drives on, motors at rest: just on, or stalled */
    bool moves[SLEW_FEED_DRIVES];               /* every driven axis goes on */
    bool starts[SLEW_FEED_DRIVES];              /* and starts from rest, all at once */
    int blocked[SLEW_FEED_DRIVES]; /* the first axis that does not go on or start, or SLEW_NO_AXIS
                                    */
    double settling[SLEW_AXES];    /* time constant of the speed, driven alone [s] */
} slew_feed_figures;

/* Errors: those of slew_plant_model_build; only the resistances are told then. */
SLEW_API slew_status slew_feed_ask(const slew_setup *setup, slew_feed_figures *out,
                                   slew_error *error);

/* The least voltage while running, and while standing, of the drives that count: each axis alone,
 * and both where `together`. */
SLEW_API double slew_feed_lowest_running(const slew_feed_figures *figures, bool together);
SLEW_API double slew_feed_lowest_standing(const slew_feed_figures *figures, bool together);

/* true: all drives that count start, go on, and leave `floor` [V] or more while running. */
SLEW_API bool slew_feed_keeps(const slew_feed_figures *figures, bool together, double floor);

/* ---- What is needed ---- */

/* What a feed is chosen for. */
typedef struct slew_feed_wish {
    bool together; /* both drives at once count, too */
    bool by_drop;  /* a drop in the feed while running; else the voltage floor of the setup, with
                      axes that start and go on */
    double drop;   /* share of the nominal system voltage, above 0 and below 1 [1] */
} slew_feed_wish;

typedef struct slew_feed_need {
    double resistance; /* the most that conductors and joints together may have; < 0: not even none
                          suffices; INFINITY: any will do [ohm] */
    int thinnest[SLEW_LADDERS]; /* conductor that suffices at the setup's length and joints; -1:
                                   none of the ladder */
    double length; /* the longest with the setup's own conductor and joints; < 0, INFINITY as above
                      [m] */
    double joint;  /* the most resistance of each joint with its own conductor; NaN: it has none;
                      < 0, INFINITY as above [ohm] */
} slew_feed_need;

/* Resistances are those at the setup's temperature. M11.5 */
SLEW_API slew_feed_need slew_feed_find_need(const slew_setup *setup, const slew_feed_wish *wish);

/* The setup with a conductor of a ladder in its feed. */
SLEW_API void slew_feed_fit(slew_setup *setup, slew_ladder ladder, int index);

/* ---- What a measurement tells ---- */

typedef struct slew_feed_joint {
    double resistance;     /* between the measured places [ohm] */
    double conductors;     /* what both conductors of the setup's feed have [ohm] */
    double joints;         /* what is left for the joints of the loop; < 0: it can't be [ohm] */
    double each;           /* for one of the setup's joints; NaN: it has none [ohm] */
    slew_feed_state state; /* that the resistance was worked out from */
} slew_feed_joint;

/* A drop [V] measured at a current [A]: over one joint (resistance), or from the source's terminals
 * to the controller and back (joints, each). SLEW_ERROR_INPUT: no current, or a drop below 0 or not
 * below the main source's voltage. M11.7 */
SLEW_API slew_status slew_feed_explain_drop(const slew_setup *setup, double drop, double current,
                                            slew_feed_joint *out, slew_error *error);

/* A voltage [V] at the controller while `drives` run at their worst places. SLEW_ERROR_INPUT: not
 * below the main source's voltage, too low for the axes to run, or the auxiliary battery brings all
 * of the current. M11.7 */
SLEW_API slew_status slew_feed_explain_voltage(const slew_setup *setup, int drives, double voltage,
                                               slew_feed_joint *out, slew_error *error);

/* ---- The question ---- */

enum { SLEW_FEED_DROPS_MAX = 2, SLEW_FEED_LEVELS = 5 };

typedef struct slew_feed_question {
    slew_occasion occasion;           /* whose conditions count */
    int drop_count;                   /* 0 to SLEW_FEED_DROPS_MAX */
    double drop[SLEW_FEED_DROPS_MAX]; /* shares of the nominal system voltage, 0 < drop < 1 */
} slew_feed_question;

/* Copper, motor and grease at one temperature. */
typedef enum slew_feed_weather {
    SLEW_FEED_AS_IT_IS,
    SLEW_FEED_COLD, /* the ends of the spread of environment.temperature, or -20 and 60 degC */
    SLEW_FEED_HOT,
    SLEW_FEED_WEATHERS
} slew_feed_weather;

/* One setup tried. */
typedef struct slew_feed_trial {
    slew_status status; /* not SLEW_OK: it makes no machine; so little is left at rest, mostly, that
                           no drive works */
    slew_feed_figures figures;
    bool keeps; /* the floor, see slew_feed_keeps */
} slew_feed_trial;

SLEW_API slew_feed_trial slew_feed_try(const slew_setup *setup, bool together);

typedef struct slew_feed_climate {
    double temperature; /* [K] */
    slew_feed_trial own;
    slew_feed_need floor, drop[SLEW_FEED_DROPS_MAX];
} slew_feed_climate;

/* One thing changed. */
typedef struct slew_feed_level {
    double value; /* in SI */
    bool own;     /* it is the scenario's own value */
    slew_feed_trial trial;
} slew_feed_level;

/* The scenario's auxiliary battery, fitted or not; needs are for the floor. */
typedef struct slew_feed_auxiliary {
    slew_feed_trial with, without;
    slew_feed_need need_with, need_without;
} slew_feed_auxiliary;

typedef struct slew_feed_answer {
    slew_setup setup; /* the conditions, as the scenario has them */
    bool together;    /* the scenario drives both axes at once in some move */
    slew_feed_climate climate[SLEW_FEED_WEATHERS];
    slew_feed_trial ladder[SLEW_LADDERS][SLEW_LADDER_MAX]; /* at its length, joints, temperature */
    slew_feed_level length[SLEW_FEED_LEVELS];              /* of the feed, one way [m] */
    slew_feed_level joints[SLEW_FEED_LEVELS]; /* resistance of all joints together [ohm] */
    slew_feed_level shared[SLEW_FEED_LEVELS]; /* current of the other equipment [A] */
    slew_feed_trial ideal; /* a feed without any resistance: what no conductor can better */
    slew_feed_auxiliary auxiliary;
    double short_circuit; /* through a dead short at the controller's end, main source alone;
                             INFINITY: nothing holds it back [A] */
    double most_stall;    /* largest current through the feed with both motors stalled, cold to hot
                             [A] */
} slew_feed_answer;

/* Asks all of it; nothing is to be freed. SLEW_ERROR_INPUT: a drop out of its range, a deploy asked
 * for that the scenario does not have, or a scenario that makes no machine. */
SLEW_API slew_status slew_feed_run(const slew_scenario *scenario,
                                   const slew_feed_question *question, slew_feed_answer *out,
                                   slew_error *error);

/* ---- Conductors and lengths ---- */

enum {
    SLEW_FEED_POINTS = 41,
    SLEW_FEED_OWN = -1, /* in the place of a size: the setup's own conductor */
    SLEW_FEED_CURVES_MAX = 1 + 2 * SLEW_LADDER_MAX
};

typedef struct slew_feed_point {
    double length; /* one way [m] */
    slew_feed_trial trial[SLEW_FEED_WEATHERS];
} slew_feed_point;

/* One conductor from no length to twice the setup's own, which is in the middle; to 20 m where that
 * has none. */
typedef struct slew_feed_curve {
    slew_ladder ladder;
    int index; /* of its size, or SLEW_FEED_OWN */
    slew_feed_point point[SLEW_FEED_POINTS];
} slew_feed_curve;

typedef struct slew_feed_sweep {
    int count;
    slew_feed_curve curve[SLEW_FEED_CURVES_MAX]; /* own conductor, gauges, sizes in mm2 */
} slew_feed_sweep;

/* Asks each conductor at each length, at the temperatures of the answer; `metric` is
 * SLEW_LADDER_CLASS_2 or SLEW_LADDER_CLASS_5. Some 1.5 MB; nothing is to be freed. */
SLEW_API void slew_feed_sweep_run(const slew_feed_answer *answer, slew_ladder metric,
                                  slew_feed_sweep *out);

/* ---- The whole work ---- */

/* What a conductor fails of, what is met first in a day's work first. */
#define SLEW_FEED_LIMITS(X)                                                                        \
    X(NONE, "none")               /* every demand is met on it */                                  \
    X(TEACHING, "teaching")       /* the stow point can't be taught on it */                       \
    X(BROWNOUT, "brownout")       /* the controller drops out: a start, a stall or a reversal */   \
    X(OTHER_FAULT, "other_fault") /* another fault, or a hard stop pressed unnoticed */            \
    X(FLOOR, "floor")             /* below the voltage floor while running, too often */           \
    X(KEEPOUT, "keepout_entered") /* it runs, but enters a keep-out zone too often */              \
    X(TARGET, "off_target")       /* it runs, but ends off the stow point or outside the deploy    \
                                     target too often: seconds and point are not right for it */

#define SLEW_FEED_LIMIT_ENUM(name, word) SLEW_FEED_LIMITED_BY_##name,
typedef enum slew_feed_limit {
    SLEW_FEED_LIMITS(SLEW_FEED_LIMIT_ENUM) SLEW_FEED_LIMIT_COUNT
} slew_feed_limit;
#undef SLEW_FEED_LIMIT_ENUM

/* "brownout"; "?" for a value that is none of the enum's. */
SLEW_API const char *slew_feed_limit_word(slew_feed_limit limit);

/* A conductor through teaching, stow and deploy, over the spread. */
typedef struct slew_feed_size {
    slew_ladder ladder;
    int index;                           /* of its size, or SLEW_FEED_OWN */
    slew_feed_limit limit;               /* what it fails of first; NONE: it works */
    slew_feed_limit weakest;             /* the same of the coldest, weakest day alone */
    int64_t samples;                     /* the fresh ones if it was run on them, too */
    int64_t hits[SLEW_FEED_LIMIT_COUNT]; /* that fail so first; NONE: that do not fail */
    int64_t misses[SLEW_DEMAND_COUNT];   /* that miss each demand */
    double lowest_loaded; /* of all samples, while some axis runs; INFINITY: none runs [V] */
} slew_feed_size;

/* What can be asked of a conductor; each asks for what stands before it, too. */
typedef enum slew_feed_tier {
    SLEW_FEED_RUNS,  /* no case ends in a fault, or pressed on a hard stop */
    SLEW_FEED_KEEPS, /* nor is the floor missed too often */
    SLEW_FEED_MEETS, /* all demands are met with the scenario's point and seconds */
    SLEW_FEED_TIERS
} slew_feed_tier;

/* The thinnest that does it, so that every thicker one of its ladder does it, too. */
typedef struct slew_feed_found {
    int index;            /* into `size`; -1: none */
    slew_judgment judged; /* on fresh samples: all demands; `meets`, those of the tier */
} slew_feed_found;

enum { SLEW_FEED_SIZES_MAX = 1 + 2 * SLEW_LADDER_MAX };

typedef struct slew_feed_work {
    int count;
    slew_feed_size size[SLEW_FEED_SIZES_MAX];  /* the scenario's own, gauges, sizes in mm2 */
    slew_feed_found found[SLEW_FEED_TIERS][2]; /* of gauges and of mm2 */
    slew_judgment own;                         /* of size 0, all demands, on fresh samples */
} slew_feed_work;

/* Runs the scenario on its own conductor and on every size of the gauges and of `metric`: taught,
 * stowed and deployed in `sampling`.samples cases of its spread, and on the coldest, weakest day
 * (supply voltage and temperature at the low ends of their spread, or their 0.1 %), which must not
 * end in a fault either. The scenario's own and the thinnest are run again on fresh samples, eight
 * times as many, and where these do not meet the demands the next thicker one takes its place;
 * where none is sure to meet them, the thinnest that may (SLEW_NOT_TOLD). Nothing is to be freed.
 * Errors: those of slew_ensemble_run but SLEW_ERROR_TEACH; SLEW_ERROR_INPUT without a stow point or
 * times. */
SLEW_API slew_status slew_feed_work_run(const slew_scenario *scenario, slew_ladder metric,
                                        const slew_sampling *sampling, slew_feed_work *out,
                                        slew_error *error);

#ifdef __cplusplus
}
#endif

#endif
