/* margin_change.c - see margin_change.h. */
#include "study/margin/margin_change.h"

#define WORDS(name, words) words,
const char *slew_margin_change_words(slew_margin_change change)
{
    static const char *const words[] = {SLEW_MARGIN_CHANGES(WORDS)};
    return change >= 0 && change < SLEW_MARGIN_CHANGE_COUNT ? words[change] : "?";
}
#undef WORDS

static bool set_layer(slew_scenario *s, slew_layer_id id, const slew_layer *layer, int key,
                      double value)
{
    for (int i = 0; i < layer->count; i++)
        if (layer->item[i].key == key)
            return slew_scenario_set_number(s, id, key, value) == SLEW_OK;
    return true;
}

/* in the file, and in each layer that says it too */
static bool set_everywhere(slew_scenario *s, const char *path, double value)
{
    int key = slew_key_find(path);
    return slew_scenario_set_number(s, SLEW_LAYER_FILE, key, value) == SLEW_OK &&
           set_layer(s, SLEW_LAYER_TEACH, &s->teach, key, value) &&
           set_layer(s, SLEW_LAYER_TODAY, &s->today, key, value);
}

static bool set_approach(slew_scenario *s, int axis, slew_approach approach)
{
    return set_everywhere(s, axis == SLEW_ROTATION ? "rotation.approach" : "elevation.approach",
                          approach);
}

static bool set_taught_voltage(slew_scenario *s, double voltage)
{
    return slew_scenario_set_number(s, SLEW_LAYER_TEACH, slew_key_find("supply.main.voltage"),
                                    voltage) == SLEW_OK;
}

bool slew_margin_apply(slew_scenario *s, slew_margin_change change, int axis)
{
    slew_setup taught, today;
    slew_scenario_resolve(s, SLEW_OCCASION_TEACH, &taught);
    slew_scenario_resolve(s, SLEW_OCCASION_STOW, &today);
    slew_approach now = today.axis[axis].approach;
    switch (change) {
    case SLEW_MARGIN_STOP:
        return set_everywhere(s, "controller.stop",
                              today.controller.stop == SLEW_BRAKE ? SLEW_COAST : SLEW_BRAKE);
    case SLEW_MARGIN_EITHER:
        return now != SLEW_APPROACH_EITHER && set_approach(s, axis, SLEW_APPROACH_EITHER);
    case SLEW_MARGIN_RISING:
        return now != SLEW_APPROACH_RISING && set_approach(s, axis, SLEW_APPROACH_RISING);
    case SLEW_MARGIN_FALLING:
        return now != SLEW_APPROACH_FALLING && set_approach(s, axis, SLEW_APPROACH_FALLING);
    case SLEW_MARGIN_TAUGHT_LOWER:
        return set_taught_voltage(s, taught.supply.main.voltage - 0.5);
    case SLEW_MARGIN_TAUGHT_HIGHER:
        return set_taught_voltage(s, taught.supply.main.voltage + 0.5);
    default:
        return true;
    }
}
