/* no_magnet.c - a page gets the windows of its sensors as angles, worked out by the tool. */
#include "motion/home.h"
#include "slewtime/plant.h"

slew_sight slew_home_resolve(slew_home *home)
{
    (void)home;
    return SLEW_SIGHT_GIVEN;
}

bool slew_magnet_is_whole(const slew_magnet *magnet)
{
    (void)magnet;
    return true;
}
