#include "slewtime/physics.h"

#include <math.h>

static const double PI = 3.14159265358979323846;
static const double GAUGE_36_DIAMETER = 0.127e-3; /* [m] */
static const double STEPS_36_TO_0000 = 39.0;      /* gauge numbers between 0.005 in and 0.46 in */
static const double DIAMETER_RATIO = 92.0;        /* 0.46 in / 0.005 in */
static const double REFERENCE_TEMPERATURE = SLEW_ZERO_CELSIUS + 20.0; /* [K] */

/* M1.1 */
double slew_awg_diameter(double number)
{
    return GAUGE_36_DIAMETER * pow(DIAMETER_RATIO, (36.0 - number) / STEPS_36_TO_0000);
}

double slew_awg_area(double number)
{
    const double radius = slew_awg_diameter(number) / 2.0;
    return PI * radius * radius;
}

/* M1.2 */
double slew_copper_factor(double temperature)
{
    return 1.0 + SLEW_COPPER_COEFFICIENT * (temperature - REFERENCE_TEMPERATURE);
}

/* M1.3 */
double slew_conductor_resistance(double area, double stranding)
{
    return SLEW_COPPER_RESISTIVITY * (1.0 + stranding) / area;
}
