#include "slewtime/physics.h"

/* M1.4 */
slew_source slew_source_main(double voltage, double line, double shared_load)
{
    return (slew_source){.voltage = voltage - line * shared_load, .resistance = line};
}

/* M1.5: two sources in parallel are one, by their conductances */
slew_source slew_source_joint(slew_source main, double voltage, double resistance)
{
    const double main_conductance = 1.0 / main.resistance;
    const double auxiliary_conductance = 1.0 / resistance;
    const double conductance = main_conductance + auxiliary_conductance;
    const double current = main.voltage * main_conductance + voltage * auxiliary_conductance;

    return (slew_source){.voltage = current / conductance, .resistance = 1.0 / conductance};
}
