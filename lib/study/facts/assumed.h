/* assumed.h - defaults that a scenario may leave, with what trucks have beside them. */
#ifndef SLEW_STUDY_ASSUMED_H
#define SLEW_STUDY_ASSUMED_H

#include "slewtime/facts.h"

/* Puts the next key that is left to its default into *out, with its values. *from begins at 0 and
 * is moved on. false: there is none. */
bool slew_assumed_next(const slew_scenario *scenario, const bool *given, int *from, slew_hang *out);

#endif
