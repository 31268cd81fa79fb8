/* figures.h - the figures that a run comes to, one row for each: for tables of several runs. */
#ifndef SLEW_CLI_SINGLE_FIGURES_H
#define SLEW_CLI_SINGLE_FIGURES_H

#include "single_run.h"

typedef enum cli_figure_part { CLI_OF_STOW, CLI_OF_DEPLOY, CLI_OF_SUPPLY } cli_figure_part;

/* Either a number or a word. */
typedef struct cli_figure {
    cli_figure_part part;
    const char *label; /* "elevation rests at" */
    const char *unit;  /* "" for counts and words */
    const char *name;  /* in a CSV, with its unit: "stow_elevation_deg" */
    int axis;          /* handed to `number` */
    int decimals;
    bool is_signed;                                       /* a positive number has its sign */
    double (*number)(const cli_single *single, int axis); /* NaN: there is none */
    const char *(*word)(const cli_single *single);        /* NULL: there is none */
} cli_figure;

enum { CLI_FIGURE_TEXT_MAX = 32 };

/* NULL outside 0 .. the number of figures - 1. */
const cli_figure *cli_figure_at(int index);

/* The figure of a run for people, "-" where there is none. */
void cli_figure_text(const cli_figure *figure, const cli_single *single,
                     char text[CLI_FIGURE_TEXT_MAX]);

#endif
