/*
 * study.h - questions asked of many runs: one truck out of many, one day out of many.
 */
#ifndef SLEWTIME_STUDY_H
#define SLEWTIME_STUDY_H

#include <stdint.h>

#include "slewtime/api.h"
#include "slewtime/run.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ---- Drawing ---- */

/* The value of a variation at the share `u` (0 < u < 1) of its distribution: its quantile, in the
 * key's SI unit. A normal is cut off at low and high where these are finite. */
SLEW_API double slew_variation_quantile(const slew_variation *variation, double u);

/* A pseudo-random number, 0 < u < 1, that belongs to seed, sample and dimension alone: sample i is
 * the same whatever the number of samples. */
SLEW_API double slew_random_unit(uint64_t seed, uint64_t sample, uint32_t dimension);

/* ---- A known day ---- */

/* true: the scenario says what the key is on that occasion, so that spread.day does not draw it.
 * What today says is known of the stow, and of the deploy if that is on the same day; what
 * deploy_day says is known of the deploy. Keys that go together with a known one vary as they do
 * where it has that value (a conditional normal of the scores; lib/MODEL.md M9.1). */
SLEW_API bool slew_is_known(const slew_scenario *scenario, slew_occasion occasion, int key);

/* ---- Ensemble ---- */

typedef enum slew_points {
    SLEW_SOBOL,        /* quasi-random, shifted at random: error estimates from the shifts */
    SLEW_PSEUDO_RANDOM /* independent samples */
} slew_points;

typedef struct slew_sampling {
    int64_t samples; /* > 0; Sobol points: rounded up to a multiple of `shifts` */
    uint64_t seed;
    slew_points points;
    int shifts;  /* of the Sobol points, > 0; sample i belongs to shift i % shifts */
    int threads; /* 0: one for each processor */
    /* Called now and then by one thread with the number of samples done; false stops. May be NULL.
     */
    bool (*progress)(void *context, int64_t done);
    void *context;
} slew_sampling;

/* 2048 Sobol points in 8 shifts, seed 1, a thread for each processor. */
SLEW_API slew_sampling slew_sampling_default(void);

/* Asked once for each sample, by several threads at a time: fills in `count` figures, which lie in
 * the ensemble's `figure` (there before the first question) at the place of the sample. */
typedef void slew_question(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                           double *figures);

typedef struct slew_ensemble {
    int64_t samples; /* asked for, rounded up */
    int64_t done;    /* fewer once progress has stopped it: these are the first ones */
    int64_t refused; /* samples that can't run: their figures are NaN */
    slew_error first_refusal;
    int dimensions; /* numbers drawn for one sample */
    int count;      /* figures for one sample */
    double *figure; /* [sample * count + i]; owned, freed by slew_ensemble_free */
} slew_ensemble;

/* Draws spread.truck into the file before teaching, which is then repeated for each sample, and
 * spread.day on top of today, anew for the deploy unless deploy.same_day, but for what is known of
 * the day (slew_is_known); prepares each sample and asks `question`. Bit-identical for any number
 * of threads. Errors: SLEW_ERROR_INPUT (no samples, more dimensions than Sobol points have, 40,
 * correlations that contradict each other), SLEW_ERROR_TEACH (the scenario itself can't be taught),
 * SLEW_ERROR_MEMORY (said before anything runs if the machine has less), SLEW_ERROR_STOPPED (the
 * first `done` samples are good). */
SLEW_API slew_status slew_ensemble_run(const slew_scenario *scenario, slew_parts parts,
                                       const slew_sampling *sampling, slew_question *question,
                                       void *context, int count, slew_ensemble *out,
                                       slew_error *error);

/* The same at given points: points[sample * dimensions + d], each between 0 and 1;
 * sampling.samples, threads and progress count, the rest does not. Dimensions are
 * slew_ensemble_dimensions. */
SLEW_API slew_status slew_ensemble_run_at(const slew_scenario *scenario, slew_parts parts,
                                          const slew_sampling *sampling, const double *points,
                                          slew_question *question, void *context, int count,
                                          slew_ensemble *out, slew_error *error);

SLEW_API void slew_ensemble_free(slew_ensemble *ensemble);

/* How many numbers are drawn for one sample: truck, day, and the day of the deploy if it has its
 * own.
 */
SLEW_API int slew_ensemble_dimensions(const slew_scenario *scenario, slew_parts parts);

typedef struct slew_dimension {
    int key; /* index into the key table */
    enum { SLEW_OF_TRUCK, SLEW_OF_DAY, SLEW_OF_DEPLOY_DAY } of;
} slew_dimension;

/* What is drawn in dimension `index`, 0 to slew_ensemble_dimensions - 1. */
SLEW_API slew_dimension slew_ensemble_dimension(const slew_scenario *scenario, slew_parts parts,
                                                int index);

/* ---- What drives the spread ---- */

/* Points for variance-based indices: `base` points each of two independent designs A and B, and of
 * A with one dimension after the other taken from B: base * (dimensions + 2) points of `dimensions`
 * numbers, in that order. Sobol points, shifted at random. 1 to 20 dimensions. false: memory is
 * short or the dimensions are too many. Saltelli et al., Comput. Phys. Commun. 181 (2010) 259-270.
 */
SLEW_API bool slew_sensitivity_points(int dimensions, int64_t base, uint64_t seed, double *points);

/* First-order and total indices of a figure at these points (all 0 if it does not vary). A point
 * whose figure is NaN takes its fellows out. First order: Saltelli 2010, table 2 (b); total:
 * Jansen, Comput. Phys. Commun. 117 (1999) 35-43. */
SLEW_API void slew_sensitivity_indices(const double *figure, int dimensions, int64_t base,
                                       double *first, double *total);

/* ---- Statistics ---- */

typedef struct slew_interval {
    double low, high;
} slew_interval;

/* Student's interval of a mean of n > 1 independent values; NaN: fewer, or no confidence between 0
 * and 1. */
SLEW_API slew_interval slew_mean_interval(const double *values, int n, double confidence);

/* The share of all cases that lies between the extremes of n independent samples (sides 2), or on
 * this side of one extreme (sides 1), at the given confidence, above 0 and below 1, whatever their
 * distribution; n >= sides; NaN otherwise. S. S. Wilks, Ann. Math. Stat. 12 (1941) 91-96: the share
 * is distributed like beta(n + 1 - sides, sides). */
SLEW_API double slew_wilks_coverage(int64_t n, int sides, double confidence);

/* Five figures of a sample of angles [rad]. */
typedef struct slew_summary {
    double lowest, p05, median, p95, highest;
} slew_summary;

/* A share of the samples, with its interval at 95 % confidence. */
typedef struct slew_share {
    double value, low, high;
} slew_share;

/* The share of hits with its exact two-sided interval, 0 <= hits <= samples, samples > 0;
 * confidence for example 0.95; NaN otherwise. C. J. Clopper, E. S. Pearson, Biometrika 26 (1934)
 * 404-413. */
SLEW_API slew_share slew_exact_share(int64_t hits, int64_t samples, double confidence);

#ifdef __cplusplus
}
#endif

#endif
