/*
 * ref_energy.h - the book of energy of a run: powers integrated along the solver's own dense
 * output, which they do not change.
 */
#ifndef REF_ENERGY_H
#define REF_ENERGY_H

#include "ref_stepper.h"

/* Adds what flows in `span` seconds at the powers of a state. */
void ref_energy_add(ref_balance *balance, const ref_motion *motion, const double y[], double span);

/* Adds what flowed during the stepper's last step. */
void ref_energy_step(ref_balance *balance, ref_stepper *stepper);

/* Potential and kinetic energy of a state [J]. */
double ref_energy_potential(const ref_machine *machine, const double y[]);
double ref_energy_kinetic(const ref_machine *machine, const double y[]);

#endif
