/* margin_ladder.h - what happens at one clearance after the other. */
#ifndef SLEW_STUDY_MARGIN_LADDER_H
#define SLEW_STUDY_MARGIN_LADDER_H

#include "study/margin/margin_need.h"

/* Fills the steps of `out`, whose need is known, from the samples of `needs`: the clearance needed
 * and the one beyond it from all of them, the others from the first few. */
slew_status slew_margin_climb(const slew_margin_asking *asking, slew_margin_case *c,
                              const slew_tail *tail, const slew_margin_samples *needs,
                              slew_margin_side *out);

#endif
