/* differences.c - see differences.h. */
#include "slewtime/differences.h"

#include <stdio.h>
#include <string.h>

#include "error/error.h"
#include "keys/fields.h"
#include "keys/text.h"

enum { OCCASIONS = 3, TEXT_MAX = 96 };
enum { TAUGHT = SLEW_OCCASION_TEACH, STOWED = SLEW_OCCASION_STOW, DEPLOYED = SLEW_OCCASION_DEPLOY };

static const char *const AXIS_WORD[SLEW_AXES] = {"rotation", "elevation"};

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

/* ---- keep-out boxes: those of the same name belong together ---- */

static const slew_keepout_box *find_box(const slew_scenario *scenario, const char *name, int nth)
{
    for (int i = 0; i < scenario->keepout.count; i++)
        if (strcmp(scenario->keepout.box[i].name, name) == 0 && nth-- == 0)
            return &scenario->keepout.box[i];
    return NULL;
}

/* how many boxes before this one have its name */
static int number_of_name(const slew_keepout *keepout, int box)
{
    int nth = 0;
    for (int i = 0; i < box; i++)
        nth += strcmp(keepout->box[i].name, keepout->box[box].name) == 0;
    return nth;
}

static int print_box(const slew_scenario *scenario, slew_difference d, char *text, size_t size)
{
    const slew_keepout_box *box = find_box(scenario, d.box, d.nth);
    if (box == NULL)
        return snprintf(text, size, "%s", "");
    if (isinf(box->axis[d.axis].low))
        return snprintf(text, size, "all");
    return snprintf(text, size, "%.10g to %.10g deg", slew_in_degrees(box->axis[d.axis].low) + 0.0,
                    slew_in_degrees(box->axis[d.axis].high) + 0.0);
}

/* ---- all of them ---- */

typedef struct search {
    const slew_scenario *const *scenarios;
    int count;
    slew_difference *list;
    int room, found;
} search;

static void add(search *s, slew_difference difference)
{
    if (s->found++ < s->room)
        s->list[s->found - 1] = difference;
}

static void compare_key(search *s, int key)
{
    slew_layer_id layer[OCCASIONS];
    variety values = look_at(s->scenarios, s->count, key);
    int layers = layers_of(&values, layer);
    for (int k = 0; k < layers; k++)
        add(s, (slew_difference){.key = key, .layer = layer[k]});
}

static void compare_box(search *s, slew_difference d)
{
    char first[TEXT_MAX], text[TEXT_MAX];
    bool differs = false;
    print_box(s->scenarios[0], d, first, sizeof first);
    for (int i = 1; i < s->count; i++) {
        print_box(s->scenarios[i], d, text, sizeof text);
        differs |= strcmp(text, first) != 0;
    }
    if (differs)
        add(s, d);
}

/* the boxes of a scenario that none before it has */
static void compare_boxes_of(search *s, int index)
{
    const slew_keepout *keepout = &s->scenarios[index]->keepout;
    for (int k = 0; k < keepout->count; k++) {
        slew_difference d = {
            .key = -1, .box = keepout->box[k].name, .nth = number_of_name(keepout, k)};
        bool is_new = true;
        for (int i = 0; i < index; i++)
            is_new &= find_box(s->scenarios[i], d.box, d.nth) == NULL;
        for (d.axis = 0; d.axis < SLEW_AXES && is_new; d.axis++)
            compare_box(s, d);
    }
}

int slew_differences(const slew_scenario *const *scenarios, int count, slew_difference *list,
                     int room)
{
    if (scenarios == NULL || (list == NULL && room > 0))
        return 0;
    search s = {scenarios, count, list, room, 0};
    for (int key = 0; key < slew_key_count(); key++)
        if (is_compared(slew_key_at(key)))
            compare_key(&s, key);
    for (int i = 0; i < count; i++)
        compare_boxes_of(&s, i);
    return s.found;
}

int slew_difference_path(slew_difference d, char *text, size_t size)
{
    if ((text == NULL && size > 0) || d.axis < 0 || d.axis >= SLEW_AXES ||
        (d.box == NULL && slew_key_at(d.key) == NULL))
        return slew_print_nothing(text, size);
    const char *layer = slew_layer_word(d.layer);
    if (d.box != NULL)
        return snprintf(text, size, "keepout.%s (%s)", AXIS_WORD[d.axis], d.box);
    return snprintf(text, size, "%s%s%s", layer, layer[0] != '\0' ? "." : "",
                    slew_key_at(d.key)->path);
}

int slew_difference_format(const slew_scenario *scenario, slew_difference d, char *text,
                           size_t size)
{
    if (scenario == NULL || (text == NULL && size > 0) || d.axis < 0 || d.axis >= SLEW_AXES ||
        (d.box == NULL && slew_key_at(d.key) == NULL))
        return slew_print_nothing(text, size);
    return d.box != NULL ? print_box(scenario, d, text, size)
                         : print_on(scenario, occasion_of(d.layer), d.key, text, size);
}
