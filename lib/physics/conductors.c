/* conductors.c - the sizes in which conductors are sold, and their resistance. */
#include "slewtime/physics.h"

#include <math.h>

#define COUNT(array) ((int)(sizeof(array) / sizeof *(array)))

static const double MM2 = 1e-6;        /* [m2] */
static const double OHM_PER_KM = 1e-3; /* [ohm/m] */

/* even gauges down to 2, then every one; -3 is 4/0 */
static const double gauges[] = {18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 0, -1, -2, -3};

/* IEC 60228: nominal area [mm2], and the largest resistance of one plain copper conductor at
 * 20 degC [ohm/km]; the last two rows from memory. M1.7 */
static const struct {
    double area, class_2, class_5;
} sizes[] = {
    {1, 18.1, 19.5},     {1.5, 12.1, 13.3},  {2.5, 7.41, 7.98},  {4, 4.61, 4.95},
    {6, 3.08, 3.30},     {10, 1.83, 1.91},   {16, 1.15, 1.21},   {25, 0.727, 0.780},
    {35, 0.524, 0.554},  {50, 0.387, 0.386}, {70, 0.268, 0.272}, {95, 0.193, 0.206},
    {120, 0.153, 0.161},
};

_Static_assert(sizeof gauges / sizeof *gauges <= SLEW_LADDER_MAX, "room for every gauge");
_Static_assert(sizeof sizes / sizeof *sizes <= SLEW_LADDER_MAX, "room for every size");

int slew_ladder_count(slew_ladder ladder)
{
    if ((unsigned)ladder >= SLEW_LADDERS)
        return 0;
    return ladder == SLEW_LADDER_AWG ? COUNT(gauges) : COUNT(sizes);
}

double slew_ladder_size(slew_ladder ladder, int index)
{
    if (index < 0 || index >= slew_ladder_count(ladder))
        return NAN;
    return ladder == SLEW_LADDER_AWG ? gauges[index] : sizes[index].area * MM2;
}

double slew_ladder_resistance(slew_ladder ladder, int index, double stranding)
{
    if (index < 0 || index >= slew_ladder_count(ladder))
        return NAN;
    switch (ladder) {
    case SLEW_LADDER_AWG:
        return slew_conductor_resistance(slew_awg_area(gauges[index]), stranding);
    case SLEW_LADDER_CLASS_2:
        return sizes[index].class_2 * OHM_PER_KM;
    default:
        return sizes[index].class_5 * OHM_PER_KM;
    }
}

int slew_ladder_thinnest(slew_ladder ladder, double stranding, double most)
{
    for (int i = 0; i < slew_ladder_count(ladder); i++)
        if (slew_ladder_resistance(ladder, i, stranding) <= most)
            return i;
    return -1;
}
