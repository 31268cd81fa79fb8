/* finer_confirm.h - finer seconds that were found by the target alone, against all demands. */
#ifndef SLEW_STUDY_FINER_CONFIRM_H
#define SLEW_STUDY_FINER_CONFIRM_H

#include "slewtime/offset.h"

/* Simulates out->at, of which the seconds and out->step are known, with the samples searched; one
 * that is no better than what is coarser goes back towards that until it is, or gives way to it.
 * Then fills them in from fresh samples. */
slew_status slew_finer_confirm(const slew_scenario *scenario, const slew_sampling *sampling,
                               const slew_offset *offset, slew_finer *out, slew_error *error);

#endif
