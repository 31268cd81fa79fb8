/*
 * scenario.h - one truck and what is asked of it, as plain data.
 *
 * Units and signs are those of setup.h. A scenario can be copied by assignment, holds no pointers
 * and needs no freeing.
 */
#ifndef SLEWTIME_SCENARIO_H
#define SLEWTIME_SCENARIO_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "slewtime/api.h"
#include "slewtime/physics.h"
#include "slewtime/setup.h"
#include "slewtime/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ---- What is asked of it ---- */

typedef enum slew_order {
    SLEW_ORDER_NOT_GIVEN,
    SLEW_ROTATION_FIRST,
    SLEW_ELEVATION_FIRST,
    SLEW_TOGETHER
} slew_order;

typedef struct slew_stow {
    double lift_first;           /* timed move up before the search, >= 0 [s] */
    slew_order home_order;       /* ROTATION_FIRST or ELEVATION_FIRST */
    slew_order order;            /* of the stored times */
    bool has_point;              /* where it is taught */
    double point[SLEW_AXES];     /* [rad] */
    bool has_times;              /* the stored times are given: they win over the point */
    double times[SLEW_AXES];     /* signed, in commanded directions [s] */
    double tolerance;            /* of on_target, >= 0 [rad] */
    slew_range range[SLEW_AXES]; /* in which the point may be moved; not given: it is fixed [rad] */
} slew_stow;

/* What must hold over all days, as shares of the cases [1]; see demands.h. */
typedef struct slew_demands {
    double deploy_inside;   /* deployed inside the target, at least */
    double stow_on_target;  /* stowed within tolerance of the point, at least */
    double keepout_entered; /* a keep-out zone entered, at most */
    double hard_stop;       /* stopped by a hard stop or pressed on it, at most */
    double other_fault;     /* another fault, at most */
    double below_floor;     /* below the voltage floor while running, at most */
    double confidence;      /* with which a demand is to be met or not */
} slew_demands;

enum { SLEW_CHOICES_MAX = 64, SLEW_KEEPOUT_MAX = 16, SLEW_NAME_MAX = 64, SLEW_TITLE_MAX = 256 };

typedef struct slew_deploy {
    bool given;                /* false: the scenario has no deploy */
    double seconds[SLEW_AXES]; /* signed, in commanded directions [s] */
    slew_order order;
    int choice_count[SLEW_AXES]; /* >= 1 once read: the seconds alone unless given */
    double choices[SLEW_AXES][SLEW_CHOICES_MAX];
    slew_range target[SLEW_AXES]; /* [rad] */
    bool same_day;                /* an ensemble's deploy shares the day of its stow */
} slew_deploy;

typedef struct slew_keepout_box {
    char name[SLEW_NAME_MAX];
    slew_range axis[SLEW_AXES]; /* bounds included; a missing axis: -INFINITY to INFINITY [rad] */
} slew_keepout_box;

typedef struct slew_keepout {
    int count;
    slew_keepout_box box[SLEW_KEEPOUT_MAX];
} slew_keepout;

/* ---- Layers: what differs when ---- */

typedef enum slew_layer_id {
    SLEW_LAYER_FILE,      /* the scenario itself */
    SLEW_LAYER_TEACH,     /* while the point is taught */
    SLEW_LAYER_TODAY,     /* what has changed since */
    SLEW_LAYER_DEPLOY_DAY /* what has changed again by the time it deploys, on top of today */
} slew_layer_id;

enum { SLEW_OVERRIDES_MAX = 128 };

/* One key set by a layer: `key` is an index into the key table, `value` its SI number; a yes/no key
 * is 1/0, a choice the value of its enum. */
typedef struct slew_override {
    int key;
    double value;
} slew_override;

typedef struct slew_layer {
    int count;
    slew_override item[SLEW_OVERRIDES_MAX];
} slew_layer;

/* ---- Spread: what an ensemble varies ---- */

/* What a layer says of an occasion is known: there spread.day does not draw that key, whether the
 * layer stands in the file or was set (slew_is_known in study.h). A key of spread.truck varies in
 * the file, below every layer. */

typedef enum slew_distribution {
    SLEW_UNIFORM,    /* low, high */
    SLEW_NORMAL,     /* mean, sd, cut off at low and high (the key's own range unless given) */
    SLEW_TRIANGULAR, /* low, mode, high */
    SLEW_TABLE       /* values with weights; equally likely values have weight 1 */
} slew_distribution;

enum { SLEW_TABLE_MAX = 32, SLEW_VARIATIONS_MAX = 32 };

typedef struct slew_variation {
    int key; /* index into the key table */
    slew_distribution distribution;
    double low, high;             /* in the key's SI unit */
    double mean, sd, mode;        /* in the key's SI unit */
    int count;                    /* of table rows */
    double value[SLEW_TABLE_MAX]; /* in the key's SI unit */
    double weight[SLEW_TABLE_MAX];
} slew_variation;

typedef struct slew_spread {
    int count;
    slew_variation item[SLEW_VARIATIONS_MAX];
} slew_spread;

/* Two keys that vary together: the correlation coefficient of their normal scores. Of two normals
 * that are not cut off it is their own (a normal copula: R. B. Nelsen, An Introduction to Copulas,
 * 2nd ed. 2006, 2.3). It holds in truck or day, whichever varies both. */
typedef struct slew_correlation {
    int key[2];         /* indices into the key table */
    double coefficient; /* above -1 and below 1 */
} slew_correlation;

enum { SLEW_CORRELATIONS_MAX = 128 };

typedef struct slew_correlations {
    int count;
    slew_correlation item[SLEW_CORRELATIONS_MAX];
} slew_correlations;

/* ---- The scenario ---- */

/* In which units people are shown figures; they change no figure. */
typedef enum slew_unit_system {
    SLEW_UNITS_US, /* ft, in, lbf, psi, gpm, degrees Fahrenheit, lbf-ft */
    SLEW_UNITS_SI  /* m, mm, N, bar, L/min, degrees Celsius, N m */
} slew_unit_system;

typedef struct slew_scenario {
    char title[SLEW_TITLE_MAX];
    slew_unit_system units;
    bool fitted;      /* spread.truck is of this one truck, fitted to readings; changes no figure */
    slew_setup setup; /* the file's own values */
    /* further figures of the motors' data sheets, from SLEW_MOTOR_RESISTANCE on; NaN: not given */
    double sheet[SLEW_AXES][SLEW_MOTOR_FIGURES];
    slew_stow stow;
    slew_deploy deploy;
    slew_keepout keepout;
    slew_demands demands;
    slew_layer teach, today, deploy_day;
    slew_spread truck, day;
    slew_correlations correlation;
} slew_scenario;

/* Sets every value that has a default to it, every other one to "not given" (SLEW_NOT_GIVEN, a
 * *_NOT_GIVEN enum, false, 0 counts). Not usable for a run until the required keys are set. */
SLEW_API void slew_scenario_init(slew_scenario *scenario);

/* Puts what follows from an axis' data sheet into the setup, where it is not given: no-load speed,
 * no-load and stall current, the gear's efficiency, and a typical inertia of the rotor. A scenario
 * that is read has that behind it; one made by functions needs it before a run if it does not set
 * these itself. Returns what slew_motor_from_data makes of the sheet; unless that is FOUND nothing
 * is put in. */
SLEW_API slew_motor_found slew_scenario_complete_motor(slew_scenario *scenario, int axis);

/* A layer of a scenario; NULL for the file. */
SLEW_API const slew_layer *slew_layer_at(const slew_scenario *scenario, slew_layer_id layer);

/* true if the layer holds the key; false of NULL. */
SLEW_API bool slew_layer_holds(const slew_layer *layer, int key);

/* "teach", "today", "deploy_day", "" for the file. */
SLEW_API const char *slew_layer_word(slew_layer_id layer);

/* An occasion is a stack of layers: taught = file + teach; stowed = file + today; deployed = file +
 * today + deploy_day. */
typedef enum slew_occasion {
    SLEW_OCCASION_TEACH,
    SLEW_OCCASION_STOW,
    SLEW_OCCASION_DEPLOY
} slew_occasion;

/* The conditions of one occasion, with the defaults that depend on other keys filled in: floor and
 * brownout by the system voltage, backward efficiency by the forward one. Cannot fail. */
SLEW_API void slew_scenario_resolve(const slew_scenario *scenario, slew_occasion occasion,
                                    slew_setup *out);

/* A fingerprint of all that the scenario says but its title and units: the same for the same
 * figures, however they came in (file, assignments, functions), on every machine. Two scenarios
 * with different figures have different ones but by chance, 1 in 2^64. What is left or set to its
 * default does not go in: a later version that knows more keys has the same. FNV-1a. */
SLEW_API uint64_t slew_scenario_hash(const slew_scenario *scenario);

/* ---- The table of keys ---- */

typedef enum slew_key_kind {
    SLEW_KEY_NUMBER,   /* a quantity or plain number */
    SLEW_KEY_YES_NO,   /* yes or no */
    SLEW_KEY_CHOICE,   /* one of `words` */
    SLEW_KEY_TEXT,     /* title */
    SLEW_KEY_LIST,     /* deploy.choices.* */
    SLEW_KEY_STRUCTURE /* keepout, layers, spread */
} slew_key_kind;

/* One key of the file format. Plain constant data. */
typedef struct slew_key {
    const char *path; /* "supply.feed.length" */
    slew_key_kind kind;
    const char *quantity;     /* "length", "plain number"; NULL where it does not apply */
    const char *unit;         /* unit of print-outs: "m"; "" for plain numbers */
    double low, high;         /* allowed range in SI; infinite where open, but no number is
                                 larger than 1e100 either way */
    bool low_open, high_open; /* the bound itself is not allowed */
    const char *default_text; /* as written in a file, "required", "none", or a rule in words */
    const char *example;      /* a valid value: "9 m" */
    const char *words;        /* of a choice, separated by " | "; else NULL */
    bool required;
    bool layered;        /* teach, today and deploy_day may hold it */
    const char *meaning; /* one line */
} slew_key;

SLEW_API int slew_key_count(void);
SLEW_API const slew_key *slew_key_at(int index); /* NULL outside 0 .. count-1 */
SLEW_API int slew_key_find(const char *path);    /* -1: unknown */
SLEW_API int
slew_key_nearest(const char *path); /* best guess for a misspelt path; -1: none is near */

/* What a machine that is stepped from outside (machine.h, plant.h) makes of a key. */
typedef enum slew_key_use {
    SLEW_USE_PLANT,      /* of the machine without its controller; may change in motion */
    SLEW_USE_CONDITION,  /* the same, and it comes from outside: supply, surroundings, water */
    SLEW_USE_START,      /* of the machine without its controller; counts at the start alone */
    SLEW_USE_CONTROLLER, /* of the controller; may change in motion */
    SLEW_USE_PROGRAM,    /* of stow and deploy (slew_program); counts when one of them begins */
    SLEW_USE_TEACHING,   /* of the stored times; counts while they are taught */
    SLEW_USE_NONE        /* nothing: other keys follow from it, or it is about what is asked */
} slew_key_use;
SLEW_API slew_key_use slew_key_used(int index); /* NONE outside 0 .. count-1 */

/* How figures are shown in a unit: shown = SI * factor + offset. */
typedef struct slew_scale {
    const char *si; /* the SI unit: "rad"; "" of shares and plain numbers */
    double factor, offset;
} slew_scale;

/* The scale of a unit ("deg") of a quantity ("angle"), both as in the table of keys. false: there
 * is no such pair, or its figures follow from SI in another way (wire gauges). */
SLEW_API bool slew_unit_scale(const char *quantity, const char *unit, slew_scale *scale);

/* Writes the key's value in the key's print unit, as a scenario file would have it ("9 m"), into
 * `text`, always terminated. Returns the length it needs, like snprintf. */
SLEW_API int slew_key_format(const slew_scenario *scenario, int key, char *text, size_t size);

/* Sets one numeric, yes/no or choice key by its table index to a number in SI. For callers that set
 * many values fast: it allocates nothing. Returns SLEW_ERROR_INPUT when the key is not of that
 * kind, the value is out of the key's range, or the layer may not hold the key. */
SLEW_API slew_status slew_scenario_set_number(slew_scenario *scenario, slew_layer_id layer, int key,
                                              double value);

/* Reads one key of the file layer back in SI (see slew_override for yes/no and choices). NaN where
 * it is not given or not a number. */
SLEW_API double slew_scenario_get_number(const slew_scenario *scenario, int key);

/* The same for a number in SI that no scenario holds (of a yes/no or choice key: see
 * slew_override); nothing for a key of another kind. */
SLEW_API int slew_key_format_number(int key, double value, char *text, size_t size);

#ifdef __cplusplus
}
#endif

#endif
