/* speed_needs.h - the lowest source voltage at which an axis still does this or that. */
#ifndef SLEW_STUDY_SPEED_NEEDS_H
#define SLEW_STUDY_SPEED_NEEDS_H

#include "slewtime/speed.h"

/* One axis with one reaction, at whatever supply voltage. */
typedef struct slew_speed_probe {
    slew_setup setup;
    slew_plant_model model;
    const slew_speed_curve *curve; /* whose axis, direction and places are asked about */
    slew_speed_point at;           /* at the slowest place */
} slew_speed_probe;

/* Sets the supply voltage and asks at the slowest place. false: the controller has no voltage to
 * work with. */
bool slew_speed_probe_set(slew_speed_probe *probe, double voltage);

/* All of them, from 0 to `to`. */
slew_speed_needs slew_speed_find_needs(slew_speed_probe *probe, double to);

#endif
