/* answer.h - the answer of `slewtime map`, and how it is told. */
#ifndef SLEW_CLI_MAP_ANSWER_H
#define SLEW_CLI_MAP_ANSWER_H

#include <stdio.h>

#include "draw/plot.h"
#include "slewtime/map.h"
#include "tell/provenance.h"

typedef struct cli_map {
    const slew_scenario *scenario;
    int count; /* of varied keys: 1 a line, 2 a map */
    slew_vary vary[SLEW_VARY_MAX];
    double tolerance;   /* of a line's boundaries, a share of the range */
    slew_map_line line; /* of one key */
    slew_map map;       /* of two */
    char asked[CLI_PROVENANCE_MAX];
} cli_map;

/* ---- Words ---- */

enum { CLI_VARY_NAME_MAX = 128 };

/* "today.supply.main.voltage", and with its unit behind it as a column of CSV. */
void cli_vary_name(const slew_vary *vary, char name[CLI_VARY_NAME_MAX]);
void cli_vary_column(const slew_vary *vary, char name[CLI_VARY_NAME_MAX]);

/* "battery voltage today, V": for people. */
void cli_vary_words(const slew_vary *vary, char words[CLI_VARY_NAME_MAX]);

/* "V"; "" of a ratio. */
const char *cli_vary_unit(const slew_vary *vary);

/* Digits after the point that tell `tolerance` (a share of the range) apart. */
int cli_vary_decimals(const slew_vary *vary, double tolerance);

/* What was found, in one line. */
void cli_map_finding(const cli_map *answer, char *text, size_t size);

/* What caution.h is to warn of; empty: nothing. */
const char *cli_map_dangers(const cli_map *answer);

/* ---- The ways of telling it, for cli_frame ---- */

void cli_map_text(const void *what);
void cli_map_document(cli_teller *teller, const void *what);
void cli_map_table(FILE *stream, const void *what); /* one row for each point of the grid */
bool cli_map_fill(cli_plot *plot, const void *what);

/* One row for each interval of a line. */
void cli_map_spans_table(FILE *stream, const void *what);

/* ---- The regions of the picture, and where their letters stand ---- */

/* The outcome of a cell of the picture; -1 beyond its border. */
int cli_map_code_at(const slew_map *map, int x, int y);

/* Of each connected region of one outcome that has room for a letter the cell that is farthest from
 * any other outcome, as y * width + x. To be freed; NULL: memory is short. */
int *cli_map_letters(const slew_map *map, int *count);

#endif
