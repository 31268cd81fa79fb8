/*
 * rest.h - where the axes rest over all that a scenario lets vary, and what each part comes to.
 */
#ifndef SLEWTIME_REST_H
#define SLEWTIME_REST_H

#include "slewtime/api.h"
#include "slewtime/study.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum slew_rest_part { SLEW_REST_STOW, SLEW_REST_DEPLOY, SLEW_REST_PARTS } slew_rest_part;

/* What a part came to in one sample; the first that fits counts, from the last upwards. */
typedef enum slew_rest_end {
    SLEW_REST_ON_TARGET, /* or, without a stow point, stowed */
    SLEW_REST_MISSED,
    SLEW_REST_ON_A_STOP,     /* reported as done while an axis stands on a hard stop */
    SLEW_REST_FAULT,         /* the controller says so */
    SLEW_REST_DOES_NOT_HOLD, /* an axis is moved by its load */
    SLEW_REST_NOT_REACHED,   /* not asked, or the deploy after a stow that failed: no angles */
    SLEW_REST_ENDS
} slew_rest_end;

/* Runs the scenario over its spread; without one all samples are alike. The ensemble's figures are
 * read by the functions below. Errors: those of slew_ensemble_run. */
SLEW_API slew_status slew_rest_run(const slew_scenario *scenario, slew_parts parts,
                                   const slew_sampling *sampling, slew_ensemble *out,
                                   slew_error *error);

/* The angles at which the axis rests after the part, of all samples that reach it, ascending, into
 * `angles` with room for rest->done [rad]. Returns how many. */
SLEW_API int64_t slew_rest_angles(const slew_ensemble *rest, slew_rest_part part, int axis,
                                  double *angles);

/* How many samples came to that end. */
SLEW_API int64_t slew_rest_count(const slew_ensemble *rest, slew_rest_part part, slew_rest_end end);

#ifdef __cplusplus
}
#endif

#endif
