/* known.c - what of a day is known, and what is left to draw. */
#include "study/sampling/known.h"

#include <string.h>

#include "keys/fields.h"
#include "keys/keys.h"
#include "scenario/variation.h"

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
    if (s == NULL)
        return false;
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

/* of a conductor given by another size there is no value to go by */
slew_spread slew_day_known(const slew_scenario *s, slew_occasion occasion)
{
    slew_spread known = {0};
    bool deploys = occasion == SLEW_OCCASION_DEPLOY;
    for (int i = 0; i < s->day.count; i++) {
        int key = s->day.item[i].key;
        bool said = (deploys && slew_layer_holds(&s->deploy_day, key)) ||
                    ((!deploys || s->deploy.same_day) && slew_layer_holds(&s->today, key));
        if (said && slew_is_known(s, occasion, key))
            known.item[known.count++] = s->day.item[i];
    }
    return known;
}

/* the independent scores of the known keys: factor's upper left part times them is their score */
static void known_scores(const slew_scenario *s, const slew_spread *known, const slew_setup *setup,
                         const double *factor, int size, double *independent)
{
    for (int i = 0; i < known->count; i++) {
        const slew_variation *v = &known->item[i];
        double rest = slew_variation_score(v, slew_field_get(s, setup, v->key));
        for (int k = 0; k < i; k++)
            rest -= factor[i * size + k] * independent[k];
        independent[i] = rest / factor[i * size + i];
    }
}

bool slew_drawn_together(const slew_scenario *s, const slew_spread *known, const slew_setup *setup,
                         slew_drawn *drawn)
{
    slew_spread all = *known; /* the known ones first: what follows is conditioned on them */
    double factor[SLEW_FACTOR_MAX], independent[SLEW_VARIATIONS_MAX];
    for (int i = 0; i < drawn->spread.count; i++)
        all.item[all.count++] = drawn->spread.item[i];
    if (!slew_correlation_factor(&all, &s->correlation, factor))
        return false;
    int count = drawn->spread.count, size = all.count;
    known_scores(s, known, setup, factor, size, independent);
    for (int i = 0; i < count; i++) {
        const double *row = factor + (known->count + i) * size;
        drawn->lead[i] = 0;
        for (int k = 0; k < known->count; k++)
            drawn->lead[i] += row[k] * independent[k];
        memcpy(drawn->factor + i * count, row + known->count, (size_t)count * sizeof *row);
    }
    return true;
}
