/* stop.c - whether an axis rests on a hard stop. */
#include "slewtime/run.h"

static const double touch = 1e-9; /* a place is exact to this [rad] */

int slew_stop_under(const slew_setup *setup, int axis, double angle)
{
    const slew_range *stops = &setup->axis[axis].stops;
    if (angle <= stops->low + touch)
        return -1;
    return angle >= stops->high - touch ? 1 : 0;
}
