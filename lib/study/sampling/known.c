/* known.c - what of a day is known, and what is left to draw. */
#include "study/sampling/known.h"

#include "keys/keys.h"

/* the key itself, or one whose place it takes: a conductor has one size */
static bool says(const slew_layer *layer, int key)
{
    for (int i = 0; i < layer->count; i++)
        if (layer->item[i].key == key || slew_key_excludes(layer->item[i].key, key))
            return true;
    return false;
}

bool slew_is_known(const slew_scenario *s, slew_occasion occasion, int key)
{
    if (occasion == SLEW_OCCASION_STOW)
        return says(&s->today, key);
    return occasion == SLEW_OCCASION_DEPLOY &&
           (says(&s->deploy_day, key) || (s->deploy.same_day && says(&s->today, key)));
}

slew_spread slew_day_left(const slew_scenario *s, slew_occasion occasion)
{
    slew_spread left = {0};
    for (int i = 0; i < s->day.count; i++)
        if (!slew_is_known(s, occasion, s->day.item[i].key))
            left.item[left.count++] = s->day.item[i];
    return left;
}
