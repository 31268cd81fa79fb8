/* answer.h - an FMU: what it is made of, and its parts. */
#ifndef SLEW_CLI_FMU_ANSWER_H
#define SLEW_CLI_FMU_ANSWER_H

#include <stdio.h>

#include "numbers.h"
#include "variables.h"

typedef struct cli_fmu {
    fmu_kind kind;
    slew_scenario scenario; /* as the FMU has it */
    fmu_variables variables;
    char token[FMU_TOKEN_MAX];
} cli_fmu;

/* A scenario as an FMU has it: the conditions of today in place of file and today, those of
 * teaching where they differ or may be told otherwise, windows in place of magnets, numbers in
 * place of rules. What it lets vary and deploy_day are no part of it. */
void cli_fmu_pack(const slew_scenario *scenario, slew_scenario *packed);

/* Its name in C: the same for every FMU of that kind. */
const char *cli_fmu_identifier(fmu_kind kind);

/* The text of the license, in documentation/licenses. */
extern const char cli_fmu_license[];

/* modelDescription.xml and documentation/index.html. */
void cli_fmu_describe(const cli_fmu *fmu, FILE *xml);
void cli_fmu_document(const cli_fmu *fmu, FILE *html);

/* Writes the file. Returns an exit code; a failure is told on stderr. */
int cli_fmu_write(const cli_fmu *fmu, const char *path);

#endif
