/*
 * step.h - one smooth piece of motion in closed form, and the exponential integrator that builds
 * it.
 *
 * Inside one discrete state dw/dt = offset + slope T(angles) - D w with a constant matrix D. Along
 * the step the forcing offset + slope T is represented by a polynomial of degree SLEW_STEP_DEGREE
 * through its values at Chebyshev-Lobatto nodes; with it the linear equation is solved exactly, and
 * the angles that result give new values at the nodes, until they no longer change (M8).
 */
#ifndef SLEW_MOTION_STEP_H
#define SLEW_MOTION_STEP_H

#include "slewtime/plant.h"

enum { SLEW_NODES = SLEW_STEP_DEGREE + 1 };

/* the nodes as shares of the step, 0 and 1 included */
extern const double slew_node[SLEW_NODES];

/* Builds the step that begins at the plant's present state; at least one axis moves. Sets the
 * length of the next one. */
void slew_step_build(const slew_plant_model *model, slew_plant *plant);

/* Speeds [rad/s], angles [rad] and, unless `change` is NULL, dw/dt [rad/s2] `since` seconds after
 * the start of the step. Axes at rest keep their angle. */
void slew_step_at(const slew_step *step, double since, double speed[SLEW_AXES],
                  double angle[SLEW_AXES], double change[SLEW_AXES]);

#endif
