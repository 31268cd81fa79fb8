/*
 * plan.h - what to set, teach, wire or fit so that a truck meets its demands.
 *
 * Asked over the spread: what the truck does today against scenario.demands; which stow point
 * (within scenario.stow.range) and which of the deploy choices do best; and which single changes
 * would do better, each with a point and seconds of its own. Settings are found with few samples,
 * and what is told of them comes from fresh ones, which were not used to choose.
 */
#ifndef SLEWTIME_PLAN_H
#define SLEWTIME_PLAN_H

#include "slewtime/demands.h"

#ifdef __cplusplus
extern "C" {
#endif

/* What a change takes, cheapest first. */
#define SLEW_PLAN_COSTS(X)                                                                         \
    X(SETTING, "setting")  /* of the controller, or a rule for the crew */                         \
    X(RETEACH, "re-teach") /* the stow point has to be taught again */                             \
    X(WIRING, "wiring")    /* a thicker cable */                                                   \
    X(PART, "part")        /* another part */

#define SLEW_PLAN_COST_ENUM(name, word) SLEW_PLAN_COST_##name,
typedef enum slew_plan_cost {
    SLEW_PLAN_COSTS(SLEW_PLAN_COST_ENUM) SLEW_PLAN_COST_COUNT
} slew_plan_cost;
#undef SLEW_PLAN_COST_ENUM

/* "re-teach"; "?" for a value that is none of the enum's. */
SLEW_API const char *slew_plan_cost_word(slew_plan_cost cost);

#define SLEW_PLAN_KINDS(X)                                                                         \
    X(NONE, "as it is")             /* point and seconds alone */                                  \
    X(KEY, "key")                   /* a key set in the file and in each layer that says it */     \
    X(TAUGHT_AT, "taught at")       /* a key set while teaching */                                 \
    X(FINER, "seconds every 0.5 s") /* choices between the ends of the present ones */             \
    X(BEYOND, "seconds beyond the choices") /* further steps at both ends of the present ones */

#define SLEW_PLAN_KIND_ENUM(name, words) SLEW_PLAN_##name,
typedef enum slew_plan_kind {
    SLEW_PLAN_KINDS(SLEW_PLAN_KIND_ENUM) SLEW_PLAN_KIND_COUNT
} slew_plan_kind;
#undef SLEW_PLAN_KIND_ENUM

typedef struct slew_plan_change {
    slew_plan_kind kind;
    int key;      /* of KEY and TAUGHT_AT, else -1 */
    double value; /* of the key, see slew_override */
    slew_plan_cost cost;
} slew_plan_change;

/* "stow.home_order: rotation, elevation", into `text`, always terminated. */
SLEW_API void slew_plan_words(const slew_plan_change *change, char *text, size_t size);

/* The same as something to do, without a key: "home rotation first, then elevation". */
SLEW_API void slew_plan_plain(const slew_plan_change *change, char *text, size_t size);

/* What has to be set for it: "stow.home_order=rotation, elevation"; "teach.supply.main.voltage=13
 * V"; "deploy.choices in steps of 0.5 s"; "" of SLEW_PLAN_NONE. */
SLEW_API void slew_plan_to_set(const slew_plan_change *change, char *text, size_t size);

/* Applies the change alone. false: it is like that already, or not possible. */
SLEW_API bool slew_plan_apply(slew_scenario *scenario, const slew_plan_change *change);

/* A stow point with deploy seconds, and what they come to. */
typedef struct slew_plan_setting {
    double point[SLEW_AXES];   /* [rad] */
    double moved[SLEW_AXES];   /* from the wished point [rad] */
    double seconds[SLEW_AXES]; /* [s] */
    slew_judgment judgment;
    bool confirmed;   /* by fresh samples; else it is what the search saw */
    double shortfall; /* by how much demands are missed too often, all together [1] */
} slew_plan_setting;

typedef struct slew_plan_row {
    slew_plan_change change;
    slew_plan_cost cost; /* of the change and of its setting: a point that moves is taught again */
    slew_plan_setting best;
} slew_plan_row;

/* Changes that do together what none does alone. */
enum { SLEW_PLAN_TOGETHER_MAX = 4 };

typedef struct slew_plan_together {
    int count; /* 0: not needed, or nothing helps */
    slew_plan_change change[SLEW_PLAN_TOGETHER_MAX];
    slew_plan_cost cost; /* the dearest of them */
    slew_plan_setting best;
} slew_plan_together;

/* What is recommended: a setting, with changes or none. */
typedef struct slew_plan_advice {
    bool is_there; /* a setting that meets all demands is known */
    int count;
    slew_plan_change change[SLEW_PLAN_TOGETHER_MAX];
    slew_plan_setting setting;
} slew_plan_advice;

/* One thing varied about the best setting: a stow angle or the seconds of an axis. */
enum { SLEW_PLAN_CURVE_MAX = 33, SLEW_PLAN_CURVES = 2 * SLEW_AXES };

typedef struct slew_plan_curve {
    bool of_seconds;
    int axis;
    int count;                      /* 0: it can't be varied */
    double at[SLEW_PLAN_CURVE_MAX]; /* [s], or [rad] */
    slew_judgment judgment[SLEW_PLAN_CURVE_MAX];
} slew_plan_curve;

enum { SLEW_PLAN_CHANGES_MAX = 32 };

typedef struct slew_plan {
    int64_t screened, confirmed; /* samples that one setting was found with, and is told from */
    bool taught;                 /* the scenario as it is can be taught */
    slew_error untaught;         /* why not */
    slew_plan_setting today;     /* the scenario's own point and seconds */
    slew_plan_setting best;      /* the best of these alone */
    int count;
    slew_plan_row row[SLEW_PLAN_CHANGES_MAX]; /* changes: those that meet all first, those that
                                                 do not help last; then the cheapest, then the
                                                 smallest shortfall */
    slew_plan_together together;              /* if no setting and no single change meets all */
    slew_plan_advice drawn; /* what the curves are drawn about: what is recommended, else the
                               best setting */
    slew_plan_curve curve[SLEW_PLAN_CURVES];
} slew_plan;

/* Confirms with sampling->samples; the search takes fewer. Errors: SLEW_ERROR_INPUT without a
 * deploy; those of slew_ensemble_run but SLEW_ERROR_TEACH: a truck that can't be taught misses its
 * demands, and a change may cure that. After SLEW_ERROR_STOPPED *out holds what was done: today if
 * today.judgment.samples is above 0, the best likewise, and `count` changes. progress is told the
 * part of sampling->samples that corresponds to the part of the whole. Bit-identical for any number
 * of threads; nothing is to be freed. */
SLEW_API slew_status slew_plan_run(const slew_scenario *scenario, const slew_sampling *sampling,
                                   slew_plan *out, slew_error *error);

/* The best of the present settings if that is confirmed to meet all demands; else the first change,
 * else the changes together, if they are; else the best setting alone, with is_there false. */
SLEW_API void slew_plan_recommend(const slew_plan *plan, slew_plan_advice *out);

/* The scenario with that setting, for a run of what is recommended; changes are applied before.
 * Where the truck's spread has the point, after a fit, that moves with it and stays as wide. */
SLEW_API void slew_plan_set(slew_scenario *scenario, const slew_plan_setting *setting);

#ifdef __cplusplus
}
#endif

#endif
