/* units.h - SI to the units that people use, for the screen. */
#ifndef SLEW_CLI_TELL_UNITS_H
#define SLEW_CLI_TELL_UNITS_H

#include "slewtime/scenario.h"

/* Never minus zero, NaN where the angle is NaN. */
double cli_degrees(double radians);
double cli_percent(double share);
double cli_celsius(double kelvin);
double cli_milliohms(double ohms);

/* ---- In the units that the scenario asks for, in texts and pictures ---- */

typedef enum cli_measure {
    CLI_MEASURE_LENGTH,           /* ft, m */
    CLI_MEASURE_SMALL_LENGTH,     /* in, mm */
    CLI_MEASURE_TEMPERATURE,      /* degrees Fahrenheit, Celsius */
    CLI_MEASURE_TEMPERATURE_STEP, /* a difference */
    CLI_MEASURE_PRESSURE,         /* psi, bar */
    CLI_MEASURE_FORCE,            /* lbf, N */
    CLI_MEASURE_TORQUE,           /* lbf-ft, N m */
    CLI_MEASURE_FLOW,             /* gpm, L/min */
    CLI_MEASURES
} cli_measure;

/* A figure in SI as the units have it, never minus zero, and their unit: "ft", "°F", "lbf-ft". */
double cli_measured(slew_unit_system units, cli_measure measure, double si);
const char *cli_measure_unit(slew_unit_system units, cli_measure measure);

enum { CLI_MEASURE_MAX = 40 };

/* "68.0 °F", "29.5 ft". */
void cli_measure_words(slew_unit_system units, cli_measure measure, int decimals, double si,
                       char text[CLI_MEASURE_MAX]);

/* The figure in SI of one in the unit that the key table has for its measure. */
double cli_measure_si(cli_measure measure, double in_key_unit);

/* What a unit of the key table is as a measure: "m", "mm", "degC", "K", "bar", "N", "N.m";
 * CLI_MEASURES: shown as it is. */
cli_measure cli_measure_of(const char *unit);

/* ---- In one unit ---- */

double cli_inches(double metres);
double cli_psi(double pascals);
double cli_bar(double pascals);
double cli_gpm(double flow);    /* of m3/s to US gallons a minute */
double cli_litres(double flow); /* of m3/s to litres a minute */
double cli_lbf(double newtons);

#endif
