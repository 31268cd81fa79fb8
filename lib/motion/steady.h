/* steady.h - where driven axes settle, by the equations of the run. */
#ifndef SLEW_MOTION_STEADY_H
#define SLEW_MOTION_STEADY_H

#include "slewtime/plant.h"

/* The drives `drive` (commanded: +1, -1, 0 off) are kept on while the load torques at the outputs
 * stay `torque` [N m] (positive against motion in the + direction, friction excluded): speeds,
 * currents and voltage once nothing speeds up or slows down any more. An axis that is driven but
 * can't go on against its load has moving = 0. Time, angles and switches of *out mean nothing.
 * M11.1 */
void slew_steady(const slew_plant_model *model, const int drive[SLEW_AXES],
                 const double torque[SLEW_AXES], slew_plant *out);

/* The same drives just on, or kept from turning: every axis at rest. */
void slew_standing(const slew_plant_model *model, const int drive[SLEW_AXES], slew_plant *out);

#endif
