#include "slewtime/physics.h"

static const double SHEET_TEMPERATURE = SLEW_ZERO_CELSIUS + 25.0; /* [K] */

/* M2.1 */
slew_motor slew_motor_from_sheet(double rated_voltage, double no_load_speed, double no_load_current,
                                 double stall_current, double viscous_share)
{
    const double resistance = rated_voltage / stall_current;
    const double constant = (rated_voltage - resistance * no_load_current) / no_load_speed;
    const double drag = constant * no_load_current;

    return (slew_motor){
        .resistance = resistance,
        .constant = constant,
        .viscous = viscous_share * drag / no_load_speed,
        .coulomb = (1.0 - viscous_share) * drag,
    };
}

/* M2.2 */
double slew_winding_factor(double temperature, double rise)
{
    const double above = temperature - SLEW_ZERO_CELSIUS + 235.0; /* [K] */
    return (above + rise) / above;
}

/* M2.2 */
slew_motor slew_motor_at(slew_motor motor, slew_motor_warmth warmth, double drag_factor)
{
    const double surroundings =
        slew_copper_factor(warmth.temperature) / slew_copper_factor(SHEET_TEMPERATURE);
    const double copper = surroundings * slew_winding_factor(warmth.temperature, warmth.winding);
    const double magnets = warmth.temperature + warmth.magnets;
    const double magnet = 1.0 + warmth.coefficient * (magnets - SHEET_TEMPERATURE);

    return (slew_motor){
        .resistance = motor.resistance * copper,
        .constant = motor.constant * magnet,
        .viscous = motor.viscous * drag_factor,
        .coulomb = motor.coulomb,
    };
}
