/* command.c - `slewtime speed`: speed, current and voltage against supply voltage and reaction. */
#include "answer.h"
#include "commands.h"
#include "frame/frame.h"
#include "frame/reading.h"
#include "line/exit_code.h"

static int find_answers(const cli_options *options, cli_speed *a)
{
    slew_error error = {0};
    slew_status status = SLEW_OK;
    for (int i = 0; i < a->count && status == SLEW_OK; i++)
        status = slew_speed_run(a->scenario, &a->question[i], &a->answer[i], &error);
    return status == SLEW_OK ? CLI_OK : cli_report_located(options, status, &error);
}

static int ask(const cli_options *options, const slew_scenario *scenario, void *answer)
{
    cli_speed *a = answer;
    const cli_frame frame = {a,
                             cli_speed_text,
                             cli_speed_document,
                             cli_speed_table,
                             "speed.gp",
                             "Speed of each axis and direction against the battery voltage",
                             cli_speed_fill};
    a->scenario = scenario;
    a->all = options->all;
    int code = cli_speed_questions(options, a);
    if (code == CLI_OK)
        code = find_answers(options, a);
    if (code == CLI_OK)
        code = cli_frame_tell(options, &frame);
    for (int i = 0; i < a->count; i++)
        slew_speed_free(&a->answer[i]);
    return code;
}

const cli_command cli_speed_command = {
    .name = "speed",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_BIT(CLI_ONLY) | CLI_BIT(CLI_AXIS) | CLI_BIT(CLI_VARY) |
               CLI_BIT(CLI_AT) | CLI_BIT(CLI_PRESSURE) | CLI_BIT(CLI_JSON) | CLI_BIT(CLI_CSV) |
               CLI_PICTURE_OPTIONS | CLI_BIT(CLI_ALL),
    .summary = "speed, current and voltage against battery voltage; where an axis stalls",
    .about =
        "Drives one axis at a time, each way, over a range of battery voltages (open circuit), "
        "dry\n"
        "and with the nozzle's reaction: half and all of nozzle.pressure, or the given pressures.\n"
        "The flow of a fog nozzle then goes with the root of the pressure, as through a fixed\n"
        "opening. Tells steady speed, motor current and controller voltage where the load slows\n"
        "the axis most and least between its hard stops (or at --at), the time from stop to stop,\n"
        "and the lowest battery voltages at which it keeps running, starts, gets from stop to\n"
        "stop, and clears brownout and the minimum voltage. --all adds a table over the voltages.\n"
        "Conditions are those of today; those of deploy day follow where they differ; --only\n"
        "picks one. The picture shows the first of them. --axis tells of one axis alone.\n"
        "The file may leave out stow, deploy, start, home and search.\n",
    .examples = "Examples:\n"
                "  slewtime speed truck.yaml --plot speed.png\n"
                "  slewtime speed truck.yaml --vary supply.main.voltage=9V:15V:24 --csv\n"
                "  slewtime speed truck.yaml --pressure 5bar --pressure 8bar --at elevation=30deg\n"
                "  slewtime speed truck.yaml --today 'environment.temperature=-20 degC'\n",
    .cautions = true,
    .unneeded = cli_unneeded_for_wiring,
    .ask = ask,
    .answer_size = sizeof(cli_speed),
};
