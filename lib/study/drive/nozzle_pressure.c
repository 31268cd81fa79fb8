/* nozzle_pressure.c - a nozzle at another pressure. */
#include "slewtime/drive.h"

bool slew_nozzle_is_known(const slew_nozzle *nozzle)
{
    if (nozzle == NULL)
        return false;
    double size = nozzle->kind == SLEW_SMOOTH_BORE ? nozzle->tip : nozzle->flow;
    return nozzle->pressure > 0 && size > 0;
}

slew_nozzle slew_nozzle_at(slew_nozzle nozzle, double pressure)
{
    nozzle.flowing = pressure > 0;
    if (nozzle.flowing) {
        nozzle.flow *= sqrt(pressure / nozzle.pressure);
        nozzle.pressure = pressure;
    }
    return nozzle;
}
