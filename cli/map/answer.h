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
void cli_vary_words(const slew_vary *vary, slew_unit_system units, char words[CLI_VARY_NAME_MAX]);

/* "V"; "" of a ratio: the unit of the key table, for JSON and CSV. */
const char *cli_vary_unit(const slew_vary *vary);

/* As people read it, in the units that are asked for: a value, and its unit: "°", "°F", "psi". */
double cli_vary_shown(const slew_vary *vary, slew_unit_system units, double value);
const char *cli_vary_sign(const slew_vary *vary, slew_unit_system units);

/* Digits after the point of that which tell `tolerance` (a share of the range) apart. */
int cli_vary_decimals(const slew_vary *vary, slew_unit_system units, double tolerance);

/* The kinds that are told apart, slew_map_kind, have letters in this order, which is that of a
 * legend; the code of a kind is its place here. */
enum { CLI_MAP_CODES = SLEW_OUTCOME_COUNT + 2 };
int cli_map_code(int kind);
char cli_map_letter(int code);
const char *cli_map_code_words(int code); /* "stowed past the stow point" */

/* Share of a map's area [1]; of the grid's points the one furthest off target [rad]. */
double cli_map_share(const cli_map *answer, int code);
double cli_map_largest_off(const cli_map *answer, int code);

/* Why a map could not be run there; an empty message: it could. */
const slew_error *cli_map_reason(const cli_map *answer, int code);

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

/* The code of a cell of the picture; -1 beyond its border. */
int cli_map_code_at(const slew_map *map, int x, int y);

/* Of each connected region of one outcome that has room for a letter the cell that is farthest from
 * any other outcome, as y * width + x. To be freed; NULL: memory is short. */
int *cli_map_letters(const slew_map *map, int *count);

#endif
