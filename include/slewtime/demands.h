/*
 * demands.h - what must hold of a truck over all its days, and whether it does.
 *
 * A scenario says what it demands (scenario.demands): deploys that end inside their target, stows
 * that end within tolerance, and how rarely the barrel may enter a keep-out zone, meet or press a
 * hard stop, or the controller fault. Every question that recommends something judges it by these.
 */
#ifndef SLEWTIME_DEMANDS_H
#define SLEWTIME_DEMANDS_H

#include "slewtime/study.h"

#ifdef __cplusplus
extern "C" {
#endif

/* What can be missed, what hurts most first: name, word of outputs, and whether the key of that
 * word under `demands` is the share that has to meet it (else the share that may miss it). */
#define SLEW_DEMANDS(X)                                                                            \
    X(KEEPOUT, "keepout_entered", false) /* a keep-out zone is entered */                          \
    X(STOP, "hard_stop", false)          /* stopped by a hard stop, or pressed on it unnoticed */  \
    X(FAULT, "other_fault", false)       /* another fault, an axis that does not hold, or a truck  \
                                            whose stow point can't be taught */                    \
    X(DEPLOY, "deploy_inside", true)     /* deployed, both axes inside the target */               \
    X(STOW, "stow_on_target", true)      /* stowed, both axes within tolerance of the point */     \
    X(FLOOR, "below_floor", false)       /* below the voltage floor while running */

#define SLEW_DEMAND_ENUM(name, word, at_least) SLEW_DEMAND_##name,
typedef enum slew_demand { SLEW_DEMANDS(SLEW_DEMAND_ENUM) SLEW_DEMAND_COUNT } slew_demand;
#undef SLEW_DEMAND_ENUM

/* "keepout_entered"; "?" for a value that is none of the enum's. */
SLEW_API const char *slew_demand_word(slew_demand demand);

/* true: the scenario says how often it is to be met; false: how often it may be missed. */
SLEW_API bool slew_demand_is_at_least(slew_demand demand);

/* The share of cases that may miss it [1]. */
SLEW_API double slew_demand_limit(const slew_demands *demands, slew_demand demand);

/* ---- One run ---- */

/* true: the scenario has something that the demand can be asked of, in these parts. */
SLEW_API bool slew_demand_is_asked(const slew_scenario *scenario, slew_parts parts,
                                   slew_demand demand);

/* The demands that a run misses: bit 1 << demand for each. A part that was not reached misses what
 * is asked of it. */
SLEW_API unsigned slew_demands_missed(const slew_scenario *scenario, const slew_prepared *prepared,
                                      slew_parts parts, const slew_result *result);

/* The same for a truck that can't run at all, since its point can't be taught: all that is asked of
 * stow and deploy, and a fault. */
SLEW_API unsigned slew_demands_missed_untaught(const slew_scenario *scenario, slew_parts parts);

/* ---- All runs ---- */

typedef enum slew_meets {
    SLEW_MEETS,     /* with the confidence demanded */
    SLEW_MEETS_NOT, /* likewise */
    SLEW_NOT_TOLD   /* so many samples do not tell */
} slew_meets;

/* "meets", "meets_not", "not_told"; "?" for a value that is none of the enum's. */
SLEW_API const char *slew_meets_word(slew_meets meets);

typedef struct slew_demand_state {
    bool asked;        /* false: there is nothing that it could be asked of; met */
    double limit;      /* the share that may miss it [1] */
    int64_t misses;    /* samples */
    slew_share missed; /* their share, with its exact interval at 95 % confidence */
    slew_meets meets;
    int64_t enough; /* samples that would tell if the share stays as it is; those there are if it is
                       told; -1: no number of samples can */
} slew_demand_state;

typedef struct slew_judgment {
    int64_t samples, refused; /* asked, and those of them that can't run: they count as misses */
    bool certain;             /* nothing varies: shares are 0 or 1, and sure */
    slew_demand_state of[SLEW_DEMAND_COUNT];
    slew_meets meets; /* all together: not if one is not met, not told if one is not told */
} slew_judgment;

/* Judges so many misses of each demand among so many samples (> 0). The bounds are one sided and
 * exact (C. J. Clopper, E. S. Pearson, Biometrika 26 (1934) 404-413), for independent samples;
 * Sobol points scatter less. */
SLEW_API void slew_demands_judge(const slew_scenario *scenario, slew_parts parts,
                                 const int64_t misses[SLEW_DEMAND_COUNT], int64_t samples,
                                 int64_t refused, slew_judgment *out);

/* Runs the scenario as it is over its spread and judges it. Errors: those of slew_ensemble_run;
 * after SLEW_ERROR_STOPPED *out holds what the samples done tell (samples may be 0). Without a
 * spread one run tells all: it meets or does not. */
SLEW_API slew_status slew_demands_run(const slew_scenario *scenario, slew_parts parts,
                                      const slew_sampling *sampling, slew_judgment *out,
                                      slew_error *error);

/* ---- Truck by truck ---- */

/* How often a demand is missed differs from truck to truck: spread.truck is what is not known about
 * this one (after a fit, what the fit leaves open), spread.day what is new on each day. */
typedef struct slew_truck_state {
    bool asked;
    double low, high; /* between these lie the shares of days of at least 95 % of such trucks,
                         at 95 % confidence [1] */
    double median;    /* of the trucks' shares that miss it [1] */
    slew_share within_limit; /* trucks that miss it no more often than the limit; NaN: so few days
                                do not tell */
} slew_truck_state;

typedef struct slew_trucks {
    int trucks; /* drawn; 0: spread.truck is empty, nothing was asked */
    int days;   /* of each */
    slew_truck_state of[SLEW_DEMAND_COUNT];
} slew_trucks;

/* Draws 128 trucks, teaches each once, and runs the scenario as it is on so many days of each that
 * there are about sampling->samples in all, 32 to 128. What so few days scatter by themselves is
 * taken out: M9.7. Errors: those of slew_ensemble_run; nothing is told after SLEW_ERROR_STOPPED. */
SLEW_API slew_status slew_demands_by_truck(const slew_scenario *scenario, slew_parts parts,
                                           const slew_sampling *sampling, slew_trucks *out,
                                           slew_error *error);

/* A sampling like `sampling` whose samples have nothing to do with those: what one has chosen is
 * judged by the other. */
SLEW_API slew_sampling slew_sampling_fresh(const slew_sampling *sampling);

#ifdef __cplusplus
}
#endif

#endif
