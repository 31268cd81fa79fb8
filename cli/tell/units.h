/* units.h - SI to the units that people use, for the screen. */
#ifndef SLEW_CLI_TELL_UNITS_H
#define SLEW_CLI_TELL_UNITS_H

/* Never minus zero, NaN where the angle is NaN. */
double cli_degrees(double radians);
double cli_percent(double share);
double cli_celsius(double kelvin);
double cli_milliohms(double ohms);

double cli_inches(double metres);
double cli_psi(double pascals);
double cli_bar(double pascals);
double cli_gpm(double flow);    /* of m3/s to US gallons a minute */
double cli_litres(double flow); /* of m3/s to litres a minute */
double cli_lbf(double newtons);

#endif
