/* no_magnet.c - in the core a window is as it is given: no magnet makes one. */
#include "motion/home.h"

#include "error/error.h"

slew_status slew_home_settle(slew_home *home, int axis, slew_error *error)
{
    static const char *const keys[SLEW_AXES] = {"rotation.home.magnet", "elevation.home.magnet"};
    if (!home->magnet.given)
        return SLEW_OK;
    return slew_error_set(error, SLEW_ERROR_MAGNET, keys[axis],
                          "the core of the library does not work out a window from a magnet",
                          "operate and release instead, as slewtime window tells them");
}
