/* units.c - see units.h. */
#include "units.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "slewtime/physics.h"

static const double PI = 3.14159265358979323846;

double cli_degrees(double radians)
{
    return radians * 180 / PI + 0.0; /* + 0.0: no minus zero */
}

double cli_percent(double share)
{
    return 100 * share;
}

double cli_celsius(double kelvin)
{
    return kelvin - SLEW_ZERO_CELSIUS;
}

double cli_milliohms(double ohms)
{
    return 1000 * ohms;
}

double cli_inches(double metres)
{
    return metres / SLEW_INCH;
}

double cli_psi(double pascals)
{
    return pascals / SLEW_PSI;
}

double cli_bar(double pascals)
{
    return pascals / 1e5;
}

double cli_gpm(double flow)
{
    return flow * 60 / SLEW_US_GALLON;
}

double cli_litres(double flow)
{
    return flow * 60e3;
}

double cli_lbf(double newtons)
{
    return newtons / SLEW_POUND_FORCE;
}

/* ---- in the units that are asked for ---- */

/* shown = offset + si / size */
typedef struct scale {
    const char *name;
    double size, offset;
} scale;

static const scale scales[][CLI_MEASURES] = {
    [SLEW_UNITS_US] = {[CLI_MEASURE_LENGTH] = {"ft", 12 * SLEW_INCH, 0},
                       [CLI_MEASURE_SMALL_LENGTH] = {"in", SLEW_INCH, 0},
                       [CLI_MEASURE_TEMPERATURE] = {"°F", 5. / 9, -459.67},
                       [CLI_MEASURE_TEMPERATURE_STEP] = {"°F", 5. / 9, 0},
                       [CLI_MEASURE_PRESSURE] = {"psi", SLEW_PSI, 0},
                       [CLI_MEASURE_FORCE] = {"lbf", SLEW_POUND_FORCE, 0},
                       [CLI_MEASURE_TORQUE] = {"lbf-ft", SLEW_POUND_FORCE * 12 * SLEW_INCH, 0},
                       [CLI_MEASURE_FLOW] = {"gpm", SLEW_US_GALLON / 60, 0}},
    [SLEW_UNITS_SI] = {[CLI_MEASURE_LENGTH] = {"m", 1, 0},
                       [CLI_MEASURE_SMALL_LENGTH] = {"mm", 1e-3, 0},
                       [CLI_MEASURE_TEMPERATURE] = {"°C", 1, -SLEW_ZERO_CELSIUS},
                       [CLI_MEASURE_TEMPERATURE_STEP] = {"°C", 1, 0},
                       [CLI_MEASURE_PRESSURE] = {"bar", 1e5, 0},
                       [CLI_MEASURE_FORCE] = {"N", 1, 0},
                       [CLI_MEASURE_TORQUE] = {"N m", 1, 0},
                       [CLI_MEASURE_FLOW] = {"L/min", 1e-3 / 60, 0}}};

double cli_measured(slew_unit_system units, cli_measure measure, double si)
{
    const scale *u = &scales[units][measure];
    return si / u->size + u->offset + 0.0;
}

const char *cli_measure_unit(slew_unit_system units, cli_measure measure)
{
    return scales[units][measure].name;
}

void cli_measure_words(slew_unit_system units, cli_measure measure, int decimals, double si,
                       char text[CLI_MEASURE_MAX])
{
    double value = cli_measured(units, measure, si), ten = pow(10, decimals);
    snprintf(text, CLI_MEASURE_MAX, "%.*f %s", decimals, round(value * ten) / ten + 0.0,
             cli_measure_unit(units, measure));
}

double cli_measure_si(cli_measure measure, double in_key_unit)
{
    /* the table has SI but for flows */
    const scale *u = &scales[measure == CLI_MEASURE_FLOW ? SLEW_UNITS_US : SLEW_UNITS_SI][measure];
    return (in_key_unit - u->offset) * u->size;
}

cli_measure cli_measure_of(const char *unit)
{
    static const char *const names[CLI_MEASURES] = {
        [CLI_MEASURE_LENGTH] = "m",           [CLI_MEASURE_SMALL_LENGTH] = "mm",
        [CLI_MEASURE_TEMPERATURE] = "degC",   [CLI_MEASURE_PRESSURE] = "bar",
        [CLI_MEASURE_TEMPERATURE_STEP] = "K", [CLI_MEASURE_FORCE] = "N",
        [CLI_MEASURE_TORQUE] = "N.m",         [CLI_MEASURE_FLOW] = "gpm"};
    int measure = 0;
    while (measure < CLI_MEASURES && strcmp(unit, names[measure]) != 0)
        measure++;
    return (cli_measure)measure;
}
