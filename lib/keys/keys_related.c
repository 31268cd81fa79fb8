/*
 * keys_related.c - which axis a key belongs to, what a machine makes of it, and which keys take
 * each other's place.
 */
#include "keys/keys.h"

bool slew_key_is_size(int index)
{
    slew_effect effect = slew_key_row_at(index)->effect;
    return effect == SLEW_EFFECT_GAUGE || effect == SLEW_EFFECT_AREA ||
           effect == SLEW_EFFECT_PER_LENGTH;
}

int slew_key_axis(int index)
{
    size_t offset = slew_key_row_at(index)->offset, first = offsetof(slew_scenario, setup.axis);
    bool is_one = offset >= first && offset < first + sizeof(((slew_scenario *)NULL)->setup.axis);
    return is_one ? (int)((offset - first) / sizeof(slew_axis_setup)) : SLEW_NO_AXIS;
}

static bool is_window_of(int window, int magnet)
{
    return slew_key_row_at(window)->effect == SLEW_EFFECT_WINDOW &&
           slew_key_row_at(magnet)->effect == SLEW_EFFECT_MAGNET &&
           slew_key_axis(window) == slew_key_axis(magnet);
}

bool slew_key_excludes(int index, int other)
{
    if (index == other)
        return false;
    return (slew_key_is_size(index) && slew_key_is_size(other)) || is_window_of(index, other) ||
           is_window_of(other, index);
}

slew_key_use slew_key_used(int index)
{
    if (slew_key_at(index) == NULL)
        return SLEW_USE_NONE;
    const slew_key_row *row = slew_key_row_at(index);
    bool follows = row->effect == SLEW_EFFECT_MAGNET || (!row->key.layered && !row->use);
    return follows ? SLEW_USE_NONE : row->use;
}
