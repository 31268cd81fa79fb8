/* command.c - `slewtime run`: what happens, event by event; does it stow and deploy where it
 * should. */
#include "answer.h"
#include "commands.h"
#include "frame/frame.h"
#include "line/exit_code.h"
#include "pose/pose.h"
#include "single/timeline.h"
#include "single/trace.h"
#include "travel/travel.h"

/* After ctrl-C the fan has what it knows, and *stopped the exit code of that. */
static int draw_pose(const cli_options *options, const cli_single *single, int *stopped)
{
    cli_fan fan = {0};
    cli_pose pose = {.single = single};
    if (options->samples > 0) {
        *stopped = cli_fan_run(options, single, &fan);
        pose.fan = &fan;
    }
    int code = *stopped;
    if (code == CLI_OK || fan.rest.done > 0)
        code = cli_pose_draw(options, 1, &pose);
    slew_ensemble_free(&fan.rest);
    return code;
}

/* files first: while one of them fails nothing is on stdout */
static int tell(const cli_options *options, const cli_single *single)
{
    const cli_frame frame = {
        single,         cli_timeline, cli_run_document,
        cli_run_table,  "travel.gp",  "Angles, current and controller voltage against time",
        cli_travel_fill};
    int code = CLI_OK, stopped = CLI_OK;
    if (options->trace != NULL)
        code = cli_trace_file(options->trace, single);
    if (code == CLI_OK && options->pose != NULL)
        code = draw_pose(options, single, &stopped);
    if (code == CLI_OK)
        code = cli_frame_tell(options, &frame);
    if (code == CLI_OK && options->require == CLI_REQUIRE_OK &&
        !slew_result_ok(single->scenario, single->parts, &single->result))
        code = CLI_NOT_OK;
    return stopped != CLI_OK ? stopped : code;
}

static int ask(const cli_options *options, const slew_scenario *scenario, void *answer)
{
    cli_single *single = answer;
    single->scenario = scenario;
    single->parts = cli_wanted_parts(options);
    int code = cli_single_run(single, options, options->plot != NULL);
    if (code == CLI_OK)
        code = tell(options, single);
    cli_single_free(single);
    return code;
}

static int run(const cli_options *options)
{
    int code = cli_fan_check(options, "run");
    return code == CLI_OK ? cli_frame_ask(options, "run", sizeof(cli_single), ask) : code;
}

const cli_command cli_run_command = {
    .name = "run",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_SAMPLING_OPTIONS | CLI_BIT(CLI_ONLY) |
               CLI_BIT(CLI_REQUIRE) | CLI_BIT(CLI_JSON) | CLI_BIT(CLI_CSV) | CLI_BIT(CLI_TRACE) |
               CLI_PICTURE_OPTIONS | CLI_BIT(CLI_POSE),
    .summary = "what happens, event by event; does it stow and deploy where it should",
    .about =
        "Teaches the stow point at the teaching conditions, then stows with the stored times\n"
        "as things are today, then deploys. Prints what happens and when, what the controller\n"
        "says at the end, and where the axes truly are.\n"
        "An axis jammed against its stop, though reported done, is not ok.\n"
        "--plot draws the travel against time, --pose the barrel where it rests. With --samples N\n"
        "the pose has a fan: where N trucks and days rest, over the scenario's spread.\n",
    .examples = "Examples:\n"
                "  slewtime run truck.yaml\n"
                "  slewtime run truck.yaml --today 'supply.main.voltage=11.8 V' --plot cold.png\n"
                "  slewtime run truck.yaml --pose pose.png --samples 500\n"
                "  slewtime run truck.yaml --only stow --json --require ok\n",
    .draws_nothing = true,
    .cautions = true,
    .run = run,
};
