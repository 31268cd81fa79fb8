#include "slewtime/physics.h"

#include <math.h>

static const double PI = 3.14159265358979323846;

/* the trade's constants, for lbf, in, psi and US gallons a minute */
static const double TRADE_BORE = 1.57;
static const double TRADE_SPRAY = 0.0505;
static const double TRADE_FLOW = 29.7;
static const double US_GALLON_PER_MINUTE = SLEW_US_GALLON / 60.0; /* [m3/s] */

static double bore_area(double tip)
{
    return PI / 4.0 * tip * tip;
}

/* speed [m/s] of a free jet of water, M4.2 */
static double jet_speed(double pressure)
{
    return sqrt(2.0 * pressure / SLEW_WATER_DENSITY);
}

/* M4.1 */
double slew_bore_reaction(double tip, double pressure, double coefficient)
{
    return 2.0 * coefficient * coefficient * bore_area(tip) * pressure;
}

double slew_bore_flow(double tip, double pressure, double coefficient)
{
    return coefficient * bore_area(tip) * jet_speed(pressure);
}

/* M4.3: Q sqrt(2 rho p) = rho Q v */
double slew_spray_reaction(double flow, double pressure, double coefficient)
{
    return coefficient * SLEW_WATER_DENSITY * flow * jet_speed(pressure);
}

/* M4.4 */
double slew_bore_reaction_trade(double tip, double pressure)
{
    const double inches = tip / SLEW_INCH;
    return TRADE_BORE * inches * inches * (pressure / SLEW_PSI) * SLEW_POUND_FORCE;
}

/* M4.5 */
double slew_spray_reaction_trade(double flow, double pressure)
{
    const double gallons = flow / US_GALLON_PER_MINUTE;
    return TRADE_SPRAY * gallons * sqrt(pressure / SLEW_PSI) * SLEW_POUND_FORCE;
}

/* M4.6 */
double slew_bore_flow_trade(double tip, double pressure)
{
    const double inches = tip / SLEW_INCH;
    return TRADE_FLOW * inches * inches * sqrt(pressure / SLEW_PSI) * US_GALLON_PER_MINUTE;
}
