/* license.c - the text of the project's license, which goes with every FMU. */
#include "answer.h"

const char cli_fmu_license[] = {
#include "license.inc"
};
