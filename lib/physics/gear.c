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
