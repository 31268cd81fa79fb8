/* errors.c - see errors.h. */
#include "motion/errors.h"

#include "error/error.h"
#include "keys/fields.h"

#include "slewtime/plant.h"

#include <stdio.h>

const char slew_too_many_pieces[] =
    "the motion comes in more than 10 000 pieces a second: the machine's figures make no machine";
const char slew_fewer_pieces[] = "figures of motor, gear and supply that a real machine could have";
_Static_assert(SLEW_PIECES_MAX == 10000, "the message names it");

/* what a scenario that was not read and checked may lack */
static bool is_controller(const slew_controller_settings *c)
{
    return c->sample >= 0 && c->latency >= 0 && c->clock >= 0 && c->pause >= 0 &&
           c->move_limit > 0 && c->stall_current > 0 && c->stall_dwell >= 0 &&
           c->stall_blank >= 0 && !isnan(c->brownout_voltage) && c->brownout_dwell >= 0 &&
           isfinite(c->sample + c->latency + c->clock + c->pause + c->move_limit + c->stall_dwell +
                    c->stall_blank + c->brownout_dwell);
}

slew_status slew_check_setup(const slew_setup *setup, slew_error *error)
{
    if (!is_controller(&setup->controller))
        return slew_error_set(error, SLEW_ERROR_INPUT, "controller",
                              "a time, current or voltage of the controller is no number that "
                              "it can work with",
                              "every key within its range");
    static const char *const keys[SLEW_AXES] = {"rotation.start", "elevation.start"};
    for (int j = 0; j < SLEW_AXES; j++) {
        const slew_axis_setup *axis = &setup->axis[j];
        if (!(axis->start >= axis->stops.low && axis->start <= axis->stops.high))
            return slew_error_set(error, SLEW_ERROR_INPUT, keys[j],
                                  "the start lies beyond a hard stop",
                                  "an angle between the stops of its axis");
    }
    return SLEW_OK;
}

/* the uppermost layer of an occasion that holds the key */
static slew_layer_id layer_of(const slew_scenario *s, slew_occasion occasion, int key)
{
    int count;
    const slew_layer_id *layers = slew_occasion_layers(occasion, &count);
    while (count > 0)
        if (slew_layer_holds(slew_layer_at(s, layers[--count]), key))
            return layers[count];
    return SLEW_LAYER_FILE;
}

slew_status slew_blame_occasion(slew_error *error, slew_status status,
                                const slew_scenario *scenario, slew_occasion occasion)
{
    static const char *const when[] = {"while teaching", "today", "on deploy day"};
    if (error && (unsigned)occasion < sizeof when / sizeof *when) {
        char message[sizeof error->message];
        snprintf(message, sizeof message, "%s", error->message);
        snprintf(error->message, sizeof error->message, "%s: %.250s", when[occasion], message);
        error->layer = (int)layer_of(scenario, occasion, slew_key_find(error->key));
    }
    return status;
}
