/* sense.c - the line on which a controller reads a switch. */
#include "slewtime/physics.h"

double slew_divider_voltage(double supply, double series, double shunt)
{
    return supply * shunt / (series + shunt);
}
