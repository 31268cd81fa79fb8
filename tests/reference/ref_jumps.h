/*
 * ref_jumps.h - all that happens without a lapse of time.
 */
#ifndef REF_JUMPS_H
#define REF_JUMPS_H

#include "ref_plant.h"

/* Something electrical has jumped: supply regime and threshold flags anew. */
void ref_jump(ref_plant *plant);

/* The solver has stopped on this root. */
void ref_take_root(ref_plant *plant, int root);

#endif
