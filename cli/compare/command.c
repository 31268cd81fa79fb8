/* command.c - `slewtime compare`: several scenarios side by side. */
#include <stdlib.h>

#include "answer.h"
#include "commands.h"
#include "frame/frame.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "pose/pose.h"

static bool all_ok(const cli_compared_runs *columns)
{
    for (int i = 0; i < columns->count; i++) {
        const cli_single *single = &columns->column[i].single;
        if (!columns->column[i].runs ||
            !slew_result_ok(single->scenario, single->parts, &single->result))
            return false;
    }
    return true;
}

/* the columns as poses */
static int draw_pose(const cli_options *options, const cli_compared_runs *columns)
{
    char title[CLI_COLUMNS_MAX][CLI_COLUMN_NAME_MAX + 4];
    cli_pose pose[CLI_COLUMNS_MAX] = {{0}};
    for (int i = 0; i < columns->count; i++) {
        const cli_compared_run *column = &columns->column[i];
        snprintf(title[i], sizeof title[i], "%c  %s", column->letter, column->name);
        pose[i] = (cli_pose){.title = title[i],
                             .single = &column->single,
                             .why_not = column->runs ? NULL : column->error.message};
    }
    return cli_pose_draw(options, columns->count, pose);
}

static int tell(const cli_options *options, cli_comparison *comparison)
{
    const cli_frame frame = {
        comparison,           cli_compare_text,
        cli_compare_document, cli_compare_table,
        "compare.gp",         "Angles and voltage of several runs side by side against time",
        cli_compare_fill};
    int code = cli_compare_inputs(comparison);
    if (code == CLI_OK && options->pose != NULL)
        code = draw_pose(options, &comparison->columns);
    if (code == CLI_OK)
        code = cli_frame_tell(options, &frame);
    if (code == CLI_OK && options->require == CLI_REQUIRE_OK && !all_ok(&comparison->columns))
        code = CLI_NOT_OK;
    return code;
}

static int run(const cli_options *options)
{
    int code = cli_frame_check(options, "compare");
    if (code != CLI_OK)
        return code;
    cli_comparison *comparison = calloc(1, sizeof *comparison);
    if (comparison == NULL)
        return cli_no_memory();
    code = cli_compared_runs_run(&comparison->columns, options, options->plot != NULL);
    if (code == CLI_OK)
        code = tell(options, comparison);
    cli_compared_runs_free(&comparison->columns);
    free(comparison->input);
    free(comparison);
    return code;
}

const cli_command cli_compare_command = {
    .name = "compare",
    .operands = "SCENARIO [SCENARIO ...]",
    .least = 1,
    .most = 1000000, /* how many columns there may be is told with the reason */
    .options = CLI_SCENARIO_OPTIONS | CLI_BIT(CLI_BESIDE) | CLI_BIT(CLI_ONLY) |
               CLI_BIT(CLI_REQUIRE) | CLI_BIT(CLI_JSON) | CLI_BIT(CLI_CSV) | CLI_PICTURE_OPTIONS |
               CLI_BIT(CLI_POSE),
    .summary = "several scenarios side by side, one table, one picture",
    .about =
        "Runs 2 to 6 scenarios and sets them side by side: in which keys they differ, what the\n"
        "controller reports of each, where the axes rest, how low the voltage falls. Rows that\n"
        "differ have a * in the margin. Either several scenario files, to all of which the\n"
        "assignments apply; or one file, as it is and, beside it, with the assignments that\n"
        "follow each --beside NAME.\n"
        "A point that can't be taught is named in its column, the others are answered: exit 0, "
        "with\n"
        "--require ok 1, and 2 only when no column can be taught. The title, deploy choices and\n"
        "the spread, on which a single run does not depend, are not compared.\n",
    .examples =
        "Examples:\n"
        "  slewtime compare enough.yaml faults.yaml --plot compare.png\n"
        "  slewtime compare truck.yaml --beside 'low battery' --today supply.main.voltage=11.8V\n"
        "  slewtime compare truck.yaml --only deploy \\\n"
        "      --beside 'thicker cable' --set 'supply.feed.gauge=4 AWG' \\\n"
        "      --beside 'auxiliary battery' --set supply.auxiliary.fitted=yes --require ok\n",
    .draws_nothing = true,
    .cautions = true,
    .run = run,
};
