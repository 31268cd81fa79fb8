/* observables.h - the table behind slew_observable_at: each observable as a row that values are
 * read by. */
#ifndef SLEW_SCENARIO_OBSERVABLES_H
#define SLEW_SCENARIO_OBSERVABLES_H

#include "keys/keys.h"
#include "slewtime/catalogue.h"

/* `index` must be within the table. */
slew_key_row slew_observable_row(int index);

/* The nearest path to a misspelt one; empty and false: none is near. */
bool slew_observable_nearest(const char *path, char text[SLEW_PATH_MAX]);

/* true: some observable lies in the group `path` ("stow"). */
bool slew_observable_group(const char *path);

#endif
