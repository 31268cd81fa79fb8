/* input.c - in what the scenarios of a comparison differ: keys, and keep-out boxes. */
#include <stdlib.h>
#include <string.h>

#include "answer.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "slewtime/differences.h"
#include "tell/units.h"

static const slew_scenario *scenario_of(const cli_comparison *c, int column)
{
    return &c->columns.column[column].single->scenario;
}

static bool add_row(cli_comparison *c, const cli_input *row)
{
    cli_input *more = realloc(c->input, (size_t)(c->input_count + 1) * sizeof *more);
    if (more == NULL)
        return false;
    c->input = more;
    c->input[c->input_count++] = *row;
    return true;
}

/* ---- keys ---- */

static bool add_key(cli_comparison *c, slew_difference difference)
{
    cli_input row;
    const char *layer = slew_layer_word(difference.layer);
    snprintf(row.path, sizeof row.path, "%s%s%s", layer, layer[0] != '\0' ? "." : "",
             slew_key_at(difference.key)->path);
    for (int i = 0; i < c->columns.count; i++)
        slew_difference_format(scenario_of(c, i), difference, row.value[i], sizeof row.value[i]);
    return add_row(c, &row);
}

static bool add_keys(cli_comparison *c)
{
    const slew_scenario *scenarios[CLI_COLUMNS_MAX];
    for (int i = 0; i < c->columns.count; i++)
        scenarios[i] = scenario_of(c, i);
    int count = slew_differences(scenarios, c->columns.count, NULL, 0);
    slew_difference *list = calloc((size_t)count + 1, sizeof *list);
    bool fits = list != NULL;
    if (fits)
        slew_differences(scenarios, c->columns.count, list, count);
    for (int i = 0; i < count && fits; i++)
        fits = add_key(c, list[i]);
    free(list);
    return fits;
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
static int number_of_name(const slew_scenario *scenario, int box)
{
    int nth = 0;
    for (int i = 0; i < box; i++)
        nth += strcmp(scenario->keepout.box[i].name, scenario->keepout.box[box].name) == 0;
    return nth;
}

static void print_range(const slew_keepout_box *box, int axis, char text[CLI_INPUT_VALUE_MAX])
{
    text[0] = '\0';
    if (box != NULL && isinf(box->axis[axis].low))
        snprintf(text, CLI_INPUT_VALUE_MAX, "all");
    else if (box != NULL)
        snprintf(text, CLI_INPUT_VALUE_MAX, "%.10g to %.10g deg", cli_degrees(box->axis[axis].low),
                 cli_degrees(box->axis[axis].high));
}

static bool add_box(cli_comparison *c, const char *name, int nth)
{
    bool fits = true;
    for (int axis = 0; axis < SLEW_AXES && fits; axis++) {
        cli_input row;
        bool differs = false;
        snprintf(row.path, sizeof row.path, "keepout.%s (%s)", slew_axis_word(axis), name);
        for (int i = 0; i < c->columns.count; i++) {
            print_range(find_box(scenario_of(c, i), name, nth), axis, row.value[i]);
            differs |= strcmp(row.value[i], row.value[0]) != 0;
        }
        fits = !differs || add_row(c, &row);
    }
    return fits;
}

/* no column before this one has the box */
static bool is_new(const cli_comparison *c, int column, const char *name, int nth)
{
    for (int i = 0; i < column; i++)
        if (find_box(scenario_of(c, i), name, nth) != NULL)
            return false;
    return true;
}

static bool add_boxes(cli_comparison *c)
{
    bool fits = true;
    for (int i = 0; i < c->columns.count; i++) {
        const slew_scenario *s = scenario_of(c, i);
        for (int k = 0; k < s->keepout.count && fits; k++)
            if (is_new(c, i, s->keepout.box[k].name, number_of_name(s, k)))
                fits = add_box(c, s->keepout.box[k].name, number_of_name(s, k));
    }
    return fits;
}

int cli_compare_inputs(cli_comparison *comparison)
{
    bool fits = add_keys(comparison) && add_boxes(comparison);
    return fits ? CLI_OK : cli_no_memory();
}
