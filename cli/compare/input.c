/* input.c - in what the scenarios of a comparison differ. */
#include <stdlib.h>
#include <string.h>

#include "answer.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "slewtime/differences.h"
#include "tell/key_words.h"
#include "tell/units.h"

/* "battery voltage today", "keep-out zone light mast" */
static void find_words(cli_input *input, slew_difference difference)
{
    static const char *const when[] = {[SLEW_LAYER_TEACH] = " when taught",
                                       [SLEW_LAYER_TODAY] = " today",
                                       [SLEW_LAYER_DEPLOY_DAY] = " on the deploy day"};
    char name[CLI_KEY_WORDS_MAX];
    if (difference.box != NULL) {
        snprintf(input->words, sizeof input->words, "keep-out zone %.100s", difference.box);
        return;
    }
    cli_key_words(difference.key, name);
    snprintf(input->words, sizeof input->words, "%s%s", name,
             difference.layer == SLEW_LAYER_FILE ? "" : when[difference.layer]);
}

/* of the unit that a file has what people read */
static void find_shown(cli_input *input, int column, slew_unit_system units)
{
    char *end, *shown = input->shown[column];
    const char *value = input->value[column];
    bool has_unit = input->key >= 0 && slew_key_at(input->key)->unit != NULL;
    const char *unit = has_unit ? slew_key_at(input->key)->unit : "";
    cli_measure measure = cli_measure_of(unit);
    double number = strtod(value, &end);
    if (measure < CLI_MEASURES && end != value)
        snprintf(shown, CLI_INPUT_VALUE_MAX, "%.4g %s",
                 cli_measured(units, measure, cli_measure_si(measure, number)),
                 cli_measure_unit(units, measure));
    else if (strcmp(unit, "deg") == 0 && end != value)
        snprintf(shown, CLI_INPUT_VALUE_MAX, "%.4g\u00B0", number);
    else
        snprintf(shown, CLI_INPUT_VALUE_MAX, "%s", value);
}

static cli_input input_of(const cli_comparison *c, const slew_scenario *const *scenarios,
                          slew_difference difference)
{
    cli_input input = {.key = difference.box == NULL ? difference.key : -1,
                       .layer = difference.layer};
    slew_difference_path(difference, input.path, sizeof input.path);
    for (int i = 0; i < c->columns.count; i++)
        slew_difference_format(scenarios[i], difference, input.value[i], sizeof input.value[i]);
    find_words(&input, difference);
    for (int i = 0; i < c->columns.count; i++)
        find_shown(&input, i, scenarios[0]->units);
    return input;
}

int cli_compare_inputs(cli_comparison *c)
{
    const slew_scenario *scenarios[CLI_COLUMNS_MAX];
    int columns = c->columns.count;
    for (int i = 0; i < columns; i++)
        scenarios[i] = &c->columns.column[i].scenario;
    int count = slew_differences(scenarios, columns, NULL, 0);
    slew_difference *list = calloc((size_t)count + 1, sizeof *list);
    c->input = calloc((size_t)count + 1, sizeof *c->input);
    if (list != NULL && c->input != NULL) {
        slew_differences(scenarios, columns, list, count);
        for (c->input_count = 0; c->input_count < count; c->input_count++)
            c->input[c->input_count] = input_of(c, scenarios, list[c->input_count]);
    }
    bool fits = list != NULL && c->input != NULL;
    free(list);
    return fits ? CLI_OK : cli_no_memory();
}
