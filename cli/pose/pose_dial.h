/*
 * pose_dial.h - one view of the pose picture: a protractor around the pivot with texts around it.
 *
 * Side view: elevation, 0 to the right, + up. From above: rotation, 0 up, + to the right.
 */
#ifndef SLEW_CLI_POSE_POSE_DIAL_H
#define SLEW_CLI_POSE_POSE_DIAL_H

#include "pose_marks.h"

typedef struct cli_lettering {
    double scale;      /* of texts against those that labels.h measures [1] */
    double line;       /* from one text to the next [pixels] */
    bool is_terminal;  /* every letter is as wide as the others: */
    double cell_width; /* so wide [pixels] */
} cli_lettering;

typedef struct cli_box {
    double left, right, bottom, top; /* [pixels] */
} cli_box;

typedef struct cli_dial {
    int axis;
    cli_marks marks;
    double x, y;   /* of the pivot [pixels] */
    double radius; /* of the rim [pixels] */
} cli_dial;

/* The place at a share of the radius and an angle [rad]. */
cli_point cli_dial_at(const cli_dial *dial, double share, double angle);

/* How wide a text is [pixels]. */
double cli_text_width(const cli_label *label, const cli_lettering *lettering);

/* Finds the largest radius with which each of `count` dials (up to CLI_COLUMNS_MAX) of one axis
 * fits, with its texts, into its `panel` (all of one size), and puts them there, all of that radius
 * and with their pivots at one height. A dial without marks is left empty. */
void cli_dials_fit(cli_dial *dial, int count, const cli_box *panel, const cli_lettering *lettering);

#endif
