/* motion_both.h - a scenario through the reference solver, its events kept as a story. */
#ifndef TESTS_UNIT_MOTION_BOTH_H
#define TESTS_UNIT_MOTION_BOTH_H

#include "../reference/reference.h"
#include "../support.h"

/* 0, or something else with the reason in `why` */
static inline int run_reference(const slew_scenario *s, ref_options *options, story *out, char *why,
                                size_t size)
{
    slew_setup teach, stow, deploy;
    slew_scenario_resolve(s, SLEW_OCCASION_TEACH, &teach);
    slew_scenario_resolve(s, SLEW_OCCASION_STOW, &stow);
    slew_scenario_resolve(s, SLEW_OCCASION_DEPLOY, &deploy);
    options->event = keep_event;
    options->ctx = out;
    out->count = 0;
    return ref_run(s, &teach, &stow, &deploy, SLEW_STOW_AND_DEPLOY, options, &out->result, NULL,
                   why, size);
}

#endif
