/* input.c - in what the scenarios of a comparison differ. */
#include <stdlib.h>

#include "answer.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "slewtime/differences.h"
#include "tell/key_words.h"

/* "battery voltage today", "keep-out zone light mast" */
static void find_words(cli_input *input, slew_difference difference)
{
    char name[CLI_KEY_WORDS_MAX];
    if (difference.box != NULL) {
        snprintf(input->words, sizeof input->words, "keep-out zone %.100s", difference.box);
        return;
    }
    cli_key_words_on(difference.key, difference.layer, name);
    snprintf(input->words, sizeof input->words, "%s", name);
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
        cli_key_shown(input.key, scenarios[0]->units, input.value[i], input.shown[i],
                      sizeof input.shown[i]);
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
