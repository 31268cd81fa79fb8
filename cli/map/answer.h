/* answer.h - the answer of `slewtime map` as text, JSON, CSV and picture. */
#ifndef SLEW_CLI_MAP_ANSWER_H
#define SLEW_CLI_MAP_ANSWER_H

#include <stdio.h>

#include "slewtime/map.h"

typedef struct cli_map {
    const slew_scenario *scenario;
    int count; /* of varied keys: 1 a line, 2 a map */
    slew_vary vary[SLEW_VARY_MAX];
    double tolerance;   /* of a line's boundaries, a share of the range */
    slew_map_line line; /* of one key */
    slew_map map;       /* of two */
} cli_map;

enum { CLI_VARY_NAME_MAX = 128 };

/* "today.supply.main.voltage" */
void cli_vary_name(const slew_vary *vary, char name[CLI_VARY_NAME_MAX]);

/* Digits after the point that tell `tolerance` (a share of the range) apart. */
int cli_vary_decimals(const slew_vary *vary, double tolerance);

/* One letter for each outcome, the same in every map. */
char cli_outcome_letter(slew_outcome outcome);

/* What was found, in one line. */
void cli_map_finding(const cli_map *answer, char *text, size_t size);

void cli_map_print(const void *map);
int cli_map_json(const void *map);               /* returns an exit code */
void cli_map_csv(FILE *stream, const void *map); /* one row for each point of the grid */

/* Draws the regions, or the line with its intervals. Returns an exit code. */
int cli_map_draw(const char *path, const void *map);

#endif
