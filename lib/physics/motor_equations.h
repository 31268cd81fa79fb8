/* motor_equations.h - the figures of a data sheet as equations. M2.8 */
#ifndef SLEW_PHYSICS_MOTOR_EQUATIONS_H
#define SLEW_PHYSICS_MOTOR_EQUATIONS_H

#include "slewtime/physics.h"

/* The unknowns u: logarithms of the no-load speed, the stall current and the gear's efficiency, and
 * the no-load over the stall current. */
enum {
    SLEW_MOTOR_U_SPEED,
    SLEW_MOTOR_U_STALL,
    SLEW_MOTOR_U_IDLE,
    SLEW_MOTOR_U_GEAR,
    SLEW_MOTOR_US
};

/* What the model has above what is given, relative; NaN: the figure says nothing. */
double slew_motor_residual(const slew_motor_data *data, slew_motor_figure figure, double viscous,
                           const double u[SLEW_MOTOR_US]);

/* Its derivatives. */
void slew_motor_slope(const slew_motor_data *data, slew_motor_figure figure,
                      const double u[SLEW_MOTOR_US], double out[SLEW_MOTOR_US]);

/* By how much a given figure is off, whatever share of the losses its sheet counts at standstill.
 * INFINITY: its point lies beyond the no-load speed or the stall current. */
double slew_motor_off_by(const slew_motor_data *data, slew_motor_figure figure,
                         const double u[SLEW_MOTOR_US]);

/* Speed of the rated point of a shaft, at the motor shaft [rad/s]; NaN: not given. */
double slew_motor_rated_speed(const slew_motor_data *data, bool output);

#endif
