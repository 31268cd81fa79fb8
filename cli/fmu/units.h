/* units.h - the units of an FMU's variables: FMI 3.0, 2.4.3, UnitDefinitions. */
#ifndef SLEW_CLI_FMU_UNITS_H
#define SLEW_CLI_FMU_UNITS_H

#include <stdio.h>

#include "variables.h"

/* The unit of a variable's values; NULL: it has none. "1" is that of shares, which are shown in
 * another. */
const char *cli_fmu_unit(const fmu_variable *variable);

/* The unit in which it is shown, where that is another one; NULL otherwise. */
const char *cli_fmu_shown(const fmu_variable *variable);

/* The element of all units that the variables have. */
void cli_fmu_describe_units(const fmu_variables *variables, FILE *xml);

#endif
