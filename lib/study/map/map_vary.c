/* map_vary.c - what is varied, as text. Values are read as the file reads them. */
#include "slewtime/map.h"
#include "slewtime/read.h"

#include "error/error.h"
#include "keys/quantity.h"
#include "keys/sound.h"
#include "keys/text.h"
#include "study/map/map_probe.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PART_MAX = 96 };

static const char expected[] =
    "[LAYER.]PATH=FROM:TO[:STEPS], for example today.supply.main.voltage=9V:15V:60";

/* ---- errors ---- */

static void keep_first(void *context, const slew_error *error)
{
    slew_error *kept = context;
    if (kept->status == SLEW_OK)
        *kept = *error;
}

/* ---- taking apart ---- */

typedef struct parts {
    char path[PART_MAX], from[PART_MAX], to[PART_MAX], steps[PART_MAX];
    bool has_steps;
} parts;

/* copies up to one of `ends`, blanks at both ends left out; NULL: nothing there, or too long */
static const char *take(const char *text, const char *ends, char part[PART_MAX])
{
    char whole[2 * PART_MAX];
    size_t length = strcspn(text, ends);
    snprintf(whole, sizeof whole, "%.*s", (int)length, text);
    bool fits = length < sizeof whole && slew_text_trim(whole, part, PART_MAX);
    return fits && part[0] != '\0' ? text + length : NULL;
}

static bool take_apart(const char *text, parts *out)
{
    text = take(text, "=", out->path);
    if (text == NULL || *text != '=' || (text = take(text + 1, ":", out->from)) == NULL ||
        *text != ':' || (text = take(text + 1, ":", out->to)) == NULL)
        return false;
    out->has_steps = *text == ':';
    if (!out->has_steps)
        return true;
    text = take(text + 1, ":", out->steps);
    return text != NULL && *text == '\0';
}

/* the layer by its prefix, which is taken off */
static slew_layer_id layer_of(const char **path)
{
    for (int id = SLEW_LAYER_TEACH; id <= SLEW_LAYER_DEPLOY_DAY; id++) {
        const char *word = slew_layer_word((slew_layer_id)id);
        size_t length = strlen(word);
        if (strncmp(*path, word, length) == 0 && (*path)[length] == '.') {
            *path += length + 1;
            return (slew_layer_id)id;
        }
    }
    return SLEW_LAYER_FILE;
}

/* ---- values ---- */

/* the layer tells whether it may hold the key; the number is read back from the file */
static slew_status read_value(slew_scenario *scratch, slew_layer_id layer, const char *path,
                              const char *text, double *value, slew_error *error)
{
    const slew_error_sink sink = {keep_first, error};
    slew_status status = slew_scenario_set(scratch, layer, path, text, sink);
    if (status == SLEW_OK)
        status = slew_scenario_set(scratch, SLEW_LAYER_FILE, path, text, sink);
    *value = status == SLEW_OK ? slew_scenario_get_number(scratch, slew_key_find(path)) : NAN;
    return status;
}

static slew_status read_steps(const parts *p, const char *path, int *steps, slew_error *error)
{
    char *end;
    *steps = 0;
    if (!p->has_steps)
        return SLEW_OK;
    int64_t value = strtoll(p->steps, &end, 10);
    if (p->steps[0] < '0' || p->steps[0] > '9' || *end != '\0' || value < 2 ||
        value > SLEW_VARY_STEPS_MAX)
        return slew_refuse(error, path, "not a number of steps",
                           "a whole number of steps, 2 to 2000");
    *steps = (int)value;
    return SLEW_OK;
}

static slew_status check_range(slew_scenario *scratch, const char *path, const slew_vary *v,
                               slew_error *error)
{
    if (!isfinite(v->from) || !isfinite(v->to))
        return slew_refuse(error, path, "both ends must be finite", expected);
    if (!(v->from < v->to))
        return slew_refuse(error, path,
                           v->from > v->to ? "the range is the wrong way round"
                                           : "the range is empty",
                           "FROM below TO");
    if (slew_scenario_set_number(scratch, v->layer, v->key, (v->from + v->to) / 2) != SLEW_OK)
        return slew_refuse(error, path, "the values between the two are not allowed",
                           "a key that may have any value in between");
    return SLEW_OK;
}

static slew_status read_into(slew_scenario *scratch, const parts *p, slew_vary *out,
                             slew_error *error)
{
    const char *path = p->path;
    out->layer = layer_of(&path);
    out->key = slew_key_find(path);
    const slew_key *key = slew_key_at(out->key);
    if (key != NULL && key->kind != SLEW_KEY_NUMBER)
        return slew_refuse(error, path, "is not a number and can't be varied",
                           "a key that is a number");
    slew_status status = read_value(scratch, out->layer, path, p->from, &out->from, error);
    if (status == SLEW_OK)
        status = read_value(scratch, out->layer, path, p->to, &out->to, error);
    if (status == SLEW_OK)
        status = check_range(scratch, path, out, error);
    return status == SLEW_OK ? read_steps(p, path, &out->steps, error) : status;
}

slew_status slew_vary_read(const slew_scenario *scenario, const char *text, slew_vary *out,
                           slew_error *error)
{
    if (text == NULL || out == NULL)
        return slew_no_argument(error);
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
    parts p;
    slew_error own = {0};
    slew_status status = SLEW_ERROR_MEMORY;
    slew_scenario *scratch = malloc(sizeof *scratch);
    if (scratch != NULL && take_apart(text, &p)) {
        *scratch = *scenario;
        status = read_into(scratch, &p, out, &own);
    } else if (scratch != NULL)
        status = slew_refuse(&own, "", "not a key with a range", expected);
    free(scratch);
    if (error != NULL) {
        own.status = status;
        *error = own;
    }
    return status;
}

double slew_vary_value(const slew_vary *vary, int index)
{
    if (vary == NULL || vary->steps < 1)
        return NAN;
    if (index >= vary->steps)
        return vary->to;
    return vary->from + (vary->to - vary->from) * index / vary->steps;
}

double slew_vary_in_unit(const slew_vary *vary, double value)
{
    if (vary == NULL)
        return NAN;
    const slew_key *key = slew_key_at(vary->key);
    const slew_unit *unit = slew_unit_find(key->unit);
    bool plain =
        key->quantity == NULL || key->unit[0] == '\0' || strcmp(key->quantity, "wire gauge") == 0;
    return plain || unit == NULL ? value : slew_unit_from_si(unit, value);
}

/* ---- what a program hands over ---- */

static bool is_vary(const slew_vary *v)
{
    const slew_key *key = slew_key_at(v->key);
    return key != NULL && key->kind == SLEW_KEY_NUMBER && v->layer >= SLEW_LAYER_FILE &&
           v->layer <= SLEW_LAYER_DEPLOY_DAY && isfinite(v->from) && isfinite(v->to) &&
           v->from < v->to && v->steps >= 2 && v->steps <= SLEW_VARY_STEPS_MAX;
}

slew_status slew_map_check(const slew_scenario *scenario, const slew_vary *vary, int count,
                           slew_error *error)
{
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
    if (vary == NULL)
        return slew_no_argument(error);
    for (int i = 0; i < count; i++)
        if (!is_vary(&vary[i]))
            return slew_no_number(error);
    return SLEW_OK;
}
