/*
 * offset.h - which deploy seconds land in the target window, over the spread.
 *
 * A deploy is timed from wherever the stow left the axes. Asked here: how often each pair of
 * seconds that the controller offers lands inside the target, which other seconds would, what
 * drives where the axes come to rest, and what to change where none is good enough.
 */
#ifndef SLEWTIME_OFFSET_H
#define SLEWTIME_OFFSET_H

#include "slewtime/api.h"
#include "slewtime/demands.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ---- Choices ---- */

/* The fault that ends most samples. */
typedef struct slew_usual_fault {
    slew_fault fault; /* SLEW_FAULT_NONE: there is none */
    int axis;         /* SLEW_NO_AXIS: of none */
    bool in_stow;     /* else in the deploy */
    slew_share share; /* of the samples that end with this fault, axis and part */
} slew_usual_fault;

/* The keep-out box that most samples enter. */
typedef struct slew_usual_box {
    int box; /* index into scenario.keepout; -1: none is entered */
    slew_share share;
} slew_usual_box;

/* One choice of deploy seconds over the whole spread. inside, fault and no_verdict exclude each
 * other; what they leave has deployed and is outside on one axis or both. */
typedef struct slew_offset_choice {
    double seconds[SLEW_AXES];
    slew_summary angle[SLEW_AXES]; /* where the axes rest after the deploy, or where it ended */
    slew_share inside;             /* deployed, and both axes inside the target */
    slew_share outside[SLEW_AXES]; /* deployed, but this axis outside the target */
    slew_share fault;              /* of the stow or the deploy */
    slew_share no_verdict;         /* an axis does not hold against its load */
    slew_share keepout;            /* a keep-out box was entered on the way */
    slew_usual_fault usual_fault;
    slew_usual_box usual_box;
    slew_judgment judged; /* against the demands of the scenario; samples that can't run miss */
    double room; /* least distance of the 5 % and 95 % angles from a bound of the target, of both
                    axes; negative: beyond it [rad] */
} slew_offset_choice;

/* What makes one choice better than another; of equals the next one counts. From KEEPOUT to
 * DISTANCE they tell apart only choices of which some estimate is beyond its limit. */
typedef enum slew_merit {
    SLEW_MERIT_DEMANDS,  /* all demands met, before not told with every estimate within its limit,
                            before the rest */
    SLEW_MERIT_KEEPOUT,  /* keep-outs within their limit */
    SLEW_MERIT_STOP,     /* hard stops within their limit */
    SLEW_MERIT_FAULT,    /* other faults within their limit */
    SLEW_MERIT_EXCESS,   /* smaller sum of what the estimates exceed their limits by */
    SLEW_MERIT_DISTANCE, /* medians nearer to the target, both axes together */
    SLEW_MERIT_ROOM,     /* more room */
    SLEW_MERIT_MEDIANS,  /* medians nearer to the middle of the target, both axes together */
    SLEW_MERIT_COUNT
} slew_merit;

/* Places in slew_offset.told. */
enum { SLEW_TOLD_BEST, SLEW_TOLD_RUNNER_UP, SLEW_TOLD_COUNT };

typedef struct slew_offset {
    int64_t samples, refused; /* done, and those of them that can't run */
    slew_error first_refusal;
    int count;
    slew_offset_choice
        *choice;   /* owned: every pair of scenario.deploy.choices, rotation outermost */
    int best;      /* by slew_merit; of equals the first */
    int runner_up; /* the best of the others; -1: there is only one choice */
    int64_t fresh; /* samples of `told` and `lead`, none of which has chosen; 0: stopped before
                      these, or nothing varies: they are the same as in `choice` */
    slew_offset_choice told[SLEW_TOLD_COUNT]; /* the best choice and the runner-up again; without
                                                 one the best twice */
    slew_share lead; /* of inside, best over runner-up, with the interval of the difference in the
                        same samples, exact where fewer than 40 of them differ: from low > 0 or
                        high < 0 on the two can be told apart; NaN without a runner-up */
    bool moves[SLEW_AXES];        /* the axis moves at all, in some sample of some choice */
    bool deploy_moves[SLEW_AXES]; /* it moves in the deploy, likewise */
    bool ever_inside[SLEW_AXES];  /* it has deployed inside its own target, likewise */
    bool ever_stowed;             /* some sample says stowed and holds: its deploy begins */
    bool ever_deployed;           /* some sample of some choice says deployed, and holds */
    /* private, owned: the stored times of both sets of samples, so that none is taught twice */
    double *stored_chosen, *stored_fresh;
} slew_offset;

/* Every combination of the deploy choices over the scenario's spread. Shares have
 * their exact interval; those of Sobol points with 40 hits and misses or more Student's over the
 * shifts; where nothing varies they are sure. What is told of the best choice comes from
 * fresh samples, as many. Errors: those of slew_ensemble_run, and SLEW_ERROR_INPUT without a
 * deploy, or with a target that no angle between the stops of the deploy can meet. After
 * SLEW_ERROR_STOPPED *out holds what the samples done tell. Free it after this and SLEW_OK; after
 * any other error nothing is left. */
SLEW_API slew_status slew_offset_run(const slew_scenario *scenario, const slew_sampling *sampling,
                                     slew_offset *out, slew_error *error);

SLEW_API void slew_offset_free(slew_offset *offset);

/* The first merit in which two choices differ; SLEW_MERIT_COUNT: in none. */
SLEW_API slew_merit slew_offset_decides(const slew_scenario *scenario, const slew_offset_choice *a,
                                        const slew_offset_choice *b);

/* true: `a` is better in the first merit in which they differ. */
SLEW_API bool slew_offset_is_better(const slew_scenario *scenario, const slew_offset_choice *a,
                                    const slew_offset_choice *b);

/* true: it is inside as often as wanted. */
SLEW_API bool slew_offset_is_enough(const slew_offset_choice *choice, double wanted);

/* ---- Finer choices ---- */

/* What the controller could be set to. */
typedef enum slew_finer_step {
    SLEW_FINER_HALF,  /* half of the present steps */
    SLEW_FINER_TENTH, /* a tenth of them */
    SLEW_FINER_ANY,   /* any time, to 0.01 s */
    SLEW_FINER_COUNT
} slew_finer_step;

typedef struct slew_finer {
    double step[SLEW_AXES]; /* the present one: from the best choice to its nearest neighbour; 0:
                               the axis has one choice, which only any time departs from [s] */
    slew_offset_choice at[SLEW_FINER_COUNT]; /* the best pair of each, told from fresh samples; in
                                                those searched none is worse than the one before,
                                                nor than the best choice */
    bool held_back[SLEW_FINER_COUNT]; /* what is inside most often is not taken: it misses more of
                                         the demands, or has less room */
    int64_t searched;                 /* samples that the search took */
    double needed[SLEW_AXES]; /* seconds that land this axis alone most often; NaN: none does [s] */
    slew_share reachable[SLEW_AXES]; /* samples in which some seconds land this axis; of those
                                        searched */
} slew_finer;

/* Finds in each of the first samples (2048 at most) the seconds for which each axis lands inside
 * the target, by runs, then the seconds that most of these have in common, and simulates those with
 * the fresh samples of the offset. `offset` is that of the same scenario and sampling. Nothing is
 * to be freed. Errors: those of slew_ensemble_run. M9.4 */
SLEW_API slew_status slew_finer_run(const slew_scenario *scenario, const slew_sampling *sampling,
                                    const slew_offset *offset, slew_finer *out, slew_error *error);

/* ---- What drives the spread ---- */

enum { SLEW_DRIVERS_MAX = 20 };

/* The share of the variance of a resting angle that a drawn number explains; mean of the repeats
 * with its interval at 95 % confidence, which may reach a little below 0. */
typedef struct slew_driver {
    slew_dimension drawn;
    slew_share first[SLEW_AXES]; /* alone: the variance would fall by this if it were known */
    slew_share total[SLEW_AXES]; /* with others: what remains if everything else were known */
} slew_driver;

typedef struct slew_drivers {
    int64_t base; /* points of each design in each repeat */
    int repeats;  /* independent of each other */
    int64_t runs, refused;
    double mean[SLEW_AXES];      /* of the resting angle [rad] */
    double deviation[SLEW_AXES]; /* its standard deviation; 0: it does not vary, nor has indices
                                    [rad] */
    int count;
    slew_driver driver[SLEW_DRIVERS_MAX];   /* in the order of the dimensions */
    int order[SLEW_AXES][SLEW_DRIVERS_MAX]; /* numbers of drivers, the greatest total first */
} slew_drivers;

/* Variance-based indices (slew_sensitivity_indices) of where each axis rests after the deploy of
 * the scenario, with scenario.deploy.seconds. sampling.samples is the number of base points, in
 * sampling.shifts independent repeats of 2 or more (64 at most); each base point takes dimensions +
 * 2 runs. Of keys that go together (scenario.correlation) what two share counts for the one that
 * stands first in its spread. Nothing is to be freed. Errors: those of slew_ensemble_run;
 * SLEW_ERROR_INPUT when nothing is drawn, or more numbers than SLEW_DRIVERS_MAX. M9.3 */
SLEW_API slew_status slew_drivers_run(const slew_scenario *scenario, const slew_sampling *sampling,
                                      slew_drivers *out, slew_error *error);

/* ---- What to change ---- */

#define SLEW_ADVICES(X)                                                                            \
    X(ENOUGH, "enough")             /* the best choice is inside as often as wanted */             \
    X(NEVER_MOVES, "never_moves")   /* axis: it stands still in every sample of every choice */    \
    X(FAULTS, "faults")             /* the controller faults too often */                          \
    X(NO_VERDICT, "no_verdict")     /* an axis does not hold too often */                          \
    X(NEVER_INSIDE, "never_inside") /* axis: no sample of any choice lands it inside */            \
    X(NOT_DRIVEN, "not_driven")     /* axis: no choice drives it, it rests where it was stowed */  \
    X(OTHER_SECONDS, "other_seconds") /* step: these would do, outside the range of the choices */ \
    X(TOO_COARSE, "too_coarse")       /* step: these would do, between the choices */              \
    X(TOO_WIDE, "too_wide")           /* axis: no seconds do, its spread is too wide */            \
    X(KEEPOUT, "keepout")             /* the best choice enters a keep-out box */

#define SLEW_ADVICE_ENUM(name, word) SLEW_ADVICE_##name,
typedef enum slew_advice_kind {
    SLEW_ADVICES(SLEW_ADVICE_ENUM) SLEW_ADVICE_KIND_COUNT
} slew_advice_kind;
#undef SLEW_ADVICE_ENUM

/* "too_coarse"; "?" for a value that is none of the enum's. */
SLEW_API const char *slew_advice_word(slew_advice_kind kind);

enum { SLEW_ADVICE_MAX = 2 * SLEW_ADVICE_KIND_COUNT };

typedef struct slew_advice {
    slew_advice_kind kind;
    int axis;             /* SLEW_NO_AXIS: of none */
    slew_finer_step step; /* of OTHER_SECONDS and TOO_COARSE: the coarsest that will do; of FAULTS
                             and TOO_WIDE: any time, if it is found there; else SLEW_FINER_COUNT */
} slew_advice;

/* What the findings say about a best choice that is to be inside in a share `wanted` of the samples
 * (0 < wanted < 1). A cause counts when it makes at least half of the misses of the best choice, or
 * is what is left with the best of any time. `finer` may be NULL: then nothing is said about other
 * seconds. Returns how many. */
SLEW_API int slew_offset_advise(const slew_scenario *scenario, const slew_offset *offset,
                                const slew_finer *finer, double wanted,
                                slew_advice out[SLEW_ADVICE_MAX]);

/* How far an angle lies outside the target of an axis, signed: below it negative; 0 inside [rad].
 */
SLEW_API double slew_target_miss(const slew_scenario *scenario, int axis, double angle);

/* The choice whose median of an axis is nearest to its target. */
SLEW_API int slew_offset_nearest(const slew_scenario *scenario, const slew_offset *offset,
                                 int axis);

#ifdef __cplusplus
}
#endif

#endif
