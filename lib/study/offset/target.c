/* target.c - see target.h. */
#include "study/offset/target.h"

#include "error/error.h"
#include "slewtime/study.h"

#include <stdio.h>

static const double tiny = 0x1p-53; /* shares of a distribution are drawn from here to 1 - tiny */

/* the least (share tiny) or greatest (1 - tiny) value that the spread draws for the key, or `value`
 * where that is further out */
static double furthest(const slew_scenario *s, const char *path, double value, double share)
{
    const slew_spread *spreads[] = {&s->truck, &s->day};
    int key = slew_key_find(path);
    for (int k = 0; k < 2; k++)
        for (int i = 0; i < spreads[k]->count; i++)
            if (spreads[k]->item[i].key == key &&
                (k == 0 || !slew_is_known(s, SLEW_OCCASION_DEPLOY, key))) {
                double drawn = slew_variation_quantile(&spreads[k]->item[i], share);
                value = share < 0.5 ? fmin(value, drawn) : fmax(value, drawn);
            }
    return value;
}

static slew_status refuse(slew_error *error, int axis, const slew_range *target,
                          const slew_range *stops)
{
    static const char *const keys[SLEW_AXES][2] = {
        {"deploy.target.rotation.low", "deploy.target.rotation.high"},
        {"deploy.target.elevation.low", "deploy.target.elevation.high"}};
    bool above = target->low > stops->high;
    char message[160], expected[120];
    snprintf(message, sizeof message,
             "the target of %.6g to %.6g deg lies beyond the hard stop at %.6g deg: no deploy can "
             "end inside it",
             slew_in_degrees(target->low), slew_in_degrees(target->high),
             slew_in_degrees(above ? stops->high : stops->low));
    snprintf(expected, sizeof expected,
             "a target that reaches into %.6g to %.6g deg, for example "
             "%.6g deg",
             slew_in_degrees(stops->low), slew_in_degrees(stops->high),
             slew_in_degrees((stops->low + stops->high) / 2));
    return slew_error_set(error, SLEW_ERROR_INPUT, keys[axis][above ? 0 : 1], message, expected);
}

slew_status slew_target_check(const slew_scenario *scenario, slew_error *error)
{
    static const char *const stop_keys[SLEW_AXES][2] = {
        {"rotation.stops.low", "rotation.stops.high"},
        {"elevation.stops.low", "elevation.stops.high"}};
    slew_setup setup;
    slew_scenario_resolve(scenario, SLEW_OCCASION_DEPLOY, &setup);
    for (int j = 0; j < SLEW_AXES; j++) {
        const slew_range *target = &scenario->deploy.target[j];
        const slew_range stops = {
            furthest(scenario, stop_keys[j][0], setup.axis[j].stops.low, tiny),
            furthest(scenario, stop_keys[j][1], setup.axis[j].stops.high, 1 - tiny)};
        if (target->low > stops.high || target->high < stops.low)
            return refuse(error, j, target, &stops);
    }
    return SLEW_OK;
}
