/* scenario.h - the JSON Schema of a scenario file, for editors. */
#ifndef SLEW_CLI_SCHEMA_SCENARIO_H
#define SLEW_CLI_SCHEMA_SCENARIO_H

#include "slewtime/scenario.h"
#include "tell/teller.h"

/* From the table of keys; `what` is a slew_scenario on which values are tried. */
cli_record cli_schema_scenario;

#endif
