/* doubts.c - see doubts.h. */
#include "doubting.h"

#include <stdarg.h>
#include <stdio.h>

#include "keys/fields.h"
#include "keys/sound.h"

/* ---- the list ---- */

static slew_layer_id layer_of(const slew_doubting *d, int key)
{
    int count;
    const slew_layer_id *layers = slew_occasion_layers(d->occasion, &count);
    for (int i = count - 1; i >= 0; i--)
        if (slew_layer_holds(slew_layer_at(d->scenario, layers[i]), key))
            return layers[i];
    return SLEW_LAYER_FILE;
}

static bool is_told(const slew_doubting *d, int key, slew_layer_id layer)
{
    for (int i = 0; i < d->count; i++)
        if (d->list[i].key == key && d->list[i].layer == layer)
            return true;
    return false;
}

void slew_doubt_add(slew_doubting *d, int key, double usual, const char *format, ...)
{
    slew_layer_id layer = layer_of(d, key);
    if (d->count == SLEW_DOUBTS_MAX || is_told(d, key, layer))
        return;
    slew_doubt *doubt = &d->list[d->count++];
    *doubt = (slew_doubt){.key = key, .layer = layer, .usual = usual};
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(doubt->message, sizeof doubt->message, format, arguments);
    va_end(arguments);
}

double slew_doubting_value(const slew_doubting *d, int key)
{
    return slew_field_get(d->scenario, &d->setup, key);
}

int slew_doubting_key(int axis, const char *rest)
{
    char path[SLEW_PATH_MAX];
    snprintf(path, sizeof path, "%s%s", slew_axis_word(axis), rest);
    return slew_key_find(path);
}

/* ---- each occasion ---- */

static bool has_occasion(const slew_scenario *s, slew_occasion occasion)
{
    return occasion == SLEW_OCCASION_TEACH    ? !s->stow.has_times
           : occasion == SLEW_OCCASION_DEPLOY ? s->deploy.given
                                              : true;
}

static void look(slew_doubting *d, void (*at)(slew_doubting *))
{
    for (d->occasion = SLEW_OCCASION_TEACH; d->occasion <= SLEW_OCCASION_DEPLOY; d->occasion++) {
        slew_scenario_resolve(d->scenario, d->occasion, &d->setup);
        if (has_occasion(d->scenario, d->occasion))
            at(d);
    }
}

static int find_all(const slew_scenario *scenario, slew_doubt list[SLEW_DOUBTS_MAX])
{
    slew_doubting d = {.scenario = scenario, .list = list};
    look(&d, slew_doubt_pairs);
    look(&d, slew_doubt_usual);
    return d.count;
}

/* ---- what only follows from another ---- */

static bool put_usual(const slew_scenario *scenario, const slew_doubt *doubt, slew_scenario *trial)
{
    *trial = *scenario;
    return !isnan(doubt->usual) &&
           slew_scenario_set_number(trial, doubt->layer, doubt->key, doubt->usual) == SLEW_OK;
}

/* Which doubts, as bits, are gone once this one has its usual value. */
static unsigned cured_by(const slew_scenario *scenario, const slew_doubt *list, int count,
                         int index, slew_scenario *trial)
{
    slew_doubt left[SLEW_DOUBTS_MAX];
    unsigned cured = 0;
    if (!put_usual(scenario, &list[index], trial))
        return 0;
    int left_count = find_all(trial, left);
    for (int i = 0; i < count; i++) {
        bool stays = false;
        for (int k = 0; k < left_count; k++)
            stays |= left[k].key == list[i].key && left[k].layer == list[i].layer;
        cured |= stays ? 0u : 1u << i;
    }
    return cured;
}

/* a doubt goes that another one explains, and not the other way round */
static int without_consequences(const slew_scenario *scenario, slew_doubt *list, int count,
                                slew_scenario *trial)
{
    unsigned cured[SLEW_DOUBTS_MAX];
    int kept = 0;
    for (int i = 0; i < count; i++)
        cured[i] = cured_by(scenario, list, count, i, trial);
    for (int i = 0; i < count; i++) {
        bool follows = false;
        for (int k = 0; k < count; k++)
            follows |= k != i && (cured[k] >> i & 1) != 0 && (cured[i] >> k & 1) == 0;
        if (!follows)
            list[kept++] = list[i];
    }
    return kept;
}

int slew_scenario_doubts(const slew_scenario *scenario, slew_doubt list[SLEW_DOUBTS_MAX])
{
    if (!slew_has_shape(scenario, NULL) || list == NULL)
        return 0;
    slew_scenario trial;
    int count = find_all(scenario, list);
    return count > 1 ? without_consequences(scenario, list, count, &trial) : count;
}

/* ---- which one is why ---- */

static bool runs(const slew_scenario *scenario, slew_parts parts)
{
    slew_prepared prepared;
    slew_result result;
    if (slew_prepare(scenario, parts, &prepared, NULL) != SLEW_OK ||
        slew_run_prepared(scenario, &prepared, parts, NULL, &result) != SLEW_OK)
        return false;
    return result.stow.fault == SLEW_FAULT_NONE && result.deploy.fault == SLEW_FAULT_NONE &&
           result.stow.holds && result.deploy.holds;
}

static bool runs_with(const slew_scenario *scenario, slew_parts parts, const slew_doubt *doubt,
                      slew_scenario *trial)
{
    return put_usual(scenario, doubt, trial) && runs(trial, parts);
}

int slew_doubts_cause(const slew_scenario *scenario, slew_parts parts, const slew_doubt *list,
                      int count)
{
    if (!slew_has_shape(scenario, NULL) || list == NULL)
        return -1;
    slew_scenario trial;
    if (count == 0 || runs(scenario, parts))
        return -1;
    for (int i = 0; i < count; i++)
        if (runs_with(scenario, parts, &list[i], &trial))
            return i;
    return -1;
}
