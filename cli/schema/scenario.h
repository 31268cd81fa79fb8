/* scenario.h - the JSON Schema of a scenario file, for editors. */
#ifndef SLEW_CLI_SCHEMA_SCENARIO_H
#define SLEW_CLI_SCHEMA_SCENARIO_H

#include "tell/teller.h"

/* From the table of keys; `what` is a cli_key_trial. */
cli_record cli_schema_scenario;

#endif
