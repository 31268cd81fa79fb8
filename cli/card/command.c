/* command.c - `slewtime card`: what to time and read at the truck, and what should show. */
#include "answer.h"

#include <string.h>

#include "commands.h"
#include "frame/frame.h"
#include "frame/sampling.h"

static slew_sampling sampling_of(const cli_options *options, cli_progress *progress)
{
    slew_sampling sampling = cli_sampling(options, "card", progress);
    if (options->samples == 0)
        sampling.samples = progress->samples = slew_sampling_default().samples;
    return sampling;
}

static int ask(const cli_options *options, const slew_scenario *scenario, void *answer)
{
    cli_card *a = answer;
    slew_error error = {0};
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

const cli_command cli_card_command = {
    .name = "card",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_SAMPLING_OPTIONS | CLI_BIT(CLI_JSON) | CLI_BIT(CLI_CSV) |
               CLI_PICTURE_OPTIONS,
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
    .ask = ask,
    .answer_size = sizeof(cli_card),
};
