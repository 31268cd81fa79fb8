/* ranking.h - which of two choices is the better one. */
#ifndef SLEW_STUDY_RANKING_H
#define SLEW_STUDY_RANKING_H

#include "slewtime/offset.h"

/* By slew_merit. */
bool slew_landing_is_better(const slew_scenario *scenario, const slew_offset_choice *a,
                            const slew_offset_choice *b);

#endif
