/* inset.h - the last second before an axis jams on its stop, enlarged in a free part of its panel.
 */
#ifndef SLEW_CLI_TRAVEL_INSET_H
#define SLEW_CLI_TRAVEL_INSET_H

#include "bands.h"
#include "draw/plot.h"

typedef struct cli_inset {
    int axis;                   /* the one that ends jammed; SLEW_NO_AXIS: none, nothing is drawn */
    double contact, off;        /* when it meets the stop, and when its motor goes off [s] */
    double from, to, low, high; /* what is shown [s], [deg] */
    double left, right, bottom, top; /* where, as shares of the panel */
} cli_inset;

/* Finds what jams in a run with samples, and where its panel has room. */
cli_inset cli_inset_find(const cli_single *single, const cli_panel panel[CLI_PANELS]);

/* Takes its place out of the axis's panel, so that no text of a mark stands there. */
void cli_inset_take(const cli_inset *inset, cli_panel panel[CLI_PANELS]);

/* Sets the variables of plots/travel.gp. */
void cli_inset_set(cli_plot *plot, const cli_inset *inset, const cli_single *single);

#endif
