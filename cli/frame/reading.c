/* reading.c - see reading.h. */
#include "reading.h"

#include <stdio.h>
#include <string.h>

#include "line/exit_code.h"
#include "line/report.h"
#include "tell/append.h"

static void tell_warning(void *context, const slew_error *warning)
{
    (void)context;
    cli_report_warning(warning);
}

int cli_read_scenario_and(const cli_options *options, slew_error_sink warnings,
                          slew_scenario *scenario)
{
    const slew_reading reading = {
        .assignments = options->assignment,
        .assignment_count = options->assignment_count,
        .errors = {.report = cli_tell_error},
        .warnings = warnings,
        .spread_unused = options->spread_unused,
        .unneeded = options->unneeded,
        .given = options->given,
    };
    slew_status status = slew_scenario_read_file(options->operand[0], &reading, scenario);
    return status == SLEW_ERROR_MEMORY ? cli_no_memory() : cli_code(status);
}

int cli_read_scenario(const cli_options *options, slew_scenario *scenario)
{
    const slew_error_sink warnings = {.report = options->quiet ? NULL : tell_warning};
    return cli_read_scenario_and(options, warnings, scenario);
}

void cli_locate(const cli_options *options, slew_error *error)
{
    static slew_scenario again;
    const slew_reading reading = {.assignments = options->assignment,
                                  .assignment_count = options->assignment_count,
                                  .unneeded = options->unneeded,
                                  .locate = error};
    snprintf(error->source, sizeof error->source, "%s", options->operand[0]);
    if (error->key[0] != '\0')
        slew_scenario_read_file(options->operand[0], &reading, &again);
}

int cli_report_located(const cli_options *options, slew_status status, slew_error *error)
{
    if (status == SLEW_ERROR_MEMORY)
        return cli_no_memory();
    cli_locate(options, error);
    cli_report_error(error);
    return cli_code(status);
}

const char *const *cli_unneeded_for_wiring(const cli_options *options)
{
    static const char *const paths[] = {"stow",           "deploy",           "rotation.start",
                                        "rotation.home",  "rotation.search",  "elevation.start",
                                        "elevation.home", "elevation.search", NULL};
    (void)options;
    return paths;
}

typedef struct lacking {
    char *text;
    size_t size;
} lacking;

static void name_one(void *context, const slew_error *error)
{
    const lacking *l = context;
    if (strncmp(error->message, "required", strlen("required")) == 0)
        cli_append(l->text, l->size, "%s%s", l->text[0] != '\0' ? ", " : "", error->key);
}

void cli_name_lacking(const slew_scenario *scenario, char *text, size_t size)
{
    lacking l = {text, size};
    const slew_error_sink errors = {.report = name_one, .context = &l}, none = {0};
    text[0] = '\0';
    slew_scenario_check(scenario, errors, none);
}
