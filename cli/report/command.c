/* command.c - `slewtime report`: one scenario as a report for the customer, in one file. */
#include <stdlib.h>

#include "answer.h"
#include "commands.h"
#include "frame/reading.h"
#include "line/exit_code.h"
#include "line/output.h"
#include "line/report.h"
#include "tell/append.h"

static const cli_command *const asked[CLI_REPORT_PARTS] = {
    [CLI_REPORT_PLAN] = &cli_plan_command,     [CLI_REPORT_RUN] = &cli_run_command,
    [CLI_REPORT_MARGIN] = &cli_margin_command, [CLI_REPORT_OFFSET] = &cli_offset_command,
    [CLI_REPORT_FEED] = &cli_feed_command,     [CLI_REPORT_MAP] = &cli_map_command,
    [CLI_REPORT_CAUSES] = &cli_causes_command, [CLI_REPORT_CARD] = &cli_card_command};

static void keep_warning(void *context, const slew_error *warning)
{
    cli_append(context, CLI_REPORT_WARNINGS_MAX, "%s: %s\n", warning->key, warning->message);
}

static int write_report(const cli_report *report)
{
    cli_file file;
    int code = cli_file_open(&file, report->options->out);
    if (code != CLI_OK)
        return code;
    return cli_file_close(&file, cli_report_page(file.stream, report) ? CLI_OK : CLI_OUTSIDE);
}

static int answer(const cli_options *options, slew_scenario *scenario, cli_report *report)
{
    slew_error error = {0};
    report->scenario = scenario;
    report->options = options;
    report->asked = asked;
    int code =
        cli_read_scenario_and(options, (slew_error_sink){keep_warning, report->warnings}, scenario);
    if (code != CLI_OK)
        return code;
    slew_status status = cli_report_simulate_days(scenario, options, &report->days, &error);
    if (status != SLEW_OK)
        return cli_report_located(options, status, &error);
    code = cli_report_ask(report);
    return code == CLI_OK ? write_report(report) : code;
}

static int run(const cli_options *options)
{
    const cli_complaint complaint = {.expected = "--out truck.html", .help = "report"};
    if (options->out == NULL)
        return cli_complain(&complaint, "report needs a file to write");
    slew_scenario *scenario = malloc(sizeof *scenario);
    cli_report *report = calloc(1, sizeof *report);
    int code =
        scenario != NULL && report != NULL ? answer(options, scenario, report) : cli_no_memory();
    if (report != NULL)
        cli_report_free(report);
    free(report);
    free(scenario);
    return code;
}

const cli_command cli_report_command = {
    .name = "report",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_BIT(CLI_OUT) | CLI_BIT(CLI_SEED) | CLI_BIT(CLI_THREADS),
    .summary = "a report for the customer: one HTML file, to read or print",
    .about =
        "Asks plan, run, margin, offset, feed, map, causes and card, and puts what they say and "
        "draw\n"
        "into one file that opens in any current browser and prints on Letter and A4. Page one "
        "has\n"
        "the verdict, what to do and by whom, and a hundred simulated days; then clearance, "
        "deploy\n"
        "seconds, voltage, weather, changes, what to check if it goes wrong, and the check card.\n"
        "Events, assumptions, keys and the commands that give the same figures are in the "
        "appendix.\n",
    .examples = "Examples:\n"
                "  slewtime report truck.yaml --out truck.html\n"
                "  slewtime report truck.yaml --set 'supply.feed.gauge=6 AWG' --out thicker.html\n",
    .cautions = true,
    .run = run,
};
