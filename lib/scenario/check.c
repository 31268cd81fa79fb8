/* check.c - values that belong together, on the file and on every occasion. */
#include "scenario/check.h"

#include <stdio.h>
#include <string.h>

#include "keys/fields.h"
#include "keys/sound.h"
#include "keys/text.h"
#include "keys/values.h"

/* ---- the rules ---- */

typedef enum relation { LESS, AT_MOST, MORE, AT_LEAST } relation; /* of left to right */

typedef struct rule {
    const char *left;
    relation relation;
    const char *right;
    const char *otherwise; /* said between the two if they are not so */
    bool taught;           /* counts only while teaching */
} rule;

/* clang-format off */
#define AXIS_RULES(axis)                                                                           \
    {axis ".stops.low", LESS, axis ".stops.high", "is not below", false},                          \
    {axis ".start", AT_LEAST, axis ".stops.low", "is beyond", false},                              \
    {axis ".start", AT_MOST, axis ".stops.high", "is beyond", false},                              \
    {axis ".home.release", AT_LEAST, axis ".home.operate", "is less than", false},                 \
    {axis ".home.magnet.release_flux", AT_MOST, axis ".home.magnet.operate_flux", "is above",      \
     false},                                                                                       \
    {axis ".motor.no_load_current", LESS, axis ".motor.stall_current", "is not less than", false}, \
    {"stow.point." axis, MORE, axis ".stops.low", "is on or beyond", true},                        \
    {"stow.point." axis, LESS, axis ".stops.high", "is on or beyond", true},                       \
    {"stow.range." axis ".low", MORE, axis ".stops.low", "is on or beyond", true},                 \
    {"stow.range." axis ".high", LESS, axis ".stops.high", "is on or beyond", true},               \
    {"stow.point." axis, AT_LEAST, "stow.range." axis ".low", "is below", false},                  \
    {"stow.point." axis, AT_MOST, "stow.range." axis ".high", "is above", false},                  \
    {"deploy.target." axis ".low", AT_MOST, "deploy.target." axis ".high", "is above", false}

static const rule RULES[] = {
    AXIS_RULES("rotation"),
    AXIS_RULES("elevation"),
    {"grease.viscosity_100", LESS, "grease.viscosity_40", "is not less than", false},
};
/* clang-format on */

/* NaN breaks no rule: what could not be read is told already */
static bool is_broken(relation wanted, double left, double right)
{
    switch (wanted) {
    case LESS:
        return left >= right;
    case AT_MOST:
        return left > right;
    case MORE:
        return left <= right;
    default:
        return left < right;
    }
}

/* ---- one occasion ---- */

/* What the rules are asked of: the file, or an occasion's stack of layers. */
typedef struct view {
    const slew_checker *checker;
    slew_setup setup;
    const slew_layer_id *layers;
    int count;
    const char *when;
    bool taught;
    bool tainted[SLEW_KEYS_MAX]; /* in an error already, here or in what this is built on */
} view;

slew_mark slew_checker_mark(const slew_checker *c, slew_layer_id layer, int key)
{
    return c->marks ? c->marks->key[layer][key] : (slew_mark){0};
}

slew_layer_id slew_checker_layer(const slew_checker *c, const slew_layer_id *layers, int count,
                                 int key)
{
    for (int i = count - 1; i >= 0; i--)
        if (slew_layer_holds(slew_layer_at(c->scenario, layers[i]), key))
            return layers[i];
    return SLEW_LAYER_FILE;
}

static slew_layer_id layer_of(const view *v, int key)
{
    return slew_checker_layer(v->checker, v->layers, v->count, key);
}

/* which of two keys an error is about: the one set last, the left one if that is not known */
static int blamed(const view *v, int left, int right)
{
    slew_layer_id a = layer_of(v, left), b = layer_of(v, right);
    if (a != b)
        return a > b ? left : right;
    return slew_checker_mark(v->checker, b, right).source >
                   slew_checker_mark(v->checker, a, left).source
               ? right
               : left;
}

static void say_broken(view *v, const rule *broken, int left, int right, double a, double b)
{
    slew_error error = {.status = SLEW_ERROR_INPUT};
    char left_text[64], right_text[64];
    int key = blamed(v, left, right);
    slew_value_print(slew_key_row_at(left), a, left_text, sizeof left_text);
    slew_value_print(slew_key_row_at(right), b, right_text, sizeof right_text);
    slew_say(error.key, sizeof error.key, "%s", slew_key_at(key)->path);
    slew_say(error.message, sizeof error.message, "%s (%s) %s %s (%s)%s", broken->left, left_text,
             broken->otherwise, broken->right, right_text, v->when);
    slew_value_expected(slew_key_row_at(key), error.expected, sizeof error.expected);
    slew_report_add(v->checker->errors, slew_checker_mark(v->checker, layer_of(v, key), key),
                    &error);
    v->tainted[left] = v->tainted[right] = true;
}

static void apply_rule(view *v, const rule *asked)
{
    int left = slew_key_find(asked->left), right = slew_key_find(asked->right);
    double a = slew_field_get(v->checker->scenario, &v->setup, left);
    double b = slew_field_get(v->checker->scenario, &v->setup, right);
    bool fresh = !v->tainted[left] && !v->tainted[right];
    if (fresh && (v->taught || !asked->taught) && is_broken(asked->relation, a, b))
        say_broken(v, asked, left, right, a, b);
}

static void apply_rules(view *v)
{
    for (size_t i = 0; i < sizeof RULES / sizeof RULES[0]; i++)
        apply_rule(v, &RULES[i]);
}

/* ---- magnets that a layer adds ---- */

/* a figure of the axis' magnet that is given on this occasion; -1: none */
static int given_figure(const view *v, int axis)
{
    for (int i = 0; i < slew_key_count(); i++)
        if (slew_key_row_at(i)->effect == SLEW_EFFECT_MAGNET && slew_key_axis(i) == axis &&
            layer_of(v, i) != SLEW_LAYER_FILE)
            return i;
    return -1;
}

static void say_lacking(view *v, int key, int given)
{
    slew_error error = {.status = SLEW_ERROR_INPUT};
    slew_layer_id layer = layer_of(v, given);
    slew_say(error.key, sizeof error.key, "%s", slew_key_at(key)->path);
    slew_say(error.message, sizeof error.message, "required with %s, but missing%s",
             slew_key_at(given)->path, v->when);
    slew_value_expected(slew_key_row_at(key), error.expected, sizeof error.expected);
    slew_report_add(v->checker->errors, slew_checker_mark(v->checker, layer, given), &error);
    v->tainted[key] = true;
}

/* of the file itself slew_check_missing tells them */
static void check_magnet(view *v, int axis)
{
    int given = given_figure(v, axis);
    bool in_file = v->checker->scenario->setup.axis[axis].home.magnet.given;
    if (in_file || given < 0 || !v->setup.axis[axis].home.magnet.given)
        return;
    for (int i = 0; i < slew_key_count(); i++)
        if (slew_key_row_at(i)->effect == SLEW_EFFECT_MAGNET && slew_key_axis(i) == axis &&
            isnan(slew_field_get(v->checker->scenario, &v->setup, i)) && !v->tainted[i] &&
            slew_checker_mark(v->checker, layer_of(v, i), i).source == SLEW_FROM_NOWHERE)
            say_lacking(v, i, given);
}

/* ---- all of them ---- */

static void check_occasion(view *v, slew_occasion occasion, const char *when)
{
    slew_scenario_resolve(v->checker->scenario, occasion, &v->setup);
    v->layers = slew_occasion_layers(occasion, &v->count);
    v->when = when;
    v->taught = occasion == SLEW_OCCASION_TEACH;
    apply_rules(v);
    for (int axis = 0; axis < SLEW_AXES; axis++)
        check_magnet(v, axis);
}

/* of values that belong together */
static void check_pairs(const slew_checker *c)
{
    view file = {.checker = c, .setup = c->scenario->setup, .when = "", .taught = true};
    apply_rules(&file);
    view later = file;
    check_occasion(&later, SLEW_OCCASION_TEACH, " while teaching");
    later = file;
    check_occasion(&later, SLEW_OCCASION_STOW, " today");
    check_occasion(&later, SLEW_OCCASION_DEPLOY, " when it deploys");
}

void slew_check_all(const slew_checker *c)
{
    slew_check_missing(c);
    check_pairs(c);
    slew_check_boxes(c);
    slew_check_spread(c);
    slew_check_warnings(c);
}

slew_status slew_scenario_check(const slew_scenario *scenario, slew_error_sink errors,
                                slew_error_sink warnings)
{
    slew_error error;
    if (!slew_has_shape(scenario, &error)) {
        if (errors.report != NULL)
            errors.report(errors.context, &error);
        return SLEW_ERROR_INPUT;
    }
    slew_report wrong = {.severity = SLEW_ERROR_INPUT}, doubtful = {.severity = SLEW_OK};
    slew_checker checker = {scenario, NULL, &wrong, &doubtful, &wrong, NULL};
    slew_check_all(&checker);
    slew_status doubts = slew_report_end(&doubtful, warnings);
    slew_status status = slew_report_end(&wrong, errors);
    return status != SLEW_OK ? status : doubts;
}
