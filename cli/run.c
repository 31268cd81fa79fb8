/* run.c - `slewtime run`: what happens, event by event; does it stow and deploy where it should. */
#include <stdlib.h>
#include <string.h>

#include "answer.h"
#include "command.h"
#include "csv.h"
#include "json.h"
#include "plot.h"
#include "pose.h"
#include "report.h"
#include "story.h"
#include "timeline.h"
#include "trace.h"
#include "travel.h"

static slew_parts wanted_parts(const cli_options *options)
{
    switch (options->only) {
    case CLI_ONLY_STOW:
        return SLEW_STOW_ONLY;
    case CLI_ONLY_DEPLOY:
        return SLEW_DEPLOY_ONLY;
    default:
        return SLEW_STOW_AND_DEPLOY;
    }
}

static int print(const cli_options *options, const cli_story *story)
{
    if (options->json)
        return cli_json_story(story);
    if (options->csv)
        cli_csv_events(stdout, story);
    else
        cli_timeline(story);
    return CLI_OK;
}

/* After ctrl-C the picture has what the fan knows, and the exit code says that it was stopped. */
static int draw_pose(const cli_options *options, const cli_story *story)
{
    cli_fan fan = {0};
    int stopped = CLI_OK;
    if (options->samples > 0)
        stopped = cli_fan_run(options, story, &fan);
    if (stopped != CLI_OK && fan.ensemble.done == 0)
        return stopped;
    const cli_pose pose = {.story = story, .fan = options->samples > 0 ? &fan : NULL};
    int code = cli_pose_draw(options->pose, 1, &pose);
    cli_fan_free(&fan);
    return code != CLI_OK ? code : stopped;
}

/* files first: while one of them fails nothing is on stdout */
static int tell(const cli_options *options, const cli_story *story)
{
    int code = CLI_OK;
    if (options->trace != NULL)
        code = cli_trace_file(options->trace, story);
    if (code == CLI_OK && options->plot != NULL)
        code = cli_travel_picture(options->plot, story);
    if (code == CLI_OK && options->pose != NULL)
        code = draw_pose(options, story);
    if (code == CLI_OK)
        code = print(options, story);
    if (code == CLI_OK && options->require == CLI_REQUIRE_OK &&
        !slew_result_ok(&story->scenario, story->parts, &story->result))
        code = CLI_NOT_OK;
    return code;
}

static int check(const cli_options *options)
{
    const cli_complaint complaint = {.expected = "two files", .help = "run"};
    int code = cli_answer_check(options, "run");
    if (code == CLI_OK && options->pose != NULL)
        code = cli_plot_check("--pose", options->pose);
    if (code == CLI_OK && options->pose != NULL && options->plot != NULL &&
        strcmp(options->pose, options->plot) == 0 && strcmp(options->pose, "-") != 0)
        code = cli_complain(&complaint, "--plot and --pose both write %s", options->pose);
    return code == CLI_OK ? cli_fan_check(options, "run") : code;
}

static int run(const cli_options *options)
{
    cli_story *story = calloc(1, sizeof *story);
    int code = check(options);
    if (story == NULL)
        return cli_no_memory();
    if (code == CLI_OK)
        code = cli_read_scenario(options, &story->scenario);
    story->parts = wanted_parts(options);
    if (code == CLI_OK)
        code = cli_story_run(story, options, options->trace != NULL || options->plot != NULL);
    if (code == CLI_OK)
        code = tell(options, story);
    cli_story_free(story);
    return code;
}

const cli_command cli_run_command = {
    .name = "run",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_SAMPLING_OPTIONS | CLI_BIT(CLI_ONLY) |
               CLI_BIT(CLI_REQUIRE) | CLI_BIT(CLI_JSON) | CLI_BIT(CLI_CSV) | CLI_BIT(CLI_TRACE) |
               CLI_BIT(CLI_PLOT) | CLI_BIT(CLI_POSE),
    .summary = "what happens, event by event; does it stow and deploy where it should",
    .about =
        "Teaches the stow point at the teaching conditions, then stows with the stored times\n"
        "as things are today, then deploys. Prints what happens and when, what the controller\n"
        "says at the end, and where the axes truly are.\n"
        "An axis pressed on its stop but within the tolerance is on target for --require ok;\n"
        "the text says it.\n",
    .examples = "Examples:\n"
                "  slewtime run truck.yaml\n"
                "  slewtime run truck.yaml --today 'supply.main.voltage=11.8 V' --plot cold.png\n"
                "  slewtime run truck.yaml --only stow --json --require ok\n",
    .cautions = true,
    .run = run,
};
