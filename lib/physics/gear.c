#include "slewtime/physics.h"

#include <math.h>

/* M3.1 */
double slew_backward_efficiency(double forward)
{
    return 2.0 - 1.0 / forward;
}

/* M3.2 */
double slew_gear_torque(double torque, double forward, double backward)
{
    return torque >= 0.0 ? torque / forward : backward * torque;
}

/* M3.8 */
/* the share by which losses are more than at 25 degC */
static double more_loss(double coefficient, double temperature)
{
    return coefficient * (temperature - (SLEW_ZERO_CELSIUS + 25.0));
}

/* M3.9: 1/eta - 1 grows by that share; written so that none leaves every digit */
double slew_forward_efficiency_at(double forward, double coefficient, double temperature)
{
    return forward / (1.0 + (1.0 - forward) * more_loss(coefficient, temperature));
}

/* M3.9 */
double slew_backward_efficiency_at(double backward, double coefficient, double temperature)
{
    return backward - (1.0 - backward) * more_loss(coefficient, temperature);
}

double slew_worm_forward_efficiency(double lead_angle, double pressure_angle, double friction)
{
    const double normal = cos(pressure_angle);
    const double slope = tan(lead_angle);
    return (normal - friction * slope) / (normal + friction / slope);
}

double slew_worm_backward_efficiency(double lead_angle, double pressure_angle, double friction)
{
    const double normal = cos(pressure_angle);
    const double slope = tan(lead_angle);
    return (normal - friction / slope) / (normal + friction * slope);
}
