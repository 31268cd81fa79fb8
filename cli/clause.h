/* clause.h - the outcome of a run as what follows a name: "B faults: hard_stop of elevation". */
#ifndef SLEW_CLI_CLAUSE_H
#define SLEW_CLI_CLAUSE_H

#include "story.h"

enum { CLI_CLAUSE_MAX = 320 };

/* "is stowed on target, elevation 1.2 deg clear of the lower stop; deploys on target". `degree` is
 * how a degree is written: " deg" or a sign. */
void cli_clause(const cli_story *story, const char *degree, char text[CLI_CLAUSE_MAX]);

#endif
