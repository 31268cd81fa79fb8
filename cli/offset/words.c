/* words.c - small answers of `slewtime offset` in words, and why the best choice is the best. */
#include <inttypes.h>

#include "answer.h"
#include "tell/append.h"
#include "tell/units.h"

enum { ROOM = CLI_OFFSET_TEXT_MAX };

const double cli_offset_least_total = 0.01;

/* angles are told to 0.01 deg: an axis that varies by less does not */
static const double told_angle = 0.005;

/* ---- small answers ---- */

void cli_offset_add_seconds(char text[ROOM], const double seconds[SLEW_AXES])
{
    cli_append(text, ROOM, "rotation %+.2f s, elevation %+.2f s", seconds[SLEW_ROTATION],
               seconds[SLEW_ELEVATION]);
}

const char *cli_offset_of_word(const slew_dimension *drawn)
{
    static const char *const words[] = {
        [SLEW_OF_TRUCK] = "truck", [SLEW_OF_DAY] = "day", [SLEW_OF_DEPLOY_DAY] = "deploy day"};
    return words[drawn->of];
}

bool cli_offset_varies(const cli_offset *a, int axis)
{
    return a->no_drivers == NULL && cli_degrees(a->drivers.deviation[axis]) >= told_angle;
}

int cli_offset_told_drivers(const slew_drivers *d, int axis)
{
    int told = 0;
    while (told < d->count &&
           d->driver[d->order[axis][told]].total[axis].value >= cli_offset_least_total)
        told++;
    return told;
}

double cli_offset_bounded(const cli_offset *a)
{
    int64_t ran = a->offset.samples - a->offset.refused;
    return a->sampling.points == SLEW_PSEUDO_RANDOM && ran > 1 ? slew_wilks_coverage(ran, 2, 0.95)
                                                               : NAN;
}
