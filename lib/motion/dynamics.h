/*
 * dynamics.h - the equations of motion of one discrete state (which drives are on, which axes move
 * which way, which sources feed, which way the gears carry): linear in the speeds, with the angles
 * only inside the load torque.
 */
#ifndef SLEW_MOTION_DYNAMICS_H
#define SLEW_MOTION_DYNAMICS_H

#include "slewtime/plant.h"

/* Load torques at both outputs at some angles [N m], and their derivatives by the angles. M3.3 */
typedef struct slew_torques {
    double value[SLEW_AXES];
    double gradient[SLEW_AXES][SLEW_AXES]; /* [of][by] */
} slew_torques;

void slew_torques_at(const slew_plant_model *model, const double angle[SLEW_AXES],
                     slew_torques *out);

/* Only the torques. */
void slew_torque_values(const slew_plant_model *model, const double angle[SLEW_AXES],
                        double torque[SLEW_AXES]);

/* true direction in which an axis is driven, 0 when off */
static inline int slew_driven(const slew_plant_model *model, const slew_plant *plant, int axis)
{
    return model->axis[axis].sign < 0 ? -plant->drive[axis] : plant->drive[axis];
}

/* Recomputes electrics and dynamics from the discrete state; picks the supply's regime by the
 * present speeds unless `keep_regime`. */
void slew_dynamics_refresh(const slew_plant_model *model, slew_plant *plant, bool keep_regime);

/* Recomputes the dynamics of one moving axis; the electrics stay as they are. */
void slew_dynamics_refresh_axis(const slew_plant_model *model, slew_plant *plant, int axis);

/* Voltage and drive currents at the given motor speeds. */
static inline double slew_voltage_at(const slew_electrics *electrics, const double speed[SLEW_AXES])
{
    return electrics->voltage_0 + electrics->voltage_1[0] * speed[0] +
           electrics->voltage_1[1] * speed[1];
}

static inline double slew_current_at(const slew_electrics *electrics, int axis,
                                     const double speed[SLEW_AXES])
{
    return electrics->current_0[axis] + electrics->current_1[axis][0] * speed[0] +
           electrics->current_1[axis][1] * speed[1];
}

/* What the gear of an axis asks of its motor, times the ratio, to move a load that opposes the +
 * direction by `torque` and the friction of the output in `direction` [N m]. */
double slew_carried_torque(const slew_plant_axis *axis, int direction, double torque);

/* How much the drive's torque exceeds what the resting axis resists: > 0 starts it in its driven
 * direction (M3.5), or, with `back`, > 0 drags it back. */
double slew_start_margin(const slew_plant_model *model, const slew_plant *plant, int axis,
                         bool back, double torque, double current);

/* How much the load's torque exceeds friction: > 0 moves the resting axis in `direction` (M3.6). */
double slew_slip_margin(const slew_plant_model *model, int axis, int direction, double torque);

#endif
