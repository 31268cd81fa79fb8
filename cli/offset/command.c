/* command.c - `slewtime offset`: which deploy seconds land in the target on every day of the year.
 */
#include "answer.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "commands.h"
#include "frame/answer.h"
#include "frame/sampling.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "single/single_run.h"

/* less often inside than this is not called good */
static const double default_wanted = 0.95;

/* base points of the indices: they tell the greatest to a few percent in a third of the time */
enum { BASE_LEAST = 512, BASE_MOST = 2048, REPEATS = 8 };

/* room for what is asked after the choices */
typedef struct after {
    slew_scenario best; /* the scenario with the best choice */
    slew_finer finer;
    slew_drivers drivers;
} after;

/* ---- the questions ---- */

static slew_status ask_finer(cli_offset *a, after *room, cli_progress *progress, slew_error *error)
{
    cli_sampling_next(progress, a->sampling->samples);
    slew_status status = slew_finer_run(a->scenario, a->sampling, a->offset, &room->finer, error);
    if (status == SLEW_OK)
        a->finer = &room->finer;
    return status;
}

static const char *why_no_drivers(const slew_scenario *s)
{
    int dimensions = slew_ensemble_dimensions(s, SLEW_STOW_AND_DEPLOY);
    if (dimensions == 0)
        return "nothing varies (spread)";
    return dimensions > SLEW_DRIVERS_MAX ? "more than 20 numbers are drawn for each sample, 20 is "
                                           "the most that can be ranked"
                                         : NULL;
}

static slew_status ask_drivers(cli_offset *a, after *room, cli_progress *progress,
                               slew_error *error)
{
    slew_sampling how = *a->sampling;
    const double *seconds = a->offset->choice[a->offset->best].seconds;
    a->no_drivers = why_no_drivers(a->scenario);
    if (a->no_drivers != NULL)
        return SLEW_OK;
    how.samples = how.samples < BASE_LEAST ? BASE_LEAST : how.samples;
    how.samples = how.samples > BASE_MOST ? BASE_MOST : how.samples;
    how.shifts = REPEATS;
    cli_sampling_next(
        progress, how.samples * (slew_ensemble_dimensions(a->scenario, SLEW_STOW_AND_DEPLOY) + 2));
    room->best = *a->scenario;
    memcpy(room->best.deploy.seconds, seconds, sizeof room->best.deploy.seconds);
    slew_status status = slew_drivers_run(&room->best, &how, &room->drivers, error);
    if (status == SLEW_OK)
        a->drivers = &room->drivers;
    return status;
}

/* what stops in between leaves the rest out */
static slew_status ask_after(cli_offset *a, after *room, cli_progress *progress, slew_error *error)
{
    slew_status status = ask_finer(a, room, progress, error);
    if (status == SLEW_OK)
        status = ask_drivers(a, room, progress, error);
    return status;
}

/* ---- the command ---- */

/* where no sample can run there is nothing to choose from */
static int refuse(const cli_options *options, const slew_offset *offset)
{
    slew_error error = offset->first_refusal;
    return cli_report_located(options, SLEW_ERROR_INPUT, &error);
}

static int tell(const cli_options *options, cli_offset *a)
{
    const cli_answer how = {a, cli_offset_draw, cli_offset_json, cli_offset_csv, cli_offset_print};
    cli_provenance_words(a->scenario, a->sampling, a->offset->samples, a->asked);
    a->advice_count = slew_offset_advise(a->scenario, a->offset, a->finer, a->wanted, a->advice);
    cli_warn_of_refused(options, a->offset->refused, &a->offset->first_refusal);
    return cli_answer_tell(options, &how);
}

static void report(const cli_options *options, slew_status status, const slew_offset *offset,
                   slew_error *error)
{
    if (status == SLEW_ERROR_STOPPED)
        fprintf(stderr, "slewtime: stopped after %" PRId64 " samples; this is what they tell\n",
                offset->samples);
    else if (status != SLEW_OK)
        cli_report_located(options, status, error);
}

static int ask(const cli_options *options, const slew_scenario *scenario, double wanted,
               after *room)
{
    slew_error error = {0};
    slew_offset offset;
    cli_progress progress;
    slew_sampling sampling = cli_sampling(options, "offset", &progress);
    cli_offset a = {.scenario = scenario,
                    .offset = &offset,
                    .no_drivers = "stopped before",
                    .sampling = &sampling,
                    .wanted = wanted};
    slew_status status = slew_offset_run(scenario, &sampling, &offset, &error);
    bool done = status == SLEW_OK || (status == SLEW_ERROR_STOPPED && offset.samples > 0);
    bool none = done && offset.refused == offset.samples;
    if (status == SLEW_OK && !none)
        status = ask_after(&a, room, &progress, &error);
    cli_sampling_end(&progress);
    int code = none ? refuse(options, &offset) : cli_code(status);
    report(options, status, &offset, &error);
    if (done && !none) {
        int told = tell(options, &a);
        code = told != CLI_OK ? told : code;
    }
    slew_offset_free(&offset);
    return code;
}

static int run(const cli_options *options)
{
    double wanted = default_wanted;
    if (cli_read_wanted(options, "0.95", &wanted) != CLI_OK ||
        cli_frame_check(options, "offset") != CLI_OK)
        return CLI_WRONG;
    slew_scenario *scenario = malloc(sizeof *scenario);
    after *room = malloc(sizeof *room);
    int code =
        scenario != NULL && room != NULL ? cli_read_scenario(options, scenario) : cli_no_memory();
    if (code == CLI_OK)
        code = ask(options, scenario, wanted, room);
    free(room);
    free(scenario);
    return code;
}

const cli_command cli_offset_command = {
    .name = "offset",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_SAMPLING_OPTIONS | CLI_BIT(CLI_WANTED) |
               CLI_BIT(CLI_JSON) | CLI_BIT(CLI_CSV) | CLI_BIT(CLI_PLOT),
    .summary = "which deploy seconds, for a target window, over the spread",
    .about =
        "Tries every pair of deploy.choices over the scenario's spread: from truck to truck\n"
        "(teaching repeated) and from day to day (stored times kept, the deploy on a day of its\n"
        "own). Prints how often each lands inside the target, faults, or enters a keep-out; why\n"
        "the best one is best; what to change where none is good enough; which finer seconds\n"
        "would do; and which varied key drives where the axes rest (variance-based indices).\n"
        "--csv is the table of the choices alone, --json has everything.\n",
    .examples = "Examples:\n"
                "  slewtime offset truck.yaml --plot offset.png\n"
                "  slewtime offset truck.yaml --wanted 0.99 --samples 50000 --json\n"
                "  slewtime offset truck.yaml --set rotation.approach=rising --random --seed 7\n",
    .cautions = true,
    .run = run,
};
