/* command.c - `slewtime card`: what to time and read at the truck, and what should show. */
#include "answer.h"

#include "commands.h"
#include "frame/answer.h"
#include "frame/sampling.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "single/single_run.h"
#include "slewtime/slewtime.h"

static int tell(const cli_options *options, cli_card *a, const slew_sampling *sampling)
{
    const cli_answer how = {a, cli_card_draw, cli_card_json, cli_card_csv, cli_card_print};
    a->sampling = a->card.varies ? sampling : NULL;
    cli_provenance_words(a->scenario, a->sampling, a->card.samples, a->asked);
    cli_warn_of_refused(options, a->card.refused, &a->card.first_refusal);
    return cli_answer_tell(options, &how);
}

static int ask(const cli_options *options, const slew_scenario *scenario, void *answer)
{
    cli_card *a = answer;
    slew_error error = {0};
    cli_progress progress;
    slew_sampling sampling = cli_sampling(options, "card", &progress);
    a->scenario = scenario;
    if (options->samples == 0)
        sampling.samples = slew_sampling_default().samples;
    slew_status status = slew_card_run(a->scenario, &sampling, &a->card, &error);
    cli_sampling_end(&progress);
    int code = cli_code(status);
    if (status == SLEW_ERROR_STOPPED)
        cli_report_stopped(a->card.samples, sampling.samples);
    else if (status != SLEW_OK)
        cli_report_located(options, status, &error);
    if (status == SLEW_OK || (status == SLEW_ERROR_STOPPED && a->card.samples > 0)) {
        int told = tell(options, a, &sampling);
        code = told != CLI_OK ? told : code;
    }
    return code;
}

static int run(const cli_options *options)
{
    return cli_frame_ask(options, "card", sizeof(cli_card), ask);
}

const cli_command cli_card_command = {
    .name = "card",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_SAMPLING_OPTIONS | CLI_BIT(CLI_JSON) | CLI_BIT(CLI_CSV) |
               CLI_BIT(CLI_PLOT),
    .summary = "a page for a visit to the truck: what to time and read, what should show",
    .about =
        "Prints a check card: each axis from stop to stop and to its home sensor, both ways; stow\n"
        "from three starts; deploy. Each reading has what the scenario predicts, the band over "
        "its\n"
        "spread in which a sound truck should be, and room to write. --plot makes it an A4 page.\n"
        "--csv is the same travels as a blank table that fit reads once it is filled in, in part\n"
        "or whole. Without --samples 2048 samples are drawn.\n",
    .examples = "Examples:\n"
                "  slewtime card truck.yaml                      a page of text\n"
                "  slewtime card truck.yaml --plot card.pdf      the same to print\n"
                "  slewtime card truck.yaml --csv > times.csv    to fill in for slewtime fit\n",
    .cautions = true,
    .run = run,
};
