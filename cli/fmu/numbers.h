/*
 * numbers.h - a scenario as an FMU carries it: a text of keys with their numbers, in
 * resources/scenario.txt.
 *
 * A number stands as the 16 hexadecimal digits of its IEEE 754 double, so that the same text means
 * the same to the last bit in every locale.
 */
#ifndef SLEW_CLI_FMU_NUMBERS_H
#define SLEW_CLI_FMU_NUMBERS_H

#include <stdio.h>

#include "variables.h"

#define FMU_NUMBERS_FILE "scenario.txt"

enum { FMU_TOKEN_MAX = 80 };

/* Writes a scenario of layers FILE and TEACH alone. */
void fmu_numbers_write(const slew_scenario *scenario, fmu_kind kind, FILE *file);

/* Reads it back. false: it is no such text, or of another version. */
bool fmu_numbers_read(FILE *file, slew_scenario *scenario, fmu_kind *kind);

/* What an FMU of this scenario is known by: another one for other figures. */
void fmu_token(const slew_scenario *scenario, fmu_kind kind, char token[FMU_TOKEN_MAX]);

#endif
