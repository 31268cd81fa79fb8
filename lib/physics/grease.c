#include "slewtime/physics.h"

#include <math.h>

static const double WALTHER_SHIFT = 0.7; /* [mm2/s] */
static const double MM2 = 1e-6;          /* [m2] */

/* log10 log10 (nu + 0.7), nu in m2/s outside and mm2/s inside */
static double double_logarithm(double viscosity)
{
    return log10(log10(viscosity / MM2 + WALTHER_SHIFT));
}

/* M2.3 */
slew_viscosity_line slew_viscosity_through(double viscosity_1, double temperature_1,
                                           double viscosity_2, double temperature_2)
{
    const double x_1 = log10(temperature_1);
    const double y_1 = double_logarithm(viscosity_1);
    const double b = (y_1 - double_logarithm(viscosity_2)) / (log10(temperature_2) - x_1);

    return (slew_viscosity_line){.a = y_1 + b * x_1, .b = b};
}

double slew_viscosity_at(slew_viscosity_line line, double temperature)
{
    const double y = line.a - line.b * log10(temperature);
    return (pow(10.0, pow(10.0, y)) - WALTHER_SHIFT) * MM2;
}

/* M2.4 */
double slew_drag_factor(double viscosity_ratio)
{
    return pow(viscosity_ratio, 2.0 / 3.0);
}
