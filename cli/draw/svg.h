/* svg.h - an SVG that says what it is. */
#ifndef SLEW_CLI_DRAW_SVG_H
#define SLEW_CLI_DRAW_SVG_H

#include <stdio.h>

typedef struct cli_svg_words {
    const char *title;
    const char *shows, *more; /* its description: what is drawn, and what is said above it */
} cli_svg_words;

/* Copies gnuplot's SVG with these words as its title and description, and with families of letters
 * to fall back on, for a reader of SVG that lacks gnuplot's. */
void cli_svg_copy(FILE *from, FILE *to, const cli_svg_words *words);

#endif
