/* value.c - see value.h. */
#include "value.h"
#include "slewtime/read.h"

#include <stdio.h>
#include <stdlib.h>

#include "exit_code.h"
#include "report.h"

static int refuse(slew_status status, const char *option, const char *given, slew_error *error)
{
    snprintf(error->source, sizeof error->source, "%.20s %.200s", option, given);
    error->line = error->column = 0;
    cli_report_error(error);
    return cli_code(status);
}

int cli_read_vary(const char *text, const slew_scenario *scenario, slew_vary *vary)
{
    slew_error error = {0};
    slew_status status = slew_vary_read(scenario, text, vary, &error);
    if (status == SLEW_ERROR_MEMORY)
        return cli_no_memory();
    return status == SLEW_OK ? CLI_OK : refuse(status, "--vary", text, &error);
}

static void keep(void *context, const slew_error *error)
{
    *(slew_error *)context = *error;
}

static slew_status read_as(const char *path, const char *text, double *value, slew_error *error)
{
    slew_scenario *scratch = malloc(sizeof *scratch);
    if (scratch == NULL)
        return SLEW_ERROR_MEMORY;
    slew_scenario_init(scratch);
    slew_status status =
        slew_scenario_set(scratch, SLEW_LAYER_FILE, path, text, (slew_error_sink){keep, error});
    *value = slew_scenario_get_number(scratch, slew_key_find(path));
    free(scratch);
    return status;
}

int cli_read_value(const char *option, const char *given, const char *path, const char *text,
                   double *value)
{
    slew_error error = {0};
    slew_status status = read_as(path, text, value, &error);
    if (status == SLEW_ERROR_MEMORY)
        return cli_no_memory();
    return status == SLEW_OK ? CLI_OK : refuse(status, option, given, &error);
}

int cli_read_quantity(const char *option, const char *text, const char *path, const char *expected,
                      double *value)
{
    const cli_complaint complaint = {.expected = expected};
    slew_error error = {0};
    slew_status status = read_as(path, text, value, &error);
    if (status == SLEW_ERROR_MEMORY)
        return cli_no_memory();
    return status == SLEW_OK ? CLI_OK : cli_complain(&complaint, "%s %s", option, error.message);
}

int cli_check_count(const char *option, const cli_texts *given, int most)
{
    const cli_complaint complaint = {0};
    if (given->count <= most)
        return CLI_OK;
    return cli_complain(&complaint, "%s is given %d times; %d is the most", option, given->count,
                        most);
}

int cli_read_values(const char *option, const cli_texts *given, const char *path,
                    double values[CLI_VALUES_MAX])
{
    const cli_complaint complaint = {.expected = "a value above 0"};
    int code = cli_check_count(option, given, CLI_VALUES_MAX);
    for (int i = 0; code == CLI_OK && i < given->count; i++) {
        code = cli_read_value(option, given->text[i], path, given->text[i], &values[i]);
        if (code == CLI_OK && !(values[i] > 0))
            code = cli_complain(&complaint, "%s %s: nothing flows", option, given->text[i]);
    }
    return code;
}
