/*
 * schema_valid.h - whether a JSON value is as a JSON Schema says, for the keywords that the tool's
 * schemas use (draft 2020-12). A schema with another keyword fails the test.
 */
#ifndef SLEW_TESTS_SCHEMA_VALID_H
#define SLEW_TESTS_SCHEMA_VALID_H

#include "document.h"

#include <regex.h>

typedef struct judge {
    const json_t *root; /* where references point to */
    char why[400];      /* the first thing that is wrong; empty: nothing */
} judge;

static void judge_value(judge *j, const json_t *schema, const json_t *value, const char *path);

static inline void is_wrong(judge *j, const char *path, const char *what, const char *name)
{
    if (j->why[0] == '\0')
        snprintf(j->why, sizeof j->why, "%s: %s %s", path, what, name);
}

static inline bool is_of_type(const json_t *value, const char *type)
{
    bool whole =
        json_is_integer(value) ||
        (json_is_real(value) && json_real_value(value) == (double)(int64_t)json_real_value(value));
    return (strcmp(type, "object") == 0 && json_is_object(value)) ||
           (strcmp(type, "array") == 0 && json_is_array(value)) ||
           (strcmp(type, "string") == 0 && json_is_string(value)) ||
           (strcmp(type, "number") == 0 && json_is_number(value)) ||
           (strcmp(type, "integer") == 0 && whole) ||
           (strcmp(type, "boolean") == 0 && json_is_boolean(value)) ||
           (strcmp(type, "null") == 0 && json_is_null(value));
}

static inline void judge_type(judge *j, const json_t *types, const json_t *value, const char *path)
{
    size_t i;
    json_t *type;
    bool fits = json_is_string(types) && is_of_type(value, json_string_value(types));
    json_array_foreach(types, i, type) fits |= is_of_type(value, json_string_value(type));
    if (!fits)
        is_wrong(j, path, "is of another type", "");
}

static inline void judge_enum(judge *j, const json_t *words, const json_t *value, const char *path)
{
    size_t i;
    json_t *word;
    json_array_foreach(words, i, word) if (json_equal(word, value)) return;
    is_wrong(j, path, "is none of the words", "");
}

/* how many patterns a name fits; its value is judged by each */
static inline int judge_patterns(judge *j, const json_t *schema, const char *name,
                                 const json_t *value, const char *path)
{
    const char *pattern;
    json_t *inner;
    int fits = 0;
    json_object_foreach(json_object_get(schema, "patternProperties"), pattern, inner)
    {
        regex_t compiled;
        assert_int_equal(regcomp(&compiled, pattern, REG_EXTENDED | REG_NOSUB), 0);
        if (regexec(&compiled, name, 0, NULL, 0) == 0) {
            judge_value(j, inner, value, path);
            fits++;
        }
        regfree(&compiled);
    }
    return fits;
}

static inline void judge_members(judge *j, const json_t *schema, const json_t *value,
                                 const char *path)
{
    const char *name;
    json_t *member;
    const json_t *others = json_object_get(schema, "additionalProperties");
    json_object_foreach((json_t *)(uintptr_t)value, name, member)
    {
        char inner[400];
        snprintf(inner, sizeof inner, "%.300s/%.90s", path, name);
        const json_t *own = json_object_get(json_object_get(schema, "properties"), name);
        if (own != NULL)
            judge_value(j, own, member, inner);
        if (judge_patterns(j, schema, name, member, inner) == 0 && own == NULL && others != NULL)
            judge_value(j, others, member, inner);
    }
    size_t i;
    json_array_foreach(json_object_get(schema, "required"), i,
                       member) if (json_object_get(value, json_string_value(member)) == NULL)
        is_wrong(j, path, "lacks", json_string_value(member));
    const json_t *least = json_object_get(schema, "minProperties");
    const json_t *most = json_object_get(schema, "maxProperties");
    if (least != NULL && json_object_size(value) < (size_t)json_integer_value(least))
        is_wrong(j, path, "has too few members", "");
    if (most != NULL && json_object_size(value) > (size_t)json_integer_value(most))
        is_wrong(j, path, "has too many members", "");
}

static inline void judge_number(judge *j, const json_t *schema, const json_t *value,
                                const char *path)
{
    double number = json_number_value(value);
    const json_t *bound;
    if (((bound = json_object_get(schema, "minimum")) && number < json_number_value(bound)) ||
        ((bound = json_object_get(schema, "maximum")) && number > json_number_value(bound)) ||
        ((bound = json_object_get(schema, "exclusiveMinimum")) &&
         number <= json_number_value(bound)) ||
        ((bound = json_object_get(schema, "exclusiveMaximum")) &&
         number >= json_number_value(bound)))
        is_wrong(j, path, "is out of range", "");
}

static inline void knows_its_keywords(const json_t *schema)
{
    static const char *const known[] = {
        "$schema",  "title",         "description",      "type",
        "enum",     "properties",    "required",         "patternProperties",
        "items",    "minProperties", "maxProperties",    "additionalProperties",
        "$ref",     "$defs",         "minimum",          "maximum",
        "examples", "default",       "exclusiveMinimum", "exclusiveMaximum"};
    const char *keyword;
    json_t *value;
    json_object_foreach((json_t *)(uintptr_t)schema, keyword, value)
    {
        bool found = false;
        for (size_t i = 0; i < sizeof known / sizeof *known; i++)
            found |= strcmp(known[i], keyword) == 0;
        if (!found)
            fail_msg("a schema has the keyword %s, which this test does not know", keyword);
    }
}

static void judge_value(judge *j, const json_t *schema, const json_t *value, const char *path)
{
    if (json_is_false(schema))
        is_wrong(j, path, "does not belong there", "");
    if (json_is_boolean(schema))
        return;
    knows_its_keywords(schema);
    const char *reference = json_string_value(json_object_get(schema, "$ref"));
    if (reference != NULL) {
        assert_memory_equal(reference, "#/$defs/", 8);
        const json_t *to = json_object_get(json_object_get(j->root, "$defs"), reference + 8);
        if (to == NULL)
            fail_msg("%s is not defined", reference);
        judge_value(j, to, value, path);
    }
    const json_t *rule;
    if ((rule = json_object_get(schema, "type")) != NULL)
        judge_type(j, rule, value, path);
    if ((rule = json_object_get(schema, "enum")) != NULL)
        judge_enum(j, rule, value, path);
    if (json_is_object(value))
        judge_members(j, schema, value, path);
    if (json_is_number(value))
        judge_number(j, schema, value, path);
    size_t i;
    json_t *item;
    if ((rule = json_object_get(schema, "items")) != NULL)
        json_array_foreach(value, i, item) judge_value(j, rule, item, path);
}

/* What is wrong with the value, or an empty text. */
static inline judge judged(const json_t *schema, const json_t *value)
{
    judge j = {.root = schema};
    judge_value(&j, schema, value, "");
    return j;
}

#endif
