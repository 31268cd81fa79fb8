/* command.c - `slewtime card`: what to time and read at the truck, what should show, and whether it
 * does. */
#include "answer.h"

#include <string.h>

#include "commands.h"
#include "frame/frame.h"
#include "frame/sampling.h"
#include "line/exit_code.h"
#include "line/report.h"

static slew_sampling sampling_of(const cli_options *options, cli_progress *progress)
{
    slew_sampling sampling = cli_sampling(options, "card", progress);
    if (options->samples == 0)
        sampling.samples = progress->samples = slew_sampling_default().samples;
    return sampling;
}

/* ---- a page that was filled in ---- */

static int read_readings(const cli_options *options, slew_timings *timings)
{
    slew_status status = slew_timings_read_file(
        options->readings, (slew_error_sink){.report = cli_tell_error}, timings);
    return status == SLEW_ERROR_MEMORY ? cli_no_memory() : cli_code(status);
}

/* a row that can't be made stands in its file */
static int report_row(const cli_options *options, slew_error *error)
{
    slew_timings_locate(options->readings, error);
    cli_report_error(error);
    return cli_code(SLEW_ERROR_INPUT);
}

static int judge(const cli_options *options, const slew_scenario *scenario, cli_card *a)
{
    slew_error error = {0};
    cli_progress progress;
    slew_card_verdict *v = &a->verdict;
    int code = read_readings(options, &a->timings);
    if (code != CLI_OK)
        return code;
    cli_warn_of_known(options, scenario);
    const slew_sampling sampling = sampling_of(options, &progress);
    slew_status status = slew_card_judge(scenario, &a->timings, &sampling, v, &error);
    cli_sampling_end(&progress);
    if (status == SLEW_ERROR_INPUT && error.line > 0)
        return report_row(options, &error);
    a->scenario = scenario;
    a->sampling = v->varies ? &sampling : NULL;
    a->path = options->operand[0];
    a->readings = options->readings;
    cli_provenance_words(scenario, a->sampling, v->samples, a->asked);
    const cli_frame frame = {.what = a,
                             .text = cli_verdict_text,
                             .document = cli_verdict_document,
                             .table = cli_verdict_table};
    return cli_frame_tell_sampled(options, &frame,
                                  &(cli_sampled){status, &error, sampling.samples, v->samples,
                                                 v->refused, &v->first_refusal});
}

/* ---- the card ---- */

static int ask(const cli_options *options, const slew_scenario *scenario, void *answer)
{
    cli_card *a = answer;
    slew_error error = {0};
    if (options->readings != NULL)
        return judge(options, scenario, a);
    cli_progress progress;
    cli_warn_of_known(options, scenario);
    const slew_sampling sampling = sampling_of(options, &progress);
    slew_status status = slew_card_run(scenario, &sampling, &a->card, &error);
    cli_sampling_end(&progress);
    a->scenario = scenario;
    a->sampling = a->card.varies ? &sampling : NULL;
    a->on_terminal = options->plot != NULL && strcmp(options->plot, "-") == 0;
    cli_provenance_words(scenario, a->sampling, a->card.samples, a->asked);
    const cli_frame frame = {a,
                             cli_card_text,
                             cli_card_document,
                             cli_card_table,
                             "card.gp",
                             "A check card for a visit to the truck, with bands to read against",
                             cli_card_fill};
    return cli_frame_tell_sampled(options, &frame,
                                  &(cli_sampled){status, &error, sampling.samples, a->card.samples,
                                                 a->card.refused, &a->card.first_refusal});
}

static int run(const cli_options *options)
{
    const cli_complaint complaint = {.expected = "the card alone as a picture, or the verdict as "
                                                 "text, --json or --csv",
                                     .help = "card"};
    if (options->readings != NULL && options->plot != NULL)
        return cli_complain(&complaint, "--readings goes without --plot");
    return cli_frame_ask(options, "card", sizeof(cli_card), ask);
}

const cli_command cli_card_command = {
    .name = "card",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_SAMPLING_OPTIONS | CLI_BIT(CLI_READINGS) |
               CLI_BIT(CLI_JSON) | CLI_BIT(CLI_CSV) | CLI_PICTURE_OPTIONS,
    .summary = "a page for a visit to the truck: what to time and read, does it pass",
    .about =
        "Prints a check card: each axis from stop to stop and to its home sensor, both ways; stow\n"
        "from three starts; deploy. Each reading has what the scenario predicts, the band over "
        "its\n"
        "spread in which a healthy truck should be, and room to write. --plot makes it an A4 "
        "page.\n"
        "--csv is the same travels as a blank table that fit reads once it is filled in, in part\n"
        "or whole. Without --samples 2048 trucks and days are simulated.\n"
        "--readings takes that table filled in, and says whether this truck passes: which\n"
        "readings are outside their bands and by how much, how many healthy trucks show a page\n"
        "as far off, what is not filled in, and what to do next. The bands are then those of the\n"
        "battery, pressure and temperature that a row states. Of healthy trucks 95 % pass.\n",
    .examples = "Examples:\n"
                "  slewtime card truck.yaml                      a page of text\n"
                "  slewtime card truck.yaml --plot card.pdf      the same to print\n"
                "  slewtime card truck.yaml --csv > times.csv    to fill in for slewtime fit\n"
                "  slewtime card truck.yaml --readings times.csv  does this truck pass\n",
    .cautions = true,
    .run = run,
};
