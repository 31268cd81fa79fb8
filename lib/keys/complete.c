/* complete.c - a motor's constants where its data sheet gives other figures. */
#include "slewtime/scenario.h"

static slew_motor_data data_of(const slew_scenario *s, int axis)
{
    const slew_axis_setup *a = &s->setup.axis[axis];
    slew_motor_data data = {a->motor.rated_voltage,
                            a->motor.viscous_share,
                            a->gear.ratio,
                            {a->motor.no_load_speed, a->motor.no_load_current,
                             a->motor.stall_current, a->gear.efficiency}};
    for (int i = SLEW_MOTOR_RESISTANCE; i < SLEW_MOTOR_FIGURES; i++)
        data.figure[i] = s->sheet[axis][i];
    return data;
}

static void put_if_not_given(double *place, double value)
{
    if (isnan(*place))
        *place = value;
}

slew_motor_found slew_scenario_complete_motor(slew_scenario *scenario, int axis)
{
    if (scenario == NULL || axis < 0 || axis >= SLEW_AXES)
        return slew_motor_from_data(NULL);
    slew_motor_sheet *motor = &scenario->setup.axis[axis].motor;
    slew_motor_data data = data_of(scenario, axis);
    slew_motor_found found = slew_motor_from_data(&data);
    if (found.state != SLEW_MOTOR_FOUND)
        return found;
    put_if_not_given(&motor->no_load_speed, found.no_load_speed);
    put_if_not_given(&motor->no_load_current, found.no_load_current);
    put_if_not_given(&motor->stall_current, found.stall_current);
    put_if_not_given(&scenario->setup.axis[axis].gear.efficiency, found.efficiency);
    slew_motor constants =
        slew_motor_from_sheet(motor->rated_voltage, motor->no_load_speed, motor->no_load_current,
                              motor->stall_current, motor->viscous_share);
    put_if_not_given(&motor->inertia, slew_motor_typical_inertia(constants));
    return found;
}
