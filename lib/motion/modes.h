/* modes.h - the linear part of the motion taken apart: w = out y, dy/dt = in (forcing) - rate y. */
#ifndef SLEW_MOTION_MODES_H
#define SLEW_MOTION_MODES_H

#include "slewtime/plant.h"

typedef struct slew_modes {
    bool active[SLEW_AXES]; /* mode m belongs to axis m unless coupled */
    bool coupled;           /* both axes move and draw on one supply */
    double rate[SLEW_AXES]; /* [1/s] */
    double in[SLEW_AXES][SLEW_AXES], out[SLEW_AXES][SLEW_AXES];
    double start[SLEW_AXES]; /* y at the start [rad/s] */
} slew_modes;

void slew_modes_find(const slew_plant *plant, slew_modes *modes);

/* One mode's share of a pair of axis values. */
static inline double slew_modes_in(const slew_modes *m, int mode, double axis_0, double axis_1)
{
    if (m->coupled)
        return m->in[mode][0] * axis_0 + m->in[mode][1] * axis_1;
    return mode ? axis_1 : axis_0;
}

#endif
