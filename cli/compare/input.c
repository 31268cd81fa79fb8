/* input.c - in what the scenarios of a comparison differ. */
#include <stdlib.h>

#include "answer.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "slewtime/differences.h"

static cli_input input_of(const cli_comparison *c, const slew_scenario *const *scenarios,
                          slew_difference difference)
{
    cli_input input;
    slew_difference_path(difference, input.path, sizeof input.path);
    for (int i = 0; i < c->columns.count; i++)
        slew_difference_format(scenarios[i], difference, input.value[i], sizeof input.value[i]);
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
