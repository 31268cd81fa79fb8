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

/* ---- why the best is the best ---- */

static void add_lead(const cli_offset *a, const slew_offset_choice *other, char *text)
{
    const slew_share *lead = &a->offset.lead;
    cli_append(text, ROOM,
               "is inside in %.2f %%, which is %.2f points less (95 %% interval %.2f to %.2f): "
               "%" PRId64 " samples %s.",
               cli_percent(other->inside.value), cli_percent(lead->value), cli_percent(lead->low),
               cli_percent(lead->high), a->offset.samples,
               lead->low > 0 ? "tell the two apart" : "can't tell the two apart");
}

static void add_tie(const cli_offset *a, const slew_offset_choice *other, char *text)
{
    const slew_offset_choice *best = a->best;
    cli_append(text, ROOM, "is inside as often; ");
    switch (slew_offset_decides(a->scenario, best, other)) {
    case SLEW_MERIT_FAULT:
        cli_append(text, ROOM, "the best one faults less often (%.2f against %.2f %%).",
                   cli_percent(best->fault.value), cli_percent(other->fault.value));
        break;
    case SLEW_MERIT_KEEPOUT:
        cli_append(text, ROOM,
                   "the best one enters a keep-out box less often (%.2f against %.2f %%).",
                   cli_percent(best->keepout.value), cli_percent(other->keepout.value));
        break;
    case SLEW_MERIT_MEDIANS:
        cli_append(text, ROOM, "the medians of the best one are nearer to the target.");
        break;
    default:
        cli_append(text, ROOM, "nothing tells the two apart, the first is taken.");
    }
}

void cli_offset_say_why(const cli_offset *a, char text[ROOM])
{
    const slew_offset *o = &a->offset;
    text[0] = '\0';
    if (o->runner_up < 0) {
        cli_append(text, ROOM, "It is the only choice.");
        return;
    }
    const slew_offset_choice *other = &o->choice[o->runner_up];
    cli_append(text, ROOM, "The runner-up, ");
    cli_offset_add_seconds(text, other->seconds);
    cli_append(text, ROOM, ", ");
    if (o->lead.value > 0)
        add_lead(a, other, text);
    else
        add_tie(a, other, text);
}
