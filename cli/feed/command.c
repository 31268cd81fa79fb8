/* command.c - `slewtime feed`: the voltage at the controller under load, and which conductor
 * suffices.
 */
#include "answer.h"
#include "commands.h"
#include "frame/frame.h"
#include "frame/reading.h"
#include "frame/sampling.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "line/value.h"
#include "slewtime/slewtime.h"

/* for each conductor: enough to see a fault in 1 of 100 days, eight times as many confirm */
static const int64_t default_samples = 512;

/* ---- options ---- */

static int read_question(const cli_options *options, slew_feed_question *question)
{
    const cli_complaint complaint = {.expected =
                                         "a share above 0 % and below 100 %, for example 3%"};
    *question = (slew_feed_question){
        .occasion = options->only == CLI_ONLY_DEPLOY ? SLEW_OCCASION_DEPLOY : SLEW_OCCASION_STOW,
        .drop_count = 2,
        .drop = {0.03, 0.10}};
    if (options->drop == NULL)
        return CLI_OK;
    question->drop_count = 1;
    int code = cli_read_quantity("--drop", options->drop, "supply.feed.stranding",
                                 complaint.expected, &question->drop[0]);
    if (code == CLI_OK && !(question->drop[0] > 0 && question->drop[0] < 1))
        return cli_complain(&complaint, "--drop %s: that is %.6g %%", options->drop,
                            100 * question->drop[0]);
    return code;
}

/* ---- a measurement ---- */

static int check_measured(const cli_options *options)
{
    const cli_complaint complaint = {.expected = "--measured-drop 0.6V --measured-current 12A, or "
                                                 "--measured-voltage 11.2V",
                                     .help = "feed"};
    if (options->measured_voltage != NULL && options->measured_drop != NULL)
        return cli_complain(&complaint, "two measurements at once");
    if ((options->measured_drop != NULL) != (options->measured_current != NULL))
        return cli_complain(&complaint, "a measured drop and its current belong together");
    return CLI_OK;
}

static int explain_drop(const cli_options *options, cli_feed *a, slew_error *error)
{
    double drop, current;
    int code = cli_read_quantity("--measured-drop", options->measured_drop, "supply.main.voltage",
                                 "a voltage above 0 V, for example 0.6V", &drop);
    if (code == CLI_OK)
        code =
            cli_read_quantity("--measured-current", options->measured_current, "supply.shared_load",
                              "a current above 0 A, for example 12A", &current);
    if (code != CLI_OK)
        return code;
    a->measured = CLI_FEED_DROP;
    return cli_code(slew_feed_explain_drop(&a->answer.setup, drop, current, &a->joint, error));
}

static int explain_voltage(const cli_options *options, cli_feed *a, slew_error *error)
{
    double voltage;
    int code =
        cli_read_quantity("--measured-voltage", options->measured_voltage, "supply.main.voltage",
                          "a voltage above 0 V, for example 11.2V", &voltage);
    if (code != CLI_OK)
        return code;
    a->measured = CLI_FEED_VOLTAGE;
    a->axis = options->axis == CLI_AXIS_ROTATION ? SLEW_ROTATION : SLEW_ELEVATION;
    return cli_code(
        slew_feed_explain_voltage(&a->answer.setup, a->axis, voltage, &a->joint, error));
}

static int explain(const cli_options *options, cli_feed *a)
{
    slew_error error = {0};
    int code = CLI_OK;
    if (options->measured_drop != NULL)
        code = explain_drop(options, a, &error);
    else if (options->measured_voltage != NULL)
        code = explain_voltage(options, a, &error);
    if (error.message[0] != '\0')
        cli_report_error(&error);
    return code;
}

/* ---- the command ---- */

/* whole days on every conductor */
static int ask_work(const cli_options *options, cli_feed *a)
{
    slew_error error = {0};
    cli_progress progress;
    cli_warn_of_known(options, a->scenario);
    a->sampling = cli_sampling(options, "feed", &progress);
    if (options->samples == 0)
        a->sampling.samples = progress.samples = default_samples;
    slew_status status =
        slew_feed_work_run(a->scenario, a->ladder[1], &a->sampling, &a->work, &error);
    cli_sampling_end(&progress);
    return status == SLEW_OK ? CLI_OK : cli_report_located(options, status, &error);
}

static int ask(const cli_options *options, const slew_scenario *scenario, void *answer)
{
    cli_feed *a = answer;
    slew_error error = {0};
    a->scenario = scenario;
    a->all = options->all;
    a->ladder[0] = SLEW_LADDER_AWG;
    a->ladder[1] = options->iec_class == CLI_CLASS_2 ? SLEW_LADDER_CLASS_2 : SLEW_LADDER_CLASS_5;
    if (check_measured(options) != CLI_OK || read_question(options, &a->question) != CLI_OK)
        return CLI_WRONG;
    slew_status status = slew_feed_run(scenario, &a->question, &a->answer, &error);
    if (status != SLEW_OK)
        return cli_report_located(options, status, &error);
    int code = explain(options, a);
    if (code != CLI_OK)
        return code;
    cli_name_lacking(scenario, a->lacking, sizeof a->lacking);
    if (a->lacking[0] == '\0')
        code = ask_work(options, a);
    if (code != CLI_OK)
        return code;
    if (options->csv || options->plot != NULL)
        slew_feed_sweep_run(&a->answer, a->ladder[1], &a->sweep);
    const cli_frame frame = {
        a,
        cli_feed_text,
        cli_feed_document,
        cli_feed_table,
        "feed.gp",
        "Voltage at the controller while running, against the length of the feed",
        cli_feed_fill};
    return cli_frame_tell(options, &frame);
}

const cli_command cli_feed_command = {
    .name = "feed",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_SAMPLING_OPTIONS | CLI_BIT(CLI_ONLY) | CLI_BIT(CLI_DROP) |
               CLI_BIT(CLI_CLASS) | CLI_BIT(CLI_MEASURED_VOLTAGE) | CLI_BIT(CLI_MEASURED_DROP) |
               CLI_BIT(CLI_MEASURED_CURRENT) | CLI_BIT(CLI_AXIS) | CLI_BIT(CLI_ALL) |
               CLI_BIT(CLI_JSON) | CLI_BIT(CLI_CSV) | CLI_PICTURE_OPTIONS,
    .summary = "voltage at the controller under load; which conductor suffices",
    .about =
        "First the whole work: taught, stowed and deployed on every size over the spread and on\n"
        "its coldest, weakest day. Names the thinnest on which the truck works without a fault,\n"
        "and the thinnest that keeps the minimum voltage while running as often as demanded, both\n"
        "confirmed on fresh simulated days. Then the voltage at the controller at rest, running, "
        "starting\n"
        "and stalled, and the conductors near the one named. With --all also how length,\n"
        "connections, other load, cold, heat and an auxiliary battery change it. Running is\n"
        "steady, where the load holds each axis back most between its hard stops. The drop is "
        "that\n"
        "of conductors and connections, as a share of the nominal voltage. Gauges are stranded as\n"
        "the scenario says; mm2 sizes have the largest resistance that IEC 60228 allows.\n"
        "Conditions are today's, with --only deploy those of the deploy.\n"
        "A file for a wiring check on paper may leave out stow, deploy, start, home and search:\n"
        "then the whole work is left out, and the answer is of the steady points alone.\n"
        "Only voltage is looked at. Whether a conductor may carry its current, and how it is\n"
        "fused, is for the codes and the manufacturer's instructions: the thinnest here can be "
        "too\n"
        "thin for its fuse. Batteries deliver hundreds of amperes into a short circuit: "
        "disconnect\n"
        "and lock them out before work on the feed cable.\n",
    .examples = "Examples:\n"
                "  slewtime feed truck.yaml --plot feed.png\n"
                "  slewtime feed truck.yaml --set 'supply.feed.length=15 m' --drop 5% --class 2\n"
                "  slewtime feed truck.yaml --measured-drop 0.6V --measured-current 12A\n"
                "  slewtime feed truck.yaml --measured-voltage 11.2V --axis elevation\n",
    .unneeded = cli_unneeded_for_wiring,
    .cautions = true,
    .ask = ask,
    .answer_size = sizeof(cli_feed),
};
