/* units.c - see units.h. */
#include "units.h"

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
