/* home.c - what the magnet of a home sensor must have. */
#include "motion/home.h"

#include "error/error.h"

bool slew_magnet_is_whole(const slew_magnet *m)
{
    return m->remanence > 0 && m->diameter > 0 && m->length > 0 && m->radius > 0 && m->gap > 0 &&
           m->operate_flux > 0 && m->release_flux > 0 &&
           isfinite(m->remanence + m->diameter + m->length + m->radius + m->gap + m->operate_flux +
                    m->release_flux);
}

slew_status slew_magnet_check(const slew_magnet *magnet, int axis, slew_error *error)
{
    static const char *const keys[SLEW_AXES][2] = {
        {"rotation.home.magnet", "rotation.home.magnet.release_flux"},
        {"elevation.home.magnet", "elevation.home.magnet.release_flux"}};
    if (magnet->given && !slew_magnet_is_whole(magnet))
        return slew_error_set(error, SLEW_ERROR_INPUT, keys[axis][0],
                              "a figure of the magnet is missing or not above zero",
                              "every figure of the magnet, or operate and release instead");
    if (magnet->given && magnet->release_flux > magnet->operate_flux)
        return slew_error_set(error, SLEW_ERROR_INPUT, keys[axis][1],
                              "the switch would open at more than it closes at",
                              "a flux density not above that of operate_flux");
    return SLEW_OK;
}
