/*
 * fit.h - this truck's figures from what was timed and metered at it.
 *
 * Any numeric keys of a scenario, from the readings and from what was known of them before, by
 * nonlinear least squares through the simulation; with their uncertainty, how much of it the
 * readings tell, what they can't tell apart, and the next reading that would tell most.
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

enum { SLEW_PARAMETERS_MAX = 28 };

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
 * at the start, or it does not settle; SLEW_ERROR_MEMORY.
 *
 * GSL allocates here. For that one call its error handler, which belongs to the whole process, is
 * off and then what it was before: by one thread of the library at a time, so that several fits do
 * not get into each other's way. gsl_set_error_handler itself is not made for threads: a program
 * that sets a handler of its own does so before it fits, not meanwhile. */
SLEW_API slew_status slew_least_squares_run(const slew_least_squares *problem, const double *start,
                                            slew_least *out, double *residual, double *jacobian,
                                            slew_error *error);

/* ---- What is asked ---- */

/* Stand for keys: by how much an instrument shows too much, [s], [V], [A], [rad]; the meter at the
 * source, of which supply_V is read [V]; the thermometer, or the scenario where no row tells [K].
 */
enum {
    SLEW_FIT_BIAS = -1,
    SLEW_FIT_VOLTAGE_OFFSET = -2,
    SLEW_FIT_CURRENT_OFFSET = -3,
    SLEW_FIT_ANGLE_OFFSET = -4,
    SLEW_FIT_SUPPLY_OFFSET = -5,
    SLEW_FIT_TEMPERATURE_OFFSET = -6
};

enum { SLEW_FIT_KEYS_MAX = 15 };

typedef struct slew_fit_question {
    const slew_timings *timings;
    int keys;
    int key[SLEW_FIT_KEYS_MAX]; /* indices into the key table, all different; SLEW_FIT_BIAS */
    double tolerance[SLEW_FIT_KEYS_MAX]; /* standard deviation of what is known of it before; 0: the
                                            truck's spread, or what is usual [SI] */
    bool robust;                         /* readings that lie far off count less or not at all */
} slew_fit_question;

/* ---- The answer ---- */

/* Where what is known of a key before comes from. */
typedef enum slew_prior_from {
    SLEW_PRIOR_USUAL,
    SLEW_PRIOR_SPREAD,
    SLEW_PRIOR_STATED
} slew_prior_from;

typedef struct slew_fit_figure {
    int key;
    bool
        asked; /* false: it floats with them, a motor's sheet currents, a taught point, an offset */
    double start; /* of the scenario [SI] */
    slew_prior_from from;
    double mean, before; /* what was known before: a normal one, its sd */
    double value;        /* now: where the posterior is greatest */
    double sd;           /* of the posterior, about `value`, over all that the scatters may be */
    double low, high;    /* 95 % of the posterior, uneven, within the key's range; where few of its
                            samples count, no narrower than Student's about `value` */
    double told;         /* share of its variance that the readings have taken away, 0: all of it is
                            what was known before, 1: all of it is from the readings */
    int edge;            /* -1, +1: at the low or high end of the key's range */
} slew_fit_figure;

/* A figure of which the readings told less than this is assumed. */
#define SLEW_FIT_ASSUMED 0.1

/* One measured number of one row. */
typedef struct slew_fit_reading {
    int row; /* index into the timings */
    slew_measure measure;
    double measured;
    double sd;        /* of the instrument alone, as given or assumed */
    double simulated; /* with the fitted figures, offsets included */
    double total;     /* with what the errors of its row's conditions come to */
    double off;       /* (measured - simulated)/total */
    double weight;    /* 1; robust: down to 0 for a reading that lies far off */
} slew_fit_reading;

/* An instrument: what it scatters by over the sds of its readings. Stored times are one of their
 * own. */
enum { SLEW_FIT_STORED = SLEW_MEASURE_COUNT, SLEW_INSTRUMENTS };

typedef struct slew_fit_scatter {
    int readings;
    double scatter; /* 1: as assumed */
    double worth;   /* how many readings are left, beyond the figures, to tell it */
} slew_fit_scatter;

/* Figures that the readings can't tell apart: along `share`, in units of what was known before,
 * they may change together by about `sd` of it. */
typedef struct slew_fit_blur {
    double sd;                         /* above sqrt(1/2): more is known before than now from the
                                          readings; 1: these tell nothing */
    double share[SLEW_PARAMETERS_MAX]; /* 0 where it is small */
} slew_fit_blur;

/* The one reading, of those that can be made on this visit, after which the least told figure is
 * told best. */
typedef struct slew_fit_next {
    bool any; /* false: no reading of the menu makes a difference */
    slew_timing row;
    slew_measure measure;
    double simulated;       /* what it should show */
    double before, after;   /* the largest sd of the keys asked for, over that before the visit */
    int least, least_after; /* which figure that is */
} slew_fit_next;

/* Where the scenario's deploy would rest on the day of the visit, by the fitted figures, and the
 * reading of those that can be made on this visit after which that is known best. */
typedef struct slew_fit_aim {
    bool any;         /* false: the axis is not in the rows, or no deploy drives it */
    double angle, sd; /* where point and home sensor were not read they count by what is usual, or
                         the truck's spread [rad] */
    bool better;      /* false: no reading of the menu makes a difference */
    slew_timing row;
    slew_measure measure;
    double simulated; /* what it should show */
    double after;     /* sd, were it made [rad] */
} slew_fit_aim;

/* The key, held until now, that would bring model and readings together best. */
typedef struct slew_fit_culprit {
    bool any;
    int key;
    double fall;  /* of chi_square */
    double value; /* that it would have to have, worked out in a straight line */
} slew_fit_culprit;

enum { SLEW_READINGS_MAX = SLEW_TIMINGS_MAX * +SLEW_MEASURE_COUNT };

typedef struct slew_fit {
    int figures; /* those asked for first */
    slew_fit_figure figure[SLEW_PARAMETERS_MAX];
    double correlation[SLEW_PARAMETERS_MAX][SLEW_PARAMETERS_MAX];
    int readings;
    slew_fit_reading reading[SLEW_READINGS_MAX];   /* in the order of the rows */
    slew_fit_scatter instrument[SLEW_INSTRUMENTS]; /* by measure, SLEW_FIT_STORED */
    double chi_square; /* of readings and of what was known before, with the sds as assumed */
    double freedom;    /* what it should come to: the number of readings (robust: their weights) */
    double chance;     /* of a larger chi_square if all is as assumed; NaN: robust */
    bool sds_given;    /* of some reading */
    slew_fit_culprit culprit; /* looked for where `chance` is below SLEW_FIT_CHANCE */
    int blurs;
    slew_fit_blur blur[SLEW_PARAMETERS_MAX];
    slew_fit_next next;
    slew_fit_aim aim[SLEW_AXES];
    int steps;
} slew_fit;

#define SLEW_FIT_CHANCE 0.01

/* Fits the keys to the readings, with what was known of them before: the most likely values, and
 * how well they are known. The scenario is run as it is today (file and `today`); the keys are
 * those of the file. Offsets of the instruments, no-load and stall current of each axis that is
 * timed, the stow point where stored times are told, and with it the home sensor's angle where it
 * was read where an axis rests, are fitted too. SLEW_ERROR_INPUT with the
 * place: a key that can't be fitted or that no reading depends on, rows that can't be, a travel
 * faster than the motor can turn; SLEW_ERROR_MEMORY. Nothing is to be freed. */
SLEW_API slew_status slew_fit_run(const slew_scenario *scenario, const slew_fit_question *question,
                                  slew_fit *out, slew_error *error);

/* The path of a key, "stopwatch bias" of SLEW_FIT_BIAS, and so on. */
SLEW_API const char *slew_fit_name(int key);

/* ---- The calibrated scenario ---- */

/* Writes the posterior into the text of a scenario file: the values, their standard deviations as
 * normal distributions into spread.truck, in the place of what that said of the same keys, how they
 * go together into spread.correlation; keys that float are written too, offsets of instruments are
 * not. The assignments, which the fit was made with, go in too. All
 * else of the text stays, comments and layout included. `note` (may be NULL) becomes a comment at
 * its head. The result is read back and has to equal the scenario with these values. It is the
 * caller's to free; NULL: *error says why (a key that spread.day draws too, a text that can't be
 * edited, memory). */
SLEW_API char *slew_fit_write(const slew_fit *fit, const char *text,
                              const slew_assignment *assignments, size_t assignment_count,
                              const char *note, slew_error *error);

#ifdef __cplusplus
}
#endif

#endif
