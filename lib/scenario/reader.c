/* reader.c - one key of a layer from the text of its value, wherever the text comes from. */
#include "scenario/reader.h"

#include <stdlib.h>
#include <string.h>

#include "keys/fields.h"
#include "keys/text.h"
#include "keys/values.h"
#include "scenario/database.h"

slew_reader *slew_reader_open(slew_report *errors)
{
    slew_reader *reader = calloc(1, sizeof *reader);
    if (reader != NULL) {
        reader->units = slew_units_of_database();
        reader->errors = reader->of_spread = errors;
    }
    return reader;
}

void slew_reader_close(slew_reader *reader)
{
    slew_units_close(&reader->units);
    free(reader);
}

bool slew_reader_refuse(slew_reader *reader, slew_mark mark, const char *key, const char *message,
                        const char *expected)
{
    slew_error error = {.status = SLEW_ERROR_INPUT};
    slew_say(error.key, sizeof error.key, "%s", key);
    slew_say(error.message, sizeof error.message, "%s", message);
    slew_say(error.expected, sizeof error.expected, "%s", expected);
    slew_report_add(reader->errors, mark, &error);
    return false;
}

static bool refuse_key(slew_reader *reader, slew_mark mark, int key, const char *message)
{
    char expected[256];
    slew_value_expected(slew_key_row_at(key), expected, sizeof expected);
    return slew_reader_refuse(reader, mark, slew_key_at(key)->path, message, expected);
}

/* ---- which key, in which layer ---- */

static void excuse(slew_marks *marks, const char *path)
{
    for (int i = 0; i < slew_key_count(); i++)
        if (strcmp(slew_key_at(i)->path, path) == 0 || slew_key_within(i, path, strlen(path)))
            marks->excused[i] = true;
}

void slew_reader_unknown(slew_reader *reader, slew_layer_id layer, const char *path, slew_mark mark)
{
    slew_error error = {.status = SLEW_ERROR_INPUT};
    char near[SLEW_PATH_MAX];
    slew_say(error.key, sizeof error.key, "%s", path);
    slew_say(error.message, sizeof error.message, "%s",
             strcmp(path, "<<") == 0 ? "merge keys are not allowed" : "unknown key");
    if (slew_path_nearest(path, near)) {
        slew_say(error.nearest, sizeof error.nearest, "%s", near);
        if (layer == SLEW_LAYER_FILE)
            excuse(&reader->marks, near);
    }
    slew_report_add(reader->errors, mark, &error);
}

bool slew_reader_may_hold(slew_reader *reader, slew_layer_id layer, int key, slew_mark mark)
{
    char message[96];
    if (layer == SLEW_LAYER_FILE || slew_key_at(key)->layered)
        return true;
    slew_say(message, sizeof message, "%s can't hold this key", slew_layer_word(layer));
    return slew_reader_refuse(reader, mark, slew_key_at(key)->path, message,
                              "a key of supply, environment, grease, nozzle, controller, rotation "
                              "or elevation, or stow.cancel_at");
}

/* ---- texts and lists ---- */

static bool set_title(slew_reader *reader, int key, const char *text, slew_mark mark)
{
    char *title = reader->scenario->title;
    if (!slew_text_trim(text, title, SLEW_TITLE_MAX))
        return refuse_key(reader, mark, key, "too long a title, at most 255 bytes");
    for (; *title != '\0'; title++)
        if (*title == '\n' || *title == '\t')
            *title = ' ';
    return true;
}

/* next item of "[a, b]" or "a, b"; false: none is left */
static bool next_item(const char **text, char *item, size_t size)
{
    size_t length = strcspn(*text, ",]");
    if (**text == '\0')
        return false;
    slew_say(item, size, "%.*s", (int)(length < size ? length : size - 1), *text);
    *text += length + ((*text)[length] == ',');
    if (**text == ']')
        *text += 1 + strspn(*text + 1, " ");
    return true;
}

static bool set_choices(slew_reader *reader, int key, const char *text, slew_mark mark)
{
    double value[SLEW_CHOICES_MAX];
    char item[64];
    int count = 0;
    text += strspn(text, " ");
    text += *text == '[';
    while (next_item(&text, item, sizeof item)) {
        slew_error error = {.status = SLEW_ERROR_INPUT};
        if (count == SLEW_CHOICES_MAX)
            return refuse_key(reader, mark, key, "more than 64 choices");
        if (!slew_value_read(&reader->units, slew_key_row_at(key), item, &value[count++], &error)) {
            slew_report_add(reader->errors, mark, &error);
            return false;
        }
    }
    if (count == 0)
        return refuse_key(reader, mark, key, "an empty list");
    slew_field_put_choices(reader->scenario, key, value, count);
    return true;
}

/* ---- numbers and words ---- */

static bool set_value(slew_reader *reader, slew_layer_id layer, int key, const char *text,
                      slew_mark mark)
{
    slew_error error = {.status = SLEW_ERROR_INPUT};
    double value = SLEW_NOT_GIVEN;
    if (!slew_layer_takes(reader->scenario, layer, key))
        return refuse_key(reader, mark, key, "too many keys in this layer");
    bool right = slew_value_read(&reader->units, slew_key_row_at(key), text, &value, &error);
    slew_field_put(reader->scenario, layer, key, right ? value : SLEW_NOT_GIVEN);
    if (!right)
        slew_report_add(reader->errors, mark, &error);
    return right;
}

bool slew_reader_set(slew_reader *reader, slew_layer_id layer, int key, const char *text,
                     slew_mark mark)
{
    if (!slew_reader_may_hold(reader, layer, key, mark))
        return false;
    reader->marks.key[layer][key] = mark;
    switch (slew_key_at(key)->kind) {
    case SLEW_KEY_TEXT:
        return set_title(reader, key, text, mark);
    case SLEW_KEY_LIST:
        return set_choices(reader, key, text, mark);
    case SLEW_KEY_STRUCTURE:
        return refuse_key(reader, mark, key, "has no single value");
    default:
        return set_value(reader, layer, key, text, mark);
    }
}

/* ---- from outside the file ---- */

void slew_reader_set_path(slew_reader *reader, slew_layer_id layer, const char *path,
                          slew_mark path_mark, const char *value, slew_mark value_mark)
{
    int key = slew_key_find(path);
    char expected[128];
    if (key >= 0) {
        slew_reader_set(reader, layer, key, value, value_mark);
    } else if (slew_group_find(path) >= 0) {
        slew_say(expected, sizeof expected, "one of its keys, such as %s",
                 slew_key_at(slew_group_find(path))->path);
        slew_reader_refuse(reader, path_mark, path, "a group of keys has no single value",
                           expected);
    } else {
        slew_reader_unknown(reader, layer, path, path_mark);
    }
}

void slew_reader_assign(slew_reader *reader, const slew_assignment *assignment, size_t number)
{
    const char *text = assignment->text != NULL ? assignment->text : "";
    const char *equals =
        (unsigned)assignment->layer <= SLEW_LAYER_DEPLOY_DAY ? strchr(text, '=') : NULL;
    slew_mark mark = {SLEW_FROM_ASSIGNMENT + (int)number, 0, 1};
    char raw[2 * SLEW_PATH_MAX], path[2 * SLEW_PATH_MAX];
    if (equals == NULL) {
        slew_reader_refuse(reader, mark, "", "no = between key and value",
                           "PATH=VALUE, for example supply.main.voltage=13 V");
        return;
    }
    slew_say(raw, sizeof raw, "%.*s", (int)(equals - text), text);
    slew_text_trim(raw, path, sizeof path);
    const char *value = equals + 1 + strspn(equals + 1, " ");
    slew_mark value_mark = mark;
    value_mark.column = slew_utf8_count(text, (size_t)(value - text)) + 1;
    if (assignment->is_spread)
        slew_reader_respread(reader, path, mark, value, value_mark);
    else
        slew_reader_set_path(reader, assignment->layer, path, mark, value, value_mark);
}
