/* check_missing.c - required keys that are not there: each missing group is one error. */
#include <string.h>

#include "keys/fields.h"
#include "keys/text.h"
#include "keys/values.h"
#include "scenario/check.h"

/* ---- what is there and what has to be ---- */

static bool is_found(const slew_checker *c, int key)
{
    const slew_key_row *row = slew_key_row_at(key);
    if (c->marks != NULL)
        return c->marks->excused[key] || c->marks->key[SLEW_LAYER_FILE][key].source != 0;
    if (row->offset == SLEW_NO_FIELD)
        return true;
    return row->initial == SLEW_INITIAL_NOT_GIVEN &&
           !isnan(slew_field_get(c->scenario, &c->scenario->setup, key));
}

/* of the three sizes the first stands for all; of a deploy all that has no default is required, and
 * of a magnet all */
static bool is_required(const slew_checker *c, int key)
{
    const slew_key_row *row = slew_key_row_at(key);
    const slew_stow *stow = &c->scenario->stow;
    switch (row->effect) {
    case SLEW_EFFECT_GAUGE:
        return c->scenario->setup.supply.feed.conductor == SLEW_CONDUCTOR_NOT_GIVEN;
    case SLEW_EFFECT_POINT:
        return stow->has_point || !stow->has_times;
    case SLEW_EFFECT_TIMES:
        return stow->has_times;
    case SLEW_EFFECT_DEPLOY:
        return c->scenario->deploy.given && row->initial == SLEW_INITIAL_NOT_GIVEN &&
               row->key.kind != SLEW_KEY_LIST;
    case SLEW_EFFECT_MAGNET:
        return c->scenario->setup.axis[slew_key_axis(key)].home.magnet.given;
    case SLEW_EFFECT_MOTOR:
        return true;
    default:
        return row->key.required;
    }
}

static bool is_unneeded(const slew_checker *c, int key)
{
    for (const char *const *path = c->unneeded; path != NULL && *path != NULL; path++)
        if (strcmp(slew_key_at(key)->path, *path) == 0 ||
            slew_key_within(key, *path, strlen(*path)))
            return true;
    return false;
}

static bool is_missing(const slew_checker *c, int key)
{
    return is_required(c, key) && !is_found(c, key) && !is_unneeded(c, key);
}

/* ---- where it is missing ---- */

typedef struct absence {
    char path[SLEW_PATH_MAX]; /* the key, or the largest group that is missing as a whole */
    int count;                /* keys required in it */
} absence;

static bool anything_in(const slew_checker *c, const char *path, size_t length, int *required)
{
    bool found = false;
    *required = 0;
    for (int i = 0; i < slew_key_count(); i++)
        if (slew_key_within(i, path, length)) {
            found |= is_found(c, i);
            *required += is_missing(c, i);
        }
    return found;
}

static absence largest(const slew_checker *c, int key)
{
    absence a = {.count = 1};
    const char *path = slew_key_at(key)->path;
    slew_say(a.path, sizeof a.path, "%s", path);
    for (const char *point = strchr(path, '.'); point; point = strchr(point + 1, '.')) {
        size_t length = (size_t)(point - path);
        int required;
        if (!anything_in(c, path, length, &required) && required > 1) {
            a.path[length] = '\0';
            a.count = required;
            return a;
        }
    }
    return a;
}

/* the innermost group around it that is there */
static slew_mark mark_around(const slew_checker *c, int key, const char *path)
{
    if (c->marks == NULL)
        return (slew_mark){0};
    for (int depth = slew_path_depth(path) - 1; depth > 0; depth--) {
        char group[SLEW_PATH_MAX];
        const char *end = slew_key_at(key)->path;
        for (int names = 0; names < depth; names++)
            end = strchr(end, '.') + 1;
        slew_say(group, sizeof group, "%.*s", (int)(end - slew_key_at(key)->path - 1), path);
        slew_mark mark = c->marks->group[slew_group_find(group)][depth];
        if (mark.source != SLEW_FROM_NOWHERE)
            return mark;
    }
    return c->marks->root;
}

/* ---- saying it ---- */

static void expected_in(const slew_checker *c, const absence *a, char *text, size_t size)
{
    size_t length = strlen(a->path), used;
    slew_say(text, size, "its keys ");
    for (int i = 0, said = 0; i < slew_key_count() && said < 3; i++)
        if (slew_key_within(i, a->path, length) && is_missing(c, i)) {
            used = strlen(text);
            slew_say(text + used, size - used, "%s%s: %s", said++ ? ", " : "",
                     slew_key_at(i)->path + length + 1, slew_key_at(i)->example);
        }
    used = strlen(text);
    slew_say(text + used, size - used, a->count > 3 ? " and others" : "");
}

/* what else would tell a figure of a motor */
static const char *tells_too(int key)
{
    static const char *const all[][2] = {
        {"motor.no_load_speed", "gearmotor.no_load_speed or a rated point"},
        {"motor.stall_current", "armature_resistance, a stall torque or a rated point"},
        {"motor.no_load_current", "a stall torque or a rated point"},
        {"gear.efficiency", "gearmotor.stall_torque or gearmotor.rated.torque"}};
    const char *own = strchr(slew_key_at(key)->path, '.') + 1;
    size_t i = 0;
    while (i < 3 && strcmp(all[i][0], own) != 0)
        i++;
    return all[i][1];
}

static void say_missing(const slew_checker *c, int key, const absence *a)
{
    slew_error error = {.status = SLEW_ERROR_INPUT};
    slew_effect effect = slew_key_row_at(key)->effect;
    slew_say(error.key, sizeof error.key, "%s", a->path);
    slew_say(error.message, sizeof error.message, "required, but missing");
    if (a->count > 1)
        expected_in(c, a, error.expected, sizeof error.expected);
    else
        slew_value_expected(slew_key_row_at(key), error.expected, sizeof error.expected);
    if (a->count == 1 && effect == SLEW_EFFECT_GAUGE)
        slew_say(error.message, sizeof error.message,
                 "a conductor size is required: gauge, area or per_length");
    if (a->count == 1 && effect == SLEW_EFFECT_MAGNET)
        slew_say(error.message, sizeof error.message, "required with a magnet, but missing");
    if (a->count == 1 && effect == SLEW_EFFECT_MOTOR)
        slew_say(error.message, sizeof error.message,
                 "required, but missing, and nothing else tells it: %s would", tells_too(key));
    if (effect == SLEW_EFFECT_POINT && strcmp(a->path, "stow.point") == 0)
        slew_say(error.message, sizeof error.message, "required, unless stow.times are given");
    slew_report_add(c->errors, mark_around(c, key, a->path), &error);
}

/* a size that is there, whichever it is */
static bool size_found(const slew_checker *c)
{
    for (int i = 0; c->marks != NULL && i < slew_key_count(); i++)
        if (slew_key_is_size(i) && is_found(c, i))
            return true;
    return false;
}

void slew_check_missing(const slew_checker *c)
{
    char last[SLEW_PATH_MAX] = "";
    for (int i = 0; i < slew_key_count(); i++) {
        bool told = *last != '\0' && slew_key_within(i, last, strlen(last));
        if (told || !is_missing(c, i))
            continue;
        if (slew_key_row_at(i)->effect == SLEW_EFFECT_GAUGE && size_found(c))
            continue;
        absence a = largest(c, i);
        say_missing(c, i, &a);
        slew_say(last, sizeof last, "%s", a.path);
    }
}
