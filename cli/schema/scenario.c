/*
 * scenario.c - see scenario.h.
 *
 * A schema may not refuse what the tool takes: keys stand in their groups or by their whole paths,
 * so none is asked for, and what a value lacks is left to `slewtime check`.
 */
#include "scenario.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "slewtime/slewtime.h"
#include "tell/key_range.h"

enum { NAME_LENGTH = 96, REFERENCE_MAX = NAME_LENGTH + 32 };

/* ---- pieces ---- */

static void tell_type(cli_teller *t, const char *name, const char *type)
{
    cli_tell_open(t, name);
    cli_tell_text(t, "type", type);
    cli_tell_close(t);
}

static void tell_reference(cli_teller *t, const char *name, const char *kind, const char *to)
{
    char reference[REFERENCE_MAX];
    snprintf(reference, sizeof reference, "#/$defs/%s:%s", kind, to);
    cli_tell_open(t, name);
    cli_tell_text(t, "$ref", reference);
    cli_tell_close(t);
}

/* an object of these members, all of one definition, and of no others */
static void tell_members(cli_teller *t, const char *name, const char *names, const char *required,
                         const char *definition)
{
    char reference[REFERENCE_MAX], word[32];
    int used;
    snprintf(reference, sizeof reference, "#/$defs/%s", definition);
    cli_tell_open(t, name);
    cli_tell_text(t, "type", "object");
    cli_tell_open(t, "properties");
    for (const char *at = names; sscanf(at, "%31s%n", word, &used) == 1; at += used) {
        cli_tell_open(t, word);
        cli_tell_text(t, "$ref", reference);
        cli_tell_close(t);
    }
    cli_tell_close(t);
    cli_tell_open_list(t, "required");
    for (const char *at = required; sscanf(at, "%31s%n", word, &used) == 1; at += used)
        cli_tell_text(t, NULL, word);
    cli_tell_close(t);
    cli_tell_boolean(t, "additionalProperties", false);
    cli_tell_close(t);
}

/* ---- one key ---- */

static void tell_words(cli_teller *t, const char *words)
{
    cli_tell_open_list(t, "enum");
    while (*words != '\0') {
        char word[64];
        size_t length = strcspn(words, "|");
        size_t end = length;
        while (end > 0 && words[end - 1] == ' ')
            end--;
        snprintf(word, sizeof word, "%.*s", (int)end, words);
        cli_tell_text(t, NULL, word);
        words += length + (words[length] == '|');
        words += strspn(words, " ");
    }
    cli_tell_close(t);
}

/* a quantity is a text with its unit; plain numbers, shares and gauges may go without one */
static void tell_number(cli_teller *t, const slew_key *key)
{
    bool plain = key->unit[0] == '\0';
    cli_tell_open_list(t, "type");
    cli_tell_text(t, NULL, "string");
    if (plain || strcmp(key->unit, "%") == 0 || strcmp(key->unit, "AWG") == 0)
        cli_tell_text(t, NULL, "number");
    cli_tell_close(t);
    if (plain && key->low > -INFINITY)
        cli_tell_number(t, key->low_open ? "exclusiveMinimum" : "minimum", key->low);
    if (plain && key->high < INFINITY)
        cli_tell_number(t, key->high_open ? "exclusiveMaximum" : "maximum", key->high);
}

static void tell_list_of(cli_teller *t, const char *definition)
{
    char reference[REFERENCE_MAX];
    snprintf(reference, sizeof reference, "#/$defs/%s", definition);
    cli_tell_text(t, "type", "array");
    cli_tell_open(t, "items");
    cli_tell_text(t, "$ref", reference);
    cli_tell_close(t);
}

static void tell_structure(cli_teller *t, const slew_key *key)
{
    const char *name = strrchr(key->path, '.');
    name = name != NULL ? name + 1 : key->path;
    if (strcmp(name, "keepout") == 0)
        tell_list_of(t, "box");
    else if (strcmp(name, "correlation") == 0)
        tell_list_of(t, "pair");
    else
        cli_tell_text(t, "$ref",
                      strncmp(key->path, "spread.", 7) == 0 ? "#/$defs/spread" : "#/$defs/layer");
}

static void tell_values(cli_teller *t, const slew_key *key)
{
    switch (key->kind) {
    case SLEW_KEY_NUMBER:
        tell_number(t, key);
        break;
    case SLEW_KEY_YES_NO:
        cli_tell_open_list(t, "enum");
        cli_tell_text(t, NULL, "yes");
        cli_tell_text(t, NULL, "no");
        cli_tell_boolean(t, NULL, true);
        cli_tell_boolean(t, NULL, false);
        cli_tell_close(t);
        break;
    case SLEW_KEY_CHOICE:
        tell_words(t, key->words);
        break;
    case SLEW_KEY_TEXT:
        cli_tell_text(t, "type", "string");
        break;
    case SLEW_KEY_LIST:
        tell_list_of(t, "value");
        break;
    case SLEW_KEY_STRUCTURE:
        tell_structure(t, key);
        break;
    }
}

static void tell_key(cli_teller *t, cli_key_trial *trial, const slew_key *key)
{
    char name[REFERENCE_MAX], meaning[1024], range[CLI_RANGE_MAX];
    cli_key_range(trial, key, range);
    snprintf(name, sizeof name, "key:%s", key->path);
    snprintf(meaning, sizeof meaning, "%s%s%s. Default: %s. For example %s", key->meaning,
             range[0] != '\0' ? ": " : "", range,
             key->default_text != NULL ? key->default_text : "none", key->example);
    cli_tell_open(t, name);
    cli_tell_text(t, "description", meaning);
    tell_values(t, key);
    cli_tell_close(t);
}

/* ---- groups ---- */

/* The group of the key's first `depth` names, as "supply.feed"; false: it has no more names than
 * that, or the key before it lies there too. */
static bool begins_group(int index, int depth, char group[NAME_LENGTH])
{
    const char *path = slew_key_at(index)->path, *end = path;
    for (int i = 0; i < depth; i++) {
        end = strchr(end + (i > 0), '.');
        if (end == NULL)
            return false;
    }
    size_t length = (size_t)(end - path);
    snprintf(group, NAME_LENGTH, "%.*s", (int)length, path);
    for (int i = 0; i < index; i++)
        if (strncmp(slew_key_at(i)->path, path, length) == 0 &&
            strchr(".", slew_key_at(i)->path[length]) != NULL)
            return false;
    return true;
}

/* The member under which a key or its group stands in a group of so many letters. */
static void tell_member(cli_teller *t, int index, size_t length, int depth)
{
    const char *path = slew_key_at(index)->path;
    const char *own = path + length + (length > 0);
    char group[NAME_LENGTH];
    if (strchr(own, '.') == NULL)
        tell_reference(t, own, "key", path);
    else if (begins_group(index, depth, group))
        tell_reference(t, group + length + (length > 0), "group", group);
}

/* the members of a group; other names with a point in them are paths, and left to the tool */
static void tell_group(cli_teller *t, const char *group, int depth)
{
    size_t length = strlen(group);
    cli_tell_text(t, "type", "object");
    cli_tell_open(t, "properties");
    for (int i = 0; i < slew_key_count(); i++) {
        const char *path = slew_key_at(i)->path;
        if (length == 0 || (strncmp(path, group, length) == 0 && path[length] == '.'))
            tell_member(t, i, length, depth + 1);
    }
    cli_tell_close(t);
    cli_tell_open(t, "patternProperties");
    cli_tell_boolean(t, "\\.", true);
    cli_tell_close(t);
    cli_tell_boolean(t, "additionalProperties", false);
}

static void tell_groups(cli_teller *t, int depth)
{
    char group[NAME_LENGTH], name[REFERENCE_MAX];
    for (int i = 0; i < slew_key_count(); i++)
        if (begins_group(i, depth, group)) {
            snprintf(name, sizeof name, "group:%s", group);
            cli_tell_open(t, name);
            tell_group(t, group, depth);
            cli_tell_close(t);
        }
}

/* ---- what refers to keys by their paths ---- */

/* a layer: its keys by path or in groups */
static void tell_layer(cli_teller *t)
{
    char group[NAME_LENGTH];
    cli_tell_open(t, "layer");
    cli_tell_text(t, "type", "object");
    cli_tell_open(t, "properties");
    for (int i = 0; i < slew_key_count(); i++) {
        const slew_key *key = slew_key_at(i);
        for (int depth = 1; depth < 5; depth++)
            if (begins_group(i, depth, group))
                tell_reference(t, group, "group", group);
        if (key->layered)
            tell_reference(t, key->path, "key", key->path);
    }
    cli_tell_close(t);
    cli_tell_boolean(t, "additionalProperties", false);
    cli_tell_close(t);
}

static void tell_distribution(cli_teller *t)
{
    cli_tell_open(t, "distribution");
    cli_tell_text(t, "type", "object");
    cli_tell_open(t, "properties");
    tell_members(t, "uniform", "low high", "low high", "value");
    tell_members(t, "triangular", "low mode high", "low mode high", "value");
    tell_members(t, "normal", "mean sd low high", "mean sd", "value");
    cli_tell_open(t, "values");
    tell_list_of(t, "value");
    cli_tell_close(t);
    tell_type(t, "table", "object");
    cli_tell_close(t);
    cli_tell_integer(t, "minProperties", 1);
    cli_tell_integer(t, "maxProperties", 1);
    cli_tell_boolean(t, "additionalProperties", false);
    cli_tell_close(t);
}

/* distributions by path, or groups of them */
static void tell_spread(cli_teller *t)
{
    cli_tell_open(t, "spread");
    cli_tell_text(t, "type", "object");
    cli_tell_open(t, "properties");
    for (int i = 0; i < slew_key_count(); i++) {
        cli_tell_open(t, slew_key_at(i)->path);
        cli_tell_text(t, "$ref", "#/$defs/distribution");
        cli_tell_close(t);
    }
    cli_tell_close(t);
    cli_tell_open(t, "additionalProperties");
    cli_tell_text(t, "type", "object");
    cli_tell_close(t);
    cli_tell_close(t);
}

static void tell_pair(cli_teller *t)
{
    cli_tell_open(t, "pair");
    cli_tell_text(t, "type", "object");
    cli_tell_open(t, "properties");
    cli_tell_open(t, "between");
    cli_tell_text(t, "type", "array");
    tell_type(t, "items", "string");
    cli_tell_close(t);
    tell_type(t, "coefficient", "number");
    cli_tell_close(t);
    cli_tell_boolean(t, "additionalProperties", false);
    cli_tell_close(t);
}

static void tell_box(cli_teller *t)
{
    tell_members(t, "range", "low high", "low high", "value");
    cli_tell_open(t, "box");
    cli_tell_text(t, "type", "object");
    cli_tell_open(t, "properties");
    tell_type(t, "name", "string");
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        cli_tell_open(t, slew_axis_word(axis));
        cli_tell_text(t, "$ref", "#/$defs/range");
        cli_tell_close(t);
    }
    cli_tell_close(t);
    cli_tell_boolean(t, "additionalProperties", false);
    cli_tell_close(t);
}

/* ---- the whole ---- */

static void tell_definitions(cli_teller *t, cli_key_trial *trial)
{
    cli_tell_open(t, "value");
    cli_tell_open_list(t, "type");
    cli_tell_text(t, NULL, "string");
    cli_tell_text(t, NULL, "number");
    cli_tell_text(t, NULL, "boolean");
    cli_tell_close(t);
    cli_tell_close(t);
    tell_box(t);
    tell_pair(t);
    tell_distribution(t);
    tell_spread(t);
    tell_layer(t);
    for (int depth = 1; depth < 5; depth++)
        tell_groups(t, depth);
    for (int i = 0; i < slew_key_count(); i++)
        tell_key(t, trial, slew_key_at(i));
}

void cli_schema_scenario(cli_teller *t, const void *what)
{
    cli_key_trial *trial = (cli_key_trial *)(uintptr_t)what;
    cli_tell_text(t, "$schema", "https://json-schema.org/draft/2020-12/schema");
    cli_tell_text(t, "title", "slewtime scenario");
    cli_tell_text(t, "description",
                  "A scenario file of slewtime. What must be given, and what goes with what, is "
                  "told by: slewtime check FILE");
    tell_group(t, "", 0);
    cli_tell_open(t, "$defs");
    tell_definitions(t, trial);
    cli_tell_close(t);
}
