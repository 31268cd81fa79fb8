/* command.c - `slewtime check`: is this file right, and what follows from it. */
#include <stdlib.h>

#include "answer.h"
#include "commands.h"
#include "frame/frame.h"
#include "line/exit_code.h"
#include "line/report.h"

static slew_status find_facts(cli_check *a, slew_error *error)
{
    const slew_scenario *s = a->single.scenario;
    slew_status status = SLEW_OK;
    for (int axis = 0; axis < SLEW_AXES && status == SLEW_OK; axis++)
        status = slew_axis_facts_run(s, SLEW_OCCASION_STOW, axis, &a->axis[axis], error);
    if (status == SLEW_OK)
        status = slew_hangs_run(s, a->given, &a->hangs, error);
    return status;
}

static int find_all(cli_check *a, const cli_options *options)
{
    slew_error error = {0};
    slew_status status = find_facts(a, &error);
    return status == SLEW_OK ? CLI_OK : cli_report_located(options, status, &error);
}

static int ask(const cli_options *options, const slew_scenario *scenario, void *answer)
{
    cli_check *a = answer;
    a->single.scenario = scenario;
    a->path = options->operand[0];
    a->given = options->given;
    a->doubt_count = slew_scenario_doubts(scenario, a->doubt);
    cli_doubt_warn(options, a->doubt, a->doubt_count);
    int code = cli_single_prepare(&a->single, options);
    if (code == CLI_OK)
        code = find_all(a, options);
    const cli_frame frame = {.what = a, .text = cli_check_text, .document = cli_check_document};
    return code == CLI_OK ? cli_frame_tell(options, &frame) : code;
}

static int run(const cli_options *options)
{
    cli_options asking = *options;
    asking.given = calloc((size_t)slew_key_count(), sizeof *asking.given);
    if (asking.given == NULL)
        return cli_no_memory();
    int code = cli_frame_ask(&asking, "check", sizeof(cli_check), ask);
    free(asking.given);
    return code;
}

const cli_command cli_check_command = {
    .name = "check",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_BIT(CLI_JSON),
    .summary = "is this file right, and what follows from it",
    .about =
        "Reads the scenario and tells every error and warning with its line and the way out, and\n"
        "values that no truck has. Teaches the stow point, which shows whether it can be taught.\n"
        "Then what each axis does today: speed, seconds from stop to stop, currents against the\n"
        "stall threshold, distances; and which keys that were left to their defaults move the\n"
        "answer: each is tried at a lower and an upper value that trucks have, by itself.\n",
    .examples = "Examples:\n"
                "  slewtime check truck.yaml\n"
                "  slewtime check truck.yaml --json\n"
                "  slewtime check truck.yaml --set 'stow.point.elevation=-18 deg'\n",
    .run = run,
};
