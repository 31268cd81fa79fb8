/* plan_words.c - what plan.h changes, in words and as keys. */
#include "slewtime/plan.h"

#include "keys/text.h"

#include <stdio.h>
#include <string.h>

#define WORD(name, word) word,
const char *slew_plan_cost_word(slew_plan_cost cost)
{
    static const char *const words[] = {SLEW_PLAN_COSTS(WORD)};
    return (unsigned)cost < SLEW_PLAN_COST_COUNT ? words[cost] : "?";
}

static const char *kind_words(slew_plan_kind kind)
{
    static const char *const words[] = {SLEW_PLAN_KINDS(WORD)};
    return (unsigned)kind < SLEW_PLAN_KIND_COUNT ? words[kind] : "?";
}
#undef WORD

void slew_plan_words(const slew_plan_change *c, char *text, size_t size)
{
    if (c == NULL) {
        slew_print_nothing(text, size);
        return;
    }
    char value[80];
    if (c->key < 0) {
        snprintf(text, size, "%s", kind_words(c->kind));
        return;
    }
    slew_key_format_number(c->key, c->value, value, sizeof value);
    snprintf(text, size, "%s%s: %s", c->kind == SLEW_PLAN_TAUGHT_AT ? "teach " : "",
             slew_key_at(c->key)->path, value);
}

void slew_plan_to_set(const slew_plan_change *c, char *text, size_t size)
{
    if (c == NULL) {
        slew_print_nothing(text, size);
        return;
    }
    char value[80];
    if (c->key < 0) {
        snprintf(text, size, "%s",
                 c->kind == SLEW_PLAN_FINER    ? "deploy.choices in steps of 0.5 s"
                 : c->kind == SLEW_PLAN_BEYOND ? "deploy.choices beyond the present ones"
                                               : "");
        return;
    }
    slew_key_format_number(c->key, c->value, value, sizeof value);
    snprintf(text, size, "%s%s=%s", c->kind == SLEW_PLAN_TAUGHT_AT ? "teach." : "",
             slew_key_at(c->key)->path, value);
}

/* ---- in plain words ---- */

/* "home rotation first, then elevation" */
static void say_order(const char *verb, double order, char *text, size_t size)
{
    if ((int)order == SLEW_TOGETHER)
        snprintf(text, size, "%s both axes together", verb);
    else
        snprintf(text, size, "%s %s first, then %s", verb,
                 (int)order == SLEW_ROTATION_FIRST ? "rotation" : "elevation",
                 (int)order == SLEW_ROTATION_FIRST ? "elevation" : "rotation");
}

static void say_approach(int axis, double rule, char *text, size_t size)
{
    static const char *const from[SLEW_AXES][2] = {{"the left", "the right"}, {"below", "above"}};
    if ((int)rule == SLEW_APPROACH_EITHER)
        snprintf(text, size, "let %s home from whichever side", slew_axis_word(axis));
    else
        snprintf(text, size, "let %s home from %s", slew_axis_word(axis),
                 from[axis][(int)rule == SLEW_APPROACH_FALLING]);
}

/* of a key of an axis; false: it is none of those that a plan changes */
static bool say_axis(const char *path, double value, char *text, size_t size)
{
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        size_t length = strlen(slew_axis_word(axis));
        if (strncmp(path, slew_axis_word(axis), length) != 0)
            continue;
        if (strcmp(path + length, ".approach") == 0)
            say_approach(axis, value, text, size);
        else if (strcmp(path + length, ".search") == 0)
            snprintf(text, size, "search %s first for the home of the %s",
                     slew_direction_word(axis, value > 0 ? 1 : -1), slew_axis_word(axis));
        else
            return false;
        return true;
    }
    return false;
}

/* with its value where it has one */
static const char *const keys[][2] = {
    {"stow.lift_first", "raise the barrel for %s before it homes"},
    {"supply.feed.gauge", "fit a feed cable of %s"},
    {"supply.feed.area", "fit a feed cable of %s"},
    {"supply.feed.per_length", "fit a feed cable of %s"},
    {"supply.main.voltage", "run at %s battery voltage"},
    {"supply.auxiliary.fitted", "fit an auxiliary battery at the controller"},
    {"deploy.same_day", "deploy on the day it was stowed"},
};

static void say_key(const char *path, const char *value, char *text, size_t size)
{
    const char *form = NULL;
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
        if (strcmp(path, keys[i][0]) == 0)
            form = keys[i][1];
    const char *gap = form != NULL ? strstr(form, "%s") : NULL;
    if (gap != NULL)
        snprintf(text, size, "%.*s%s%s", (int)(gap - form), form, value, gap + 2);
    else
        snprintf(text, size, "%s", form != NULL ? form : "change a setting");
}

static void say_kind(slew_plan_kind kind, char *text, size_t size)
{
    static const char *const words[SLEW_PLAN_KIND_COUNT] = {
        [SLEW_PLAN_NONE] = "nothing else",
        [SLEW_PLAN_FINER] = "make seconds settable to 0.5 s",
        [SLEW_PLAN_BEYOND] = "make seconds settable beyond the choices"};
    snprintf(text, size, "%s", words[kind] != NULL ? words[kind] : "");
}

void slew_plan_plain(const slew_plan_change *c, char *text, size_t size)
{
    if (c == NULL) {
        slew_print_nothing(text, size);
        return;
    }
    char value[80];
    if (c->key < 0) {
        say_kind(c->kind, text, size);
        return;
    }
    const char *path = slew_key_at(c->key)->path;
    slew_key_format_number(c->key, c->value, value, sizeof value);
    if (c->kind == SLEW_PLAN_TAUGHT_AT)
        snprintf(text, size, "teach at %s battery voltage", value);
    else if (strcmp(path, "stow.home_order") == 0)
        say_order("home", c->value, text, size);
    else if (strcmp(path, "stow.order") == 0)
        say_order("stow", c->value, text, size);
    else if (strcmp(path, "deploy.order") == 0)
        say_order("deploy", c->value, text, size);
    else if (!say_axis(path, c->value, text, size))
        say_key(path, value, text, size);
}
