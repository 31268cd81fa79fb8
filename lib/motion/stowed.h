/*
 * stowed.h - one stow, and several deploys that go on from its end.
 *
 * Deploys with other seconds begin alike: the stow before them is run once. The digits are those of
 * slew_run_prepared.
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

#endif
