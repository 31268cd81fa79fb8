/*
 * stowed.h - one stow, and several deploys that go on from its end.
 *
 * Deploys with other seconds begin alike: the stow before them is run once, and so is their first
 * drive up to where the shorter one ends. The digits are those of slew_run_prepared.
 */
#ifndef SLEW_MOTION_STOWED_H
#define SLEW_MOTION_STOWED_H

#include "slewtime/machine.h"

/* A run up to where its deploy begins, or up to its end where none can follow. Plain data. */
typedef struct slew_stowed {
    bool ready; /* a deploy can follow */
    slew_machine machine;
    slew_result result; /* its stow and keep-out visits */
} slew_stowed;

/* Runs the stow of a scenario with a deploy, prepared for both parts, and what follows it until the
 * deploy may begin. */
void slew_stowed_run(const slew_scenario *scenario, const slew_prepared *prepared,
                     slew_stowed *out);

/* Goes on with a deploy of `seconds`, in place of the scenario's own: *result is that of both
 * parts. */
void slew_stowed_deploy(const slew_scenario *scenario, const slew_prepared *prepared,
                        const slew_stowed *stowed, const double seconds[SLEW_AXES],
                        slew_result *result);

/* Deploys of one stow under one deploy day: the beginning that they share is run once. */
typedef struct slew_deploys {
    const slew_scenario *scenario;
    const slew_prepared *prepared;
    const slew_stowed *stowed;
    /* how far the common beginning has come: in the first move, driven this way without an end */
    int way[SLEW_AXES]; /* 0, 0: it has not begun */
    slew_machine machine;
    slew_result result;
} slew_deploys;

/* All three must last as long as *out. */
void slew_deploys_begin(const slew_scenario *scenario, const slew_prepared *prepared,
                        const slew_stowed *stowed, slew_deploys *out);

/* slew_stowed_deploy, in any order of seconds: fastest where they grow, or shrink but little. */
void slew_deploys_run(slew_deploys *deploys, const double seconds[SLEW_AXES], slew_result *result);

#endif
