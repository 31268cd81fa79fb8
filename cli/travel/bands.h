/* bands.h - the areas behind the curves of a travel picture, and their names. */
#ifndef SLEW_CLI_TRAVEL_BANDS_H
#define SLEW_CLI_TRAVEL_BANDS_H

#include <stdio.h>

#include "draw/labels.h"
#include "single/single_run.h"

/* The panels of the picture; the first two are those of the axes. */
enum { CLI_PANEL_CURRENT = SLEW_AXES, CLI_PANEL_VOLTAGE, CLI_PANELS };

/* What a panel shows of a sample: degrees, amperes or volts. */
double cli_shown(int panel, const slew_sample *sample);

/* Sets what the panels span: what axes, current and voltage do, and what is to be seen around it.
 * Name and size are left alone. */
void cli_bands_frame(const cli_single *single, cli_panel panel[CLI_PANELS]);

/* Begins bands.csv and names.csv of plots/travel.gp with the names of their columns; here and below
 * `names` may be NULL. */
void cli_bands_begin(FILE *bands, FILE *names);

/* Writes their rows. */
void cli_bands_write(FILE *bands, FILE *names, const cli_single *single,
                     const cli_panel panel[CLI_PANELS]);

#endif
