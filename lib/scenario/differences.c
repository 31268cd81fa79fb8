/* differences.c - see differences.h. */
#include "slewtime/differences.h"

#include <string.h>

#include "keys/fields.h"

enum { OCCASIONS = 3, TEXT_MAX = 96 };
enum { TAUGHT = SLEW_OCCASION_TEACH, STOWED = SLEW_OCCASION_STOW, DEPLOYED = SLEW_OCCASION_DEPLOY };

/* the layer on top of each occasion */
static const slew_layer_id TOP[OCCASIONS] = {SLEW_LAYER_TEACH, SLEW_LAYER_TODAY,
                                             SLEW_LAYER_DEPLOY_DAY};

static slew_occasion occasion_of(slew_layer_id layer)
{
    return layer == SLEW_LAYER_TEACH   ? SLEW_OCCASION_TEACH
           : layer == SLEW_LAYER_TODAY ? SLEW_OCCASION_STOW
                                       : SLEW_OCCASION_DEPLOY;
}

static int print_on(const slew_scenario *scenario, slew_occasion occasion, int key, char *text,
                    size_t size)
{
    slew_setup setup;
    slew_scenario_resolve(scenario, occasion, &setup);
    return slew_key_print(scenario, &setup, key, text, size);
}

/* ---- one key ---- */

typedef struct variety {
    bool differs[OCCASIONS]; /* between the scenarios, on that occasion */
    bool stow_is_other;      /* than teach, in some scenario */
    bool deploy_is_other;    /* than stow, in some scenario */
} variety;

static bool is_compared(const slew_key *key)
{
    return key->kind == SLEW_KEY_NUMBER || key->kind == SLEW_KEY_YES_NO ||
           key->kind == SLEW_KEY_CHOICE;
}

static variety look_at(const slew_scenario *const *scenarios, int count, int key)
{
    variety found = {0};
    char first[OCCASIONS][TEXT_MAX], text[OCCASIONS][TEXT_MAX];
    for (int i = 0; i < count; i++) {
        for (int k = 0; k < OCCASIONS; k++) {
            print_on(scenarios[i], (slew_occasion)k, key, text[k], TEXT_MAX);
            if (i == 0)
                memcpy(first[k], text[k], TEXT_MAX);
            found.differs[k] |= strcmp(text[k], first[k]) != 0;
        }
        found.stow_is_other |= strcmp(text[STOWED], text[TAUGHT]) != 0;
        found.deploy_is_other |= strcmp(text[DEPLOYED], text[STOWED]) != 0;
    }
    return found;
}

/* the layers to tell, into `layer`; returns how many */
static int layers_of(const variety *found, slew_layer_id layer[OCCASIONS])
{
    int count = 0;
    if (!found->stow_is_other && !found->deploy_is_other) {
        layer[0] = SLEW_LAYER_FILE;
        return found->differs[TAUGHT] ? 1 : 0;
    }
    for (int k = 0; k < OCCASIONS; k++)
        if (found->differs[k] && (k != DEPLOYED || found->deploy_is_other))
            layer[count++] = TOP[k];
    return count;
}

/* ---- all of them ---- */

int slew_differences(const slew_scenario *const *scenarios, int count, slew_difference *list,
                     int room)
{
    int found = 0;
    for (int key = 0; key < slew_key_count(); key++) {
        if (!is_compared(slew_key_at(key)))
            continue;
        slew_layer_id layer[OCCASIONS];
        variety values = look_at(scenarios, count, key);
        int layers = layers_of(&values, layer);
        for (int k = 0; k < layers; k++, found++)
            if (found < room)
                list[found] = (slew_difference){key, layer[k]};
    }
    return found;
}

int slew_difference_format(const slew_scenario *scenario, slew_difference difference, char *text,
                           size_t size)
{
    return print_on(scenario, occasion_of(difference.layer), difference.key, text, size);
}
