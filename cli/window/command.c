/* command.c - `slewtime window`: where a home sensor closes and opens, and what becomes of it. */
#include "answer.h"
#include "commands.h"
#include "frame/frame.h"
#include "frame/reading.h"
#include "line/exit_code.h"

static int read_options(const cli_options *options, cli_window *a, slew_window_question *question)
{
    int code = CLI_OK;
    slew_scenario_resolve(a->scenario, SLEW_OCCASION_STOW, &a->today);
    a->axis = options->axis == CLI_AXIS_ROTATION ? SLEW_ROTATION : SLEW_ELEVATION;
    *question = slew_window_question_default(a->axis);
    if (options->tolerance != NULL)
        code = cli_window_tolerances(options->tolerance, &a->today.axis[a->axis].home.magnet,
                                     question);
    if (code == CLI_OK && options->sense != NULL)
        code = cli_window_sense(options->sense, &a->sense);
    return code;
}

/* a sequence, where it begins, and the home of the other axis */
static const char *const *unneeded(const cli_options *options)
{
    static const char *const paths[SLEW_AXES][7] = {
        {"stow", "deploy", "rotation.start", "elevation.start", "elevation.search",
         "elevation.home"},
        {"stow", "deploy", "rotation.start", "elevation.start", "rotation.search",
         "rotation.home"}};
    return paths[options->axis == CLI_AXIS_ROTATION ? SLEW_ROTATION : SLEW_ELEVATION];
}

static int ask(const cli_options *options, const slew_scenario *scenario, void *answer)
{
    cli_window *a = answer;
    slew_error error = {0};
    slew_window_question question;
    a->scenario = scenario;
    int code = read_options(options, a, &question);
    if (code != CLI_OK)
        return code;
    slew_status status = slew_window_run(a->scenario, &question, &a->window, &error);
    if (status != SLEW_OK)
        return cli_report_located(options, status, &error);
    const cli_frame frame = {
        a,
        cli_window_text,
        cli_window_document,
        cli_window_table,
        "window.gp",
        "Where a home sensor closes and opens, and where the controller takes home",
        cli_window_fill};
    return cli_frame_tell(options, &frame);
}

const cli_command cli_window_command = {
    .name = "window",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_BIT(CLI_AXIS) | CLI_BIT(CLI_TOLERANCE) |
               CLI_BIT(CLI_SENSE) | CLI_BIT(CLI_JSON) | CLI_BIT(CLI_CSV) | CLI_PICTURE_OPTIONS,
    .summary = "where a home sensor closes and opens, and what that makes of home",
    .about =
        "Works out the angles at which a home sensor closes and opens from its magnet: the\n"
        "figures home.magnet of the scenario, with their tolerances (the worst of lowest, own\n"
        "and highest value of each that varies: --tolerance, or the scenario's spread). Says\n"
        "when it is too weak or too wide. Then lets the controller search for home by each\n"
        "approach rule, from either side and from inside the window, at three supply voltages\n"
        "and all phases of its sampling grid, and prints where home is acted on and where the\n"
        "axis comes to rest. For the visit to the truck: where a multimeter finds the sensor\n"
        "closed, and the voltage on its line. All of it as the axis is today.\n",
    .examples = "Examples:\n"
                "  slewtime window truck.yaml --axis rotation\n"
                "  slewtime window truck.yaml --axis rotation --tolerance gap=1mm,remanence=5%\n"
                "  slewtime window truck.yaml --sense 12V,1kohm,1.67kohm --plot window.png\n"
                "  slewtime window truck.yaml --set 'elevation.home.magnet.gap=4 mm' --json\n",
    .cautions = true,
    .unneeded = unneeded,
    .ask = ask,
    .answer_size = sizeof(cli_window),
};
