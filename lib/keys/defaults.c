/* defaults.c - a fresh scenario, and keys set, read and printed as numbers. */
#include <stdio.h>
#include <string.h>

#include "keys/fields.h"
#include "keys/text.h"
#include "keys/values.h"

/* ---- a fresh scenario ---- */

/* defaults are written in units of the table, so UDUNITS' database stays closed */
static double initial_number(const slew_key_row *row)
{
    slew_units none = {0};
    slew_error error;
    double value = SLEW_NOT_GIVEN;
    if (row->initial == SLEW_INITIAL_ZERO)
        return 0;
    if (row->initial == SLEW_INITIAL_NOT_GIVEN ||
        !slew_value_read(&none, row, row->key.default_text, &value, &error))
        return SLEW_NOT_GIVEN;
    return value;
}

static bool is_number(const slew_key_row *row)
{
    slew_key_kind kind = row->key.kind;
    return row->offset != SLEW_NO_FIELD &&
           (kind == SLEW_KEY_NUMBER || kind == SLEW_KEY_YES_NO || kind == SLEW_KEY_CHOICE);
}

void slew_scenario_init(slew_scenario *scenario)
{
    if (scenario == NULL)
        return;
    memset(scenario, 0, sizeof *scenario);
    for (int i = 0; i < slew_key_count(); i++)
        if (is_number(slew_key_row_at(i)))
            slew_field_put(scenario, SLEW_LAYER_FILE, i, initial_number(slew_key_row_at(i)));
    scenario->setup.supply.feed.conductor = SLEW_CONDUCTOR_NOT_GIVEN;
    for (int axis = 0; axis < SLEW_AXES; axis++)
        scenario->setup.axis[axis].home.magnet.given = false;
    scenario->stow.has_point = scenario->stow.has_times = scenario->deploy.given = false;
}

/* ---- keys as numbers ---- */

static bool is_a_word(const slew_key_row *row, double value)
{
    const char *words = row->key.words;
    size_t length;
    for (int i = 0; slew_word_next(&words, &length) != NULL; i++)
        if (row->values[i] == value)
            return true;
    return false;
}

static bool allowed(const slew_key_row *row, double value)
{
    switch (row->key.kind) {
    case SLEW_KEY_NUMBER:
        return slew_value_allowed(row, value);
    case SLEW_KEY_YES_NO:
        return value == 0 || value == 1;
    case SLEW_KEY_CHOICE:
        return is_a_word(row, value);
    default:
        return false;
    }
}

slew_status slew_scenario_set_number(slew_scenario *scenario, slew_layer_id layer, int key,
                                     double value)
{
    if (scenario == NULL)
        return SLEW_ERROR_INPUT;
    if (!slew_layer_takes(scenario, layer, key) || !allowed(slew_key_row_at(key), value))
        return SLEW_ERROR_INPUT;
    slew_field_put(scenario, layer, key, value);
    return SLEW_OK;
}

double slew_scenario_get_number(const slew_scenario *scenario, int key)
{
    if (scenario == NULL || slew_key_at(key) == NULL)
        return SLEW_NOT_GIVEN;
    return slew_field_get(scenario, &scenario->setup, key);
}

/* ---- printing ---- */

static const char *word_of(const slew_key_row *row, double value, size_t *length)
{
    const char *words = row->key.words;
    const char *word;
    for (int i = 0; (word = slew_word_next(&words, length)) != NULL; i++)
        if (row->values[i] == value)
            return word;
    *length = 0;
    return "";
}

static int print_choice(const slew_key_row *row, double value, char *text, size_t size)
{
    size_t length;
    const char *word = word_of(row, value, &length);
    return snprintf(text, size, "%.*s", (int)length, word);
}

static int print_number(const slew_key_row *row, double value, char *text, size_t size)
{
    char number[64] = "";
    if (row->infinite != NULL && value == (double)INFINITY)
        return snprintf(text, size, "%s", row->infinite);
    if (!isnan(value))
        slew_value_print(row, value, number, sizeof number);
    return snprintf(text, size, "%s", number);
}

static int print_choices(const slew_scenario *scenario, int key, char *text, size_t size)
{
    const slew_key_row *row = slew_key_row_at(key);
    int axis = slew_field_axis(key);
    size_t length = (size_t)snprintf(text, size, "[");
    for (int i = 0; i < scenario->deploy.choice_count[axis]; i++) {
        char number[64];
        slew_value_print(row, scenario->deploy.choices[axis][i], number, sizeof number);
        bool room = length < size;
        length += (size_t)snprintf(room ? text + length : NULL, room ? size - length : 0, "%s%s",
                                   i > 0 ? ", " : "", number);
    }
    bool room = length < size;
    return (int)length + snprintf(room ? text + length : NULL, room ? size - length : 0, "]");
}

static int print_value(const slew_key_row *row, double value, char *text, size_t size)
{
    switch (row->key.kind) {
    case SLEW_KEY_NUMBER:
        return print_number(row, row->offset == SLEW_NO_FIELD ? row->key.low : value, text, size);
    case SLEW_KEY_YES_NO:
        return snprintf(text, size, "%s", value == 1 ? "yes" : "no");
    case SLEW_KEY_CHOICE:
        return print_choice(row, value, text, size);
    default:
        return snprintf(text, size, "%s", "");
    }
}

int slew_key_format_number(int key, double value, char *text, size_t size)
{
    if (slew_key_at(key) == NULL || (text == NULL && size > 0))
        return slew_print_nothing(text, size);
    return print_value(slew_key_row_at(key), value, text, size);
}

int slew_key_print(const slew_scenario *scenario, const slew_setup *setup, int key, char *text,
                   size_t size)
{
    if (slew_key_at(key) == NULL)
        return snprintf(text, size, "%s", "");
    const slew_key_row *row = slew_key_row_at(key);
    if (row->key.kind == SLEW_KEY_TEXT)
        return snprintf(text, size, "%s", scenario->title);
    if (row->key.kind == SLEW_KEY_LIST)
        return print_choices(scenario, key, text, size);
    return print_value(row, slew_field_get(scenario, setup, key), text, size);
}

int slew_key_format(const slew_scenario *scenario, int key, char *text, size_t size)
{
    if (scenario == NULL || (text == NULL && size > 0))
        return slew_print_nothing(text, size);
    return slew_key_print(scenario, &scenario->setup, key, text, size);
}
