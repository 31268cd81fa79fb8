/* figures.h - the figures of a run for tables of several runs: how people call them. */
#ifndef SLEW_CLI_COMPARE_FIGURES_H
#define SLEW_CLI_COMPARE_FIGURES_H

#include "single/single_run.h"

typedef enum cli_figure_part { CLI_OF_STOW, CLI_OF_DEPLOY, CLI_OF_SUPPLY } cli_figure_part;

typedef struct cli_figure {
    cli_figure_part part;
    const char *label; /* "elevation rests at" */
    const char *name;  /* of its column in a row of the result, which has its value and unit */
    int decimals;      /* of a number */
    bool is_signed;    /* a positive number has its sign */
} cli_figure;

enum { CLI_FIGURES = 31, CLI_FIGURE_TEXT_MAX = 32 };

extern const cli_figure cli_figures[CLI_FIGURES];

/* "deg"; "" for counts and words. */
const char *cli_figure_unit(const cli_figure *figure);

/* The figures of a run for people; "-": there is none. */
typedef struct cli_figure_texts {
    char text[CLI_FIGURES][CLI_FIGURE_TEXT_MAX];
} cli_figure_texts;

/* single NULL: it has none of them. */
void cli_figures_read(const cli_single *single, cli_figure_texts *out);

#endif
