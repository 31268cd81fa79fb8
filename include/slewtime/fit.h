/*
 * fit.h - this truck's figures from what was timed and metered at it.
 *
 * Any numeric keys of a scenario, by weighted nonlinear least squares through the simulation; with
 * standard errors, what the readings can't tell apart, and the next reading that would tell most.
 * The definitions are M12 of lib/MODEL.md.
 */
#ifndef SLEWTIME_FIT_H
#define SLEWTIME_FIT_H

#include "slewtime/api.h"
#include "slewtime/read.h"
#include "slewtime/timing.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { SLEW_PARAMETERS_MAX = 16 };

/* ---- Least squares ---- */

/* What a Jacobian tells about parameters, each counted in units of its scale: directions in which
 * they are known independently of each other, the least known first. */
typedef struct slew_information {
    int parameters;
    bool fixed[SLEW_PARAMETERS_MAX]; /* not asked about: known, and in no direction */
    int directions;                  /* parameters that are not fixed */
    double sd[SLEW_PARAMETERS_MAX];  /* along each direction; INFINITY: nothing is known [scale] */
    double direction[SLEW_PARAMETERS_MAX][SLEW_PARAMETERS_MAX]; /* unit vectors, [of][parameter] */
} slew_information;

/* Covariance of two parameters, in units of their scales; INFINITY or NaN where a direction of
 * which nothing is known has a share in them. */
SLEW_API double slew_information_covariance(const slew_information *information, int a, int b);

/* The same with one more reading: `row` is the derivative of its weighted residual by each
 * parameter [1/scale]. */
SLEW_API void slew_information_add(slew_information *information, const double *row);

typedef struct slew_least_squares {
    int residuals, parameters; /* residuals >= parameters, parameters <= SLEW_PARAMETERS_MAX */
    /* The residuals, each divided by its standard deviation. false: there are none at these
     * parameters. */
    bool (*ask)(void *context, const double *parameter, double *residual);
    void *context;
    const double *scale;      /* of each parameter, > 0: what is a large change of it */
    const double *low, *high; /* bounds of the parameters, which may be reached; NULL: none */
    const double *weight;     /* of each squared residual, >= 0; NULL: 1 */
    double precision;         /* of the residuals, as a share: 1e-16 for a plain formula */
} slew_least_squares;

typedef struct slew_least {
    double parameter[SLEW_PARAMETERS_MAX];
    int edge[SLEW_PARAMETERS_MAX]; /* -1, +1: it wants beyond its low or high bound and is held
                                      there, fixed */
    double sum;                    /* of the weighted squared residuals */
    int steps;
    slew_information information;
} slew_least;

/* Finds the parameters with the least weighted sum of squares, from `start` on: Levenberg and
 * Marquardt's method in GSL's multifit_nlinear (J. J. Moré, Lect. Notes Math. 630 (1978) 105-116),
 * with central differences of scale * cbrt(precision). `residual` [residuals] and `jacobian`
 * [residuals * parameters, by scale], without weights, may be NULL. SLEW_ERROR_INPUT: no residuals
 * at the start, or it does not settle; SLEW_ERROR_MEMORY. */
SLEW_API slew_status slew_least_squares_run(const slew_least_squares *problem, const double *start,
                                            slew_least *out, double *residual, double *jacobian,
                                            slew_error *error);

/* ---- What is asked ---- */

/* Stands for a key: the time by which the stopwatch shows too much [s]. */
enum { SLEW_FIT_BIAS = -1 };

typedef struct slew_fit_question {
    const slew_timings *timings;
    int keys;
    int key[SLEW_PARAMETERS_MAX]; /* indices into the key table, all different; SLEW_FIT_BIAS */
    bool robust;                  /* readings that lie far off count less or not at all */
} slew_fit_question;

/* ---- The answer ---- */

typedef struct slew_fit_figure {
    int key;
    double start, value; /* of the scenario, fitted [SI] */
    double sd;           /* standard error; INFINITY: not told, NaN: held at its edge */
    double low, high;    /* 95 % confidence */
    double size;    /* what its sd is compared with: its start, or that of the key's example where
                       the start is 0 or next to nothing */
    double weighed; /* what its sd is compared with in telling the least known: the size, or the
                       fitted value if that is larger and the readings tell it */
    int edge;       /* -1, +1: held at the low or high end of the key's range */
} slew_fit_figure;

/* One measured number of one row. */
typedef struct slew_fit_reading {
    int row; /* index into the timings */
    slew_measure measure;
    double measured, sd;
    double simulated; /* with the fitted figures, bias included */
    double off;       /* (measured - simulated)/sd */
    double weight;    /* 1; robust: down to 0 for a reading that lies far off */
} slew_fit_reading;

/* Figures that the readings can't tell apart: along `share`, in units of their sizes, they may
 * change together by about `sd` and the readings stay the same. */
typedef struct slew_fit_blur {
    double sd;                         /* > 0.3, of one alone > 1; INFINITY: they tell nothing */
    double share[SLEW_PARAMETERS_MAX]; /* 0 where it is small */
} slew_fit_blur;

/* The one reading, out of a menu of readings, after which the least known figure is known best. */
typedef struct slew_fit_next {
    bool any; /* false: no reading of the menu makes a difference */
    slew_timing row;
    slew_measure measure;
    double simulated;       /* what it should show */
    double before, after;   /* the largest sd of the keys, as a share of their sizes */
    int least, least_after; /* which figure that is */
} slew_fit_next;

enum { SLEW_READINGS_MAX = SLEW_TIMINGS_MAX * SLEW_MEASURE_COUNT };

typedef struct slew_fit {
    int figures;
    slew_fit_figure figure[SLEW_PARAMETERS_MAX];
    double correlation[SLEW_PARAMETERS_MAX][SLEW_PARAMETERS_MAX]; /* NaN where not known */
    int readings;
    slew_fit_reading reading[SLEW_READINGS_MAX]; /* in the order of the rows */
    double chi_square;                           /* weighted sum of squared off */
    double freedom;   /* readings (robust: their weights) less figures that are not held */
    double chance;    /* of a larger chi_square if the sds are right; NaN: robust, or no freedom */
    double scatter;   /* of the readings over their sds: sqrt(chi_square/freedom), robust: by their
                         median; NaN without freedom */
    bool sds_given;   /* some sd is given: the standard errors are from the sds as they stand */
    double enlarged;  /* otherwise they are enlarged by this, the scatter, if it is above 1 */
    double condition; /* of the Jacobian in units of the sizes */
    int blurs;
    slew_fit_blur blur[SLEW_PARAMETERS_MAX];
    slew_fit_next next;
    int steps;
} slew_fit;

/* Fits the keys to the readings. The scenario is run as it is today (file and `today`); the keys
 * are those of the file, and start from it. SLEW_ERROR_INPUT with the place: a key that can't be
 * fitted or that no reading depends on, fewer readings than keys, rows that can't be, a travel
 * faster than the motor can turn; SLEW_ERROR_MEMORY. Nothing is to be freed. */
SLEW_API slew_status slew_fit_run(const slew_scenario *scenario, const slew_fit_question *question,
                                  slew_fit *out, slew_error *error);

/* The path of a key, "stopwatch bias" of SLEW_FIT_BIAS. */
SLEW_API const char *slew_fit_name(int key);

/* ---- The calibrated scenario ---- */

/* Writes the fitted values into the text of a scenario file, and their standard errors as normal
 * distributions into spread.truck, in the place of what that said of the same keys, how they go
 * together into spread.correlation; the assignments, which the fit was made with, go in too. All
 * else of the text stays, comments and layout included. `note` (may be NULL) becomes a comment at
 * its head. The result is read back and has to equal the scenario with these values. It is the
 * caller's to free; NULL: *error says why (figures that the readings don't tell, a text that can't
 * be edited, memory). */
SLEW_API char *slew_fit_write(const slew_fit *fit, const char *text,
                              const slew_assignment *assignments, size_t assignment_count,
                              const char *note, slew_error *error);

#ifdef __cplusplus
}
#endif

#endif
