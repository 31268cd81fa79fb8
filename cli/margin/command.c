/* command.c - `slewtime margin`: the clearance a stow point needs from a hard stop. */
#include "answer.h"
#include "commands.h"
#include "frame/frame.h"
#include "frame/sampling.h"
#include "line/exit_code.h"

/* the share that needs more than 1 in 1000 should is then known to a tenth */
static const int64_t default_samples = 1536;
static const double default_wanted = 0.001;

static slew_sampling sampling_of(const cli_options *options, cli_progress *progress)
{
    slew_sampling sampling = cli_sampling(options, "margin", progress);
    if (options->samples == 0)
        sampling.samples = progress->samples = default_samples;
    sampling.points = SLEW_PSEUDO_RANDOM; /* most are drawn in the tail */
    return sampling;
}

static int read_question(const cli_options *options, slew_margin_question *question)
{
    *question = (slew_margin_question){.axis = options->axis == CLI_AXIS_ROTATION ? SLEW_ROTATION
                                                                                  : SLEW_ELEVATION,
                                       .wanted = default_wanted};
    return cli_read_wanted(options, "0.001", &question->wanted);
}

static int ask(const cli_options *options, const slew_scenario *scenario, void *answer)
{
    cli_margin *a = answer;
    slew_error error = {0};
    cli_progress progress;
    a->scenario = scenario;
    a->all = options->all;
    if (read_question(options, &a->question) != CLI_OK)
        return CLI_WRONG;
    cli_warn_of_known(options, scenario);
    a->sampling = sampling_of(options, &progress);
    slew_status status = slew_margin_run(scenario, &a->question, &a->sampling, &a->margin, &error);
    cli_sampling_end(&progress);
    cli_provenance_words(scenario, &a->sampling, a->margin.samples, a->asked);
    const cli_frame frame = {
        a,
        cli_margin_text,
        cli_margin_document,
        cli_margin_table,
        "margin.gp",
        "How often an axis ends on its hard stop, against how far the stow point is from it",
        cli_margin_fill};
    return cli_frame_tell_sampled(options, &frame,
                                  &(cli_sampled){status, &error, a->sampling.samples,
                                                 a->margin.samples, a->margin.refused,
                                                 &a->margin.first_refusal});
}

static int run(const cli_options *options)
{
    return cli_frame_ask(options, "margin", sizeof(cli_margin), ask);
}

const cli_command cli_margin_command = {
    .name = "margin",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_SAMPLING_OPTIONS | CLI_BIT(CLI_JSON) | CLI_BIT(CLI_CSV) |
               CLI_BIT(CLI_ALL) | CLI_PICTURE_OPTIONS | CLI_BIT(CLI_AXIS) | CLI_BIT(CLI_WANTED),
    .summary = "the clearance a stow point needs from a hard stop",
    .about =
        "Teaches the stow point at one clearance from a hard stop after the other and stows it\n"
        "over the scenario's spread: from truck to truck (teaching repeated) and from day to day.\n"
        "Prints the smallest clearance that will do, to 0.05 deg, at either stop; how often the\n"
        "controller faults on the stop, the axis is jammed against it though the controller\n"
        "reports stowed, meets it, or rests too near or too far; and how the clearance\n"
        "moves with brake or coast, the side to home from and the teaching voltage. The tables\n"
        "have the rows about it, --all the others. Most days are drawn where it gets tight, and\n"
        "weighed, so that rare ones are counted; --wanted 0.00001 can be asked too, and then\n"
        "measures the tails that the spread assumes.\n",
    .examples = "Examples:\n"
                "  slewtime margin truck.yaml --plot margin.png\n"
                "  slewtime margin truck.yaml --wanted 0.01 --axis rotation\n"
                "  slewtime margin truck.yaml --teach 'supply.main.voltage=13.5 V' --csv\n",
    .cautions = true,
    .run = run,
};
