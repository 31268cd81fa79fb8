/* sound.c - see sound.h. */
#include "keys/sound.h"

#include "error/error.h"

static bool is_count(int count, int most)
{
    return count >= 0 && count <= most;
}

static bool is_layer(const slew_layer *layer)
{
    if (!is_count(layer->count, SLEW_OVERRIDES_MAX))
        return false;
    for (int i = 0; i < layer->count; i++) {
        const slew_key *key = slew_key_at(layer->item[i].key);
        if (key == NULL || !key->layered)
            return false;
    }
    return true;
}

static bool is_spread(const slew_spread *spread)
{
    if (!is_count(spread->count, SLEW_VARIATIONS_MAX))
        return false;
    for (int i = 0; i < spread->count; i++) {
        const slew_variation *v = &spread->item[i];
        int least = v->distribution == SLEW_TABLE ? 1 : 0;
        if (slew_key_at(v->key) == NULL || v->count < least || v->count > SLEW_TABLE_MAX)
            return false;
    }
    return true;
}

static bool are_coefficients(const slew_correlations *all)
{
    for (int i = 0; i < all->count; i++)
        if (!(all->item[i].coefficient > -1 && all->item[i].coefficient < 1))
            return false;
    return true;
}

static bool are_numbers(const double value[SLEW_AXES])
{
    return isfinite(value[SLEW_ROTATION]) && isfinite(value[SLEW_ELEVATION]);
}

static bool are_choices(const slew_deploy *deploy)
{
    return is_count(deploy->choice_count[SLEW_ROTATION], SLEW_CHOICES_MAX) &&
           is_count(deploy->choice_count[SLEW_ELEVATION], SLEW_CHOICES_MAX);
}

/* the key whose counts or indices are wrong; NULL: none */
static const char *what_has_no_shape(const slew_scenario *s)
{
    if (!is_layer(&s->teach))
        return "teach";
    if (!is_layer(&s->today))
        return "today";
    if (!is_layer(&s->deploy_day))
        return "deploy_day";
    if (!is_spread(&s->truck))
        return "spread.truck";
    if (!is_spread(&s->day))
        return "spread.day";
    if (!is_count(s->correlation.count, SLEW_CORRELATIONS_MAX))
        return "spread.correlation";
    if (!is_count(s->keepout.count, SLEW_KEEPOUT_MAX))
        return "keepout";
    return are_choices(&s->deploy) ? NULL : "deploy.choices";
}

/* the key that is no number where it has to be one; NULL: none */
static const char *what_is_no_number(const slew_scenario *s)
{
    if (!are_coefficients(&s->correlation))
        return "spread.correlation";
    if (!(s->stow.lift_first >= 0) || !isfinite(s->stow.lift_first))
        return "stow.lift_first";
    if (s->stow.has_times && !are_numbers(s->stow.times))
        return "stow.times";
    if (s->stow.has_point && !are_numbers(s->stow.point))
        return "stow.point";
    return s->deploy.given && !are_numbers(s->deploy.seconds) ? "deploy.seconds" : NULL;
}

bool slew_has_shape(const slew_scenario *scenario, slew_error *error)
{
    if (scenario == NULL) {
        slew_no_argument(error);
        return false;
    }
    const char *key = what_has_no_shape(scenario);
    if (key != NULL)
        slew_refuse(error, key, "more than its array has, or a key that there is not",
                    "a scenario that was read, or set key by key");
    return key == NULL;
}

bool slew_is_sound(const slew_scenario *scenario, slew_error *error)
{
    if (!slew_has_shape(scenario, error))
        return false;
    const char *key = what_is_no_number(scenario);
    if (key != NULL)
        slew_refuse(error, key, "is no number that can be worked with",
                    "a scenario that was read, or set key by key");
    return key == NULL;
}
