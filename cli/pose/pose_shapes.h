/* pose_shapes.h - the shapes of one dial as data for plots/pose.gp: sectors, lines, the fan. */
#ifndef SLEW_CLI_POSE_POSE_SHAPES_H
#define SLEW_CLI_POSE_POSE_SHAPES_H

#include <stdio.h>

#include "fan.h"
#include "pose_dial.h"

/* From where to where on the radius something is drawn [share of the radius]. */
typedef struct cli_ring {
    double inner, outer;
} cli_ring;

cli_ring cli_ring_of(cli_mark_kind kind);

/* Begins shapes.csv or fan.csv of plots/pose.gp with the names of their columns. */
void cli_shapes_begin(FILE *stream);

/* Polygons, closed, and polylines: a row for each corner and a blank line after each shape. */
void cli_shapes_write(FILE *stream, int pose, const cli_dial *dial);

/* The same for the lines of the fan. false: memory is short, which is told on stderr. */
bool cli_shapes_write_fan(FILE *stream, int pose, const cli_dial *dial, const cli_fan *fan);

/* ---- The same dial in letters, for the terminal ---- */

/* Begins letters.csv of plots/pose.gp with the names of its columns. */
void cli_letters_begin(FILE *stream);

/* Writes its rows; what comes later lies above. `fan` may be NULL. false: memory is short, which is
 * told on stderr. */
bool cli_letters_write(FILE *stream, const cli_dial *dial, const cli_fan *fan);

#endif
