/*
 * margin.h - the clearance a taught stow point needs from a hard stop.
 *
 * A stored time replayed on a livelier day carries an axis further than where it was taught. Near a
 * stop it is then pressed on it, unnoticed or until the controller faults. Asked here: how far from
 * the stop the point has to be, over the scenario's spread. A clearance c means the point
 * stop + c at the low stop, stop - c at the high one, with the stops of the teaching; the rest of
 * the scenario is as it is. Where the truck's spread has the point, after a fit, it is taught off
 * that by as much as drawn, but not on the stop.
 */
#ifndef SLEWTIME_MARGIN_H
#define SLEWTIME_MARGIN_H

#include "slewtime/api.h"
#include "slewtime/study.h"

#ifdef __cplusplus
extern "C" {
#endif

enum {
    SLEW_MARGIN_STEPS = 12,
    SLEW_MARGIN_SIDES = 2, /* 0: the low stop, 1: the high one */
};

/* The same question of a scenario with one thing changed, wherever its layers say it. */
#define SLEW_MARGIN_CHANGES(X)                                                                     \
    X(NONE, "as it is")                                                                            \
    X(STOP, "controller.stop switched")                                                            \
    X(EITHER, "approach either")                                                                   \
    X(RISING, "approach rising")                                                                   \
    X(FALLING, "approach falling")                                                                 \
    X(TAUGHT_LOWER, "taught at 0.5 V less")                                                        \
    X(TAUGHT_HIGHER, "taught at 0.5 V more")

#define SLEW_MARGIN_ENUM(name, words) SLEW_MARGIN_##name,
typedef enum slew_margin_change {
    SLEW_MARGIN_CHANGES(SLEW_MARGIN_ENUM) SLEW_MARGIN_CHANGE_COUNT
} slew_margin_change;
#undef SLEW_MARGIN_ENUM

/* "approach rising"; "?" for a value that is none of the enum's. */
SLEW_API const char *slew_margin_change_words(slew_margin_change change);

/* A probability wanted below this hangs on the tails of the spread as they were assumed: no log of
 * a truck's days shows them. */
#define SLEW_MARGIN_ASSUMED 0.0005

typedef struct slew_margin_question {
    int axis;      /* SLEW_ROTATION or SLEW_ELEVATION */
    double wanted; /* the probability of fault or pressed is to be below this: 0 < wanted < 1 */
} slew_margin_question;

/* One clearance over the whole spread. Shares are of the samples that can be taught there; NaN
 * where none can be taught. Samples are drawn where the tail is and weighed (M9.6); intervals are
 * those of weighted hits. */
typedef struct slew_margin_step {
    double clearance; /* [rad] */
    int64_t samples;  /* asked, and those of them in which the point can't be taught */
    int64_t untaught;
    slew_share fault;    /* hard_stop of this axis on this stop, in the stow's timed moves */
    slew_share pressed;  /* the controller says stowed, the axis rests on the stop */
    slew_share unsafe;   /* either of the two */
    slew_share touched;  /* the stop was met after homing, or the axis ends on it */
    slew_share short_of; /* stowed, but further from the stop than the tolerance allows */
    slew_share near_to;  /* stowed off the stop, but nearer to it than the tolerance allows */
    slew_share other;    /* another fault, or no verdict: says nothing about the clearance */
} slew_margin_step;

/* The smallest clearance on a grid of 0.05 deg, from 0.25 deg up to `limit`. In each sample the
 * smallest clearance that is safe is searched, taking larger ones to be safe too; the same samples
 * serve every clearance. `enough` keeps to demands.confidence, one sided, by weighted hits (M9.6).
 */
typedef struct slew_margin_need {
    slew_status status; /* SLEW_OK: asked; else the change is not possible, or it was not asked */
    double limit;       /* the largest clearance asked: at the home sensor's angle [rad] */
    double enough;      /* P(fault or pressed) is surely below wanted; INFINITY: at no clearance,
                           NaN: the samples do not suffice [rad] */
    double unseen; /* from here on no sample is hit; INFINITY: some are at the limit too [rad] */
    slew_share beyond; /* of fault or pressed at `enough`, by its samples, with its interval at 95 %
                          confidence; NaN without one */
    int64_t samples;   /* that can be taught */
    int64_t untaught;  /* that can't be taught at any clearance: left out */
} slew_margin_need;

typedef struct slew_margin_side {
    double stop; /* of the scenario itself while teaching [rad] */
    slew_margin_need need;
    int step_count;                           /* 0: not asked */
    slew_margin_step step[SLEW_MARGIN_STEPS]; /* from 0.25 deg, about geometric; the last but one
                                                 is the clearance needed, the last lies beyond */
    slew_error untaught; /* why some samples can't be taught somewhere; empty message: all can */
} slew_margin_side;

typedef struct slew_margin {
    int64_t samples, refused; /* done, and those of them that can't run */
    slew_error first_refusal;
    slew_margin_side side[SLEW_MARGIN_SIDES];
    slew_margin_need change[SLEW_MARGIN_CHANGE_COUNT][SLEW_MARGIN_SIDES];
} slew_margin;

/* Asks all of it; nothing is to be freed. Bit-identical for any number of threads. Errors:
 * SLEW_ERROR_INPUT without a point, with stored times, without a spread, or with a home sensor
 * within 0.25 deg of both stops; those of slew_ensemble_run. A change that is not possible has its
 * own status; a changed teaching voltage also takes the place of one that differs from truck to
 * truck. After SLEW_ERROR_STOPPED *out holds what has been asked until then. */
SLEW_API slew_status slew_margin_run(const slew_scenario *scenario,
                                     const slew_margin_question *question,
                                     const slew_sampling *sampling, slew_margin *out,
                                     slew_error *error);

#ifdef __cplusplus
}
#endif

#endif
