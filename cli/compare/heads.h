/* heads.h - the texts above a comparison's picture: what was found, of all and of each. */
#ifndef SLEW_CLI_COMPARE_HEADS_H
#define SLEW_CLI_COMPARE_HEADS_H

#include "answer.h"
#include "draw/plot.h"

/* Sets heading_1, heading_2 (what each comes to) and heading_3 (in what they differ). */
void cli_compare_headings(cli_plot *plot, const cli_comparison *comparison);

/* Sets name_A, origin_A and line_A_1 to line_A_4 of a column in which a line has room for so many
 * letters. */
void cli_compare_head(cli_plot *plot, const cli_compared_run *column, int letters);

#endif
