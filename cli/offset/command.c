/* command.c - `slewtime offset`: which deploy seconds land in the target on every day of the year.
 */
#include "answer.h"

#include <string.h>

#include "commands.h"
#include "frame/frame.h"
#include "frame/sampling.h"
#include "line/exit_code.h"

/* base points of the indices: they tell the greatest to a few percent in a third of the time */
enum { BASE_LEAST = 512, BASE_MOST = 2048, REPEATS = 8 };

/* ---- the questions ---- */

static slew_status ask_finer(cli_offset *a, cli_progress *progress, slew_error *error)
{
    cli_sampling_next(progress, a->sampling.samples);
    slew_status status = slew_finer_run(a->scenario, &a->sampling, &a->offset, &a->finer, error);
    a->has_finer = status == SLEW_OK;
    return status;
}

/* the scenario with the best seconds */
static void set_best(cli_offset *a)
{
    a->with_best = *a->scenario;
    memcpy(a->with_best.deploy.seconds, a->best->seconds, sizeof a->best->seconds);
}

static const char *why_no_drivers(int dimensions)
{
    if (dimensions == 0)
        return "nothing varies (spread)";
    return dimensions > SLEW_DRIVERS_MAX ? "more than 20 numbers are drawn for each sample, 20 is "
                                           "the most that can be ranked"
                                         : NULL;
}

static slew_status ask_drivers(cli_offset *a, cli_progress *progress, slew_error *error)
{
    int dimensions = slew_ensemble_dimensions(a->scenario, SLEW_STOW_AND_DEPLOY);
    const char *why = why_no_drivers(dimensions);
    slew_sampling how = a->sampling;
    slew_status status = SLEW_OK;
    how.samples = how.samples < BASE_LEAST ? BASE_LEAST : how.samples;
    how.samples = how.samples > BASE_MOST ? BASE_MOST : how.samples;
    how.shifts = REPEATS;
    if (why == NULL) {
        cli_sampling_next(progress, how.samples * (dimensions + 2));
        status = slew_drivers_run(&a->with_best, &how, &a->drivers, error);
    }
    if (status == SLEW_OK)
        a->no_drivers = why;
    return status;
}

/* what stops in between leaves the rest out; where no sample can run there is nothing to choose */
static slew_status ask_all(cli_offset *a, cli_progress *progress, slew_error *error)
{
    slew_status status = slew_offset_run(a->scenario, &a->sampling, &a->offset, error);
    if (status != SLEW_OK && status != SLEW_ERROR_STOPPED)
        return status;
    if (a->offset.samples > 0 && a->offset.refused == a->offset.samples) {
        *error = a->offset.first_refusal;
        return SLEW_ERROR_INPUT;
    }
    a->best = &a->offset.told[SLEW_TOLD_BEST];
    set_best(a);
    if (status == SLEW_OK)
        status = slew_demands_by_truck(&a->with_best, SLEW_STOW_AND_DEPLOY, &a->sampling,
                                       &a->trucks, error);
    if (status == SLEW_OK)
        status = ask_finer(a, progress, error);
    if (status == SLEW_OK)
        status = ask_drivers(a, progress, error);
    a->advice_count = slew_offset_advise(a->scenario, &a->offset, a->has_finer ? &a->finer : NULL,
                                         a->wanted, a->advice);
    return status;
}

/* ---- the command ---- */

static int ask(const cli_options *options, const slew_scenario *scenario, void *answer)
{
    cli_offset *a = answer;
    slew_error error = {0};
    cli_progress progress;
    a->all = options->all;
    a->asked_of = *scenario;
    a->scenario = &a->asked_of;
    a->no_drivers = "stopped before";
    if (cli_read_wanted(options, "0.95", &a->asked_of.demands.deploy_inside) != CLI_OK)
        return CLI_WRONG;
    a->wanted = a->asked_of.demands.deploy_inside;
    cli_warn_of_known(options, scenario);
    a->sampling = cli_sampling(options, "offset", &progress);
    slew_status status = ask_all(a, &progress, &error);
    cli_sampling_end(&progress);
    cli_provenance_words(a->scenario, &a->sampling, a->offset.samples, a->asked);
    const cli_frame frame = {
        a,
        cli_offset_text,
        cli_offset_document,
        cli_offset_table,
        "offset.gp",
        "Where an axis rests after each choice of deploy seconds, against the target",
        cli_offset_fill};
    int code = cli_frame_tell_sampled(options, &frame,
                                      &(cli_sampled){status, &error, a->sampling.samples,
                                                     a->offset.samples, a->offset.refused,
                                                     &a->offset.first_refusal});
    slew_offset_free(&a->offset);
    return code;
}

static int run(const cli_options *options)
{
    return cli_frame_ask(options, "offset", sizeof(cli_offset), ask);
}

const cli_command cli_offset_command = {
    .name = "offset",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_SAMPLING_OPTIONS | CLI_BIT(CLI_WANTED) |
               CLI_BIT(CLI_ALL) | CLI_BIT(CLI_JSON) | CLI_BIT(CLI_CSV) | CLI_PICTURE_OPTIONS,
    .summary = "which deploy seconds, for a deploy target, over the spread",
    .about =
        "Tries every pair of deploy.choices over the scenario's spread: from truck to truck\n"
        "(teaching repeated) and from day to day (stored times kept, the deploy on a day of its\n"
        "own). Prints the best one with every demand it fails (keys demands.*, --wanted for\n"
        "demands.deploy_inside), told from fresh simulated days; what to change where none is "
        "good\n"
        "enough; how often the best five (--all: each) rest inside the target, enter a keep-out\n"
        "zone, meet a hard stop or fault; which finer seconds would do; and what changes the\n"
        "final angles most (variance-based indices).\n"
        "--csv is the table of the choices alone, --json has everything.\n",
    .examples = "Examples:\n"
                "  slewtime offset truck.yaml --plot offset.png\n"
                "  slewtime offset truck.yaml --wanted 0.99 --samples 50000 --json\n"
                "  slewtime offset truck.yaml --set rotation.approach=rising --random --seed 7\n",
    .cautions = true,
    .run = run,
};
