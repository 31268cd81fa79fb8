/* command.c - `slewtime schema`: the JSON Schema of a command's --json, or of a scenario file. */
#include <stdio.h>
#include <string.h>

#include "commands.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "line/suggest.h"
#include "scenario.h"
#include "slewtime/slewtime.h"
#include "tell/json.h"
#include "tell/key_range.h"

/* cli/schema/COMMAND.json as they are; `make schemas` writes them anew */
static const char *const answers[][2] = {
#include "answers.inc"
};

enum { ANSWERS = sizeof answers / sizeof *answers };

static int write_scenario(void)
{
    cli_key_trial *trial = cli_key_trial_new();
    if (trial == NULL)
        return cli_no_memory();
    return cli_key_trial_end(trial, cli_json_write(cli_schema_scenario, trial));
}

static int refuse(const char *name)
{
    const char *names[ANSWERS + 1] = {"scenario"};
    for (int i = 0; i < ANSWERS; i++)
        names[i + 1] = answers[i][0];
    const cli_complaint complaint = {.nearest = cli_nearest(name, strlen(name), names, ANSWERS + 1),
                                     .expected = "scenario, or a command that takes --json"};
    return cli_complain(&complaint, "schema %s: there is none of that", name);
}

static int run(const cli_options *options)
{
    const char *name = options->operand[0];
    if (strcmp(name, "scenario") == 0)
        return write_scenario();
    for (int i = 0; i < ANSWERS; i++)
        if (strcmp(answers[i][0], name) == 0) {
            fputs(answers[i][1], stdout);
            return CLI_OK;
        }
    return refuse(name);
}

const cli_command cli_schema_command = {
    .name = "schema",
    .operands = "COMMAND|scenario",
    .least = 1,
    .most = 1,
    .options = CLI_BIT(CLI_HELP),
    .summary = "the JSON Schema of a command's --json, or of scenarios",
    .about =
        "Prints a JSON Schema (draft 2020-12). With the name of a command: of what it answers\n"
        "with --json, every member with its type and unit. With the word scenario: of a\n"
        "scenario file, for an editor that completes and checks keys while you type.\n",
    .examples = "Examples:\n"
                "  slewtime schema run > run.json\n"
                "  slewtime schema scenario > scenario.json\n",
    .run = run,
};
