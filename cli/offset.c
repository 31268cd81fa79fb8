/* offset.c - `slewtime offset`: which deploy seconds land in the target on every day of the year.
 */
#include "offset.h"

#include <stdlib.h>
#include <string.h>

#include "answer.h"
#include "command.h"
#include "report.h"
#include "sampling.h"
#include "story.h"

static const double default_wanted = 0.95;
enum { BASE_MIN = 512, BASE_MAX = 2048 }; /* base points: 2048 make the indices sure to 2 points */

/* ---- the three questions ---- */

typedef struct inquiry {
    slew_scenario *scenario;
    slew_sampling sampling;
    cli_progress progress;
    slew_offset offset;
    slew_finer finer;
    slew_drivers drivers;
    cli_offset answer;
    slew_error error;
} inquiry;

static slew_status ask_finer(inquiry *q)
{
    cli_sampling_next(&q->progress, q->sampling.samples);
    slew_status status =
        slew_finer_run(q->scenario, &q->sampling, &q->offset, &q->finer, &q->error);
    if (status == SLEW_OK)
        q->answer.finer = &q->finer;
    return status;
}

/* why there are no indices; empty: there can be */
static void say_why_not(const slew_scenario *scenario, char *text, size_t size)
{
    int drawn = slew_ensemble_dimensions(scenario, SLEW_STOW_AND_DEPLOY);
    text[0] = '\0';
    if (drawn < 1)
        snprintf(text, size, "nothing varies");
    else if (drawn > SLEW_DRIVERS_MAX)
        snprintf(text, size, "%d numbers are drawn for each sample, more than %d", drawn,
                 (int)SLEW_DRIVERS_MAX);
}

static slew_status ask_drivers(inquiry *q)
{
    say_why_not(q->scenario, q->answer.why_not, sizeof q->answer.why_not);
    if (q->answer.why_not[0] != '\0')
        return SLEW_OK;
    slew_sampling sampling = q->sampling;
    slew_scenario *best = malloc(sizeof *best);
    if (best == NULL)
        return SLEW_ERROR_MEMORY;
    *best = *q->scenario;
    memcpy(best->deploy.seconds, cli_offset_best(&q->answer)->seconds, sizeof best->deploy.seconds);
    if (sampling.samples < BASE_MIN)
        sampling.samples = BASE_MIN;
    if (sampling.samples > BASE_MAX)
        sampling.samples = BASE_MAX;
    int dimensions = slew_ensemble_dimensions(best, SLEW_STOW_AND_DEPLOY);
    cli_sampling_next(&q->progress, sampling.samples * (dimensions + 2));
    slew_status status = slew_drivers_run(best, &sampling, &q->drivers, &q->error);
    free(best);
    if (status == SLEW_OK)
        q->answer.drivers = &q->drivers;
    else
        snprintf(q->answer.why_not, sizeof q->answer.why_not, "stopped before it was asked");
    return status;
}

/* the choices, and what is more than a CSV table holds */
static slew_status ask_all(inquiry *q, bool choices_alone)
{
    slew_status status = slew_offset_run(q->scenario, &q->sampling, &q->offset, &q->error);
    if (status == SLEW_OK && !choices_alone)
        status = ask_finer(q);
    if (status == SLEW_OK && !choices_alone)
        status = ask_drivers(q);
    return status;
}

/* ---- the command ---- */

static int tell(const cli_options *options, cli_offset *a)
{
    const cli_answer how = {a, cli_offset_draw, cli_offset_json, cli_offset_csv, cli_offset_text};
    cli_origin_words(a->scenario, a->sampling, a->offset->samples, a->asked);
    a->advice_count = slew_offset_advise(a->scenario, a->offset, a->finer, a->wanted, a->advice);
    cli_warn_of_refused(options, a->offset->refused, &a->offset->first_refusal);
    return cli_answer_tell(options, &how);
}

static void tell_stopped(const inquiry *q)
{
    if (q->offset.samples < q->sampling.samples)
        fprintf(stderr, "slewtime: stopped after %ld of %ld samples; this is what they tell\n",
                q->offset.samples, q->sampling.samples);
    else
        fprintf(stderr, "slewtime: stopped before all was asked; this is what is known\n");
}

static int ask(const cli_options *options, inquiry *q)
{
    q->answer = (cli_offset){.scenario = q->scenario,
                             .offset = &q->offset,
                             .why_not = "stopped before it was asked",
                             .wanted = q->answer.wanted,
                             .sampling = &q->sampling};
    q->sampling = cli_sampling(options, "offset", &q->progress);
    slew_status status = ask_all(q, options->csv && options->plot == NULL);
    cli_sampling_end(&q->progress);
    int code = cli_code(status);
    if (status == SLEW_ERROR_STOPPED)
        tell_stopped(q);
    else if (status != SLEW_OK) {
        cli_locate(options, &q->error);
        cli_report_error(&q->error);
    }
    if (status == SLEW_OK || (status == SLEW_ERROR_STOPPED && q->offset.samples > 0)) {
        int told = tell(options, &q->answer);
        code = told != CLI_OK ? told : code;
    }
    slew_offset_free(&q->offset);
    return code;
}

static int run(const cli_options *options)
{
    inquiry q = {.answer.wanted = default_wanted};
    if (cli_read_wanted(options, "0.95", &q.answer.wanted) != CLI_OK)
        return CLI_WRONG;
    int code = cli_answer_check(options, "offset");
    q.scenario = malloc(sizeof *q.scenario);
    if (q.scenario == NULL)
        return cli_no_memory();
    if (code == CLI_OK)
        code = cli_read_scenario(options, q.scenario);
    if (code == CLI_OK)
        code = ask(options, &q);
    free(q.scenario);
    return code;
}

const cli_command cli_offset_command = {
    .name = "offset",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_SAMPLING_OPTIONS | CLI_BIT(CLI_JSON) | CLI_BIT(CLI_CSV) |
               CLI_BIT(CLI_PLOT) | CLI_BIT(CLI_WANTED),
    .summary = "which deploy seconds, for a target window, over the spread",
    .about =
        "Tries every pair of deploy.choices over the scenario's spread: from truck to truck\n"
        "(teaching repeated) and from day to day (stored times kept, the deploy on a day of its\n"
        "own). Prints how often each lands inside the target, faults, or enters a keep-out; why\n"
        "the best one is best, and what to change if it is not good enough; which seconds would\n"
        "be best in finer steps or at any time, simulated with the same samples; and what drives\n"
        "where the axes come to rest: the share of each varied key in the variance. --csv has\n"
        "the choices alone, --json all of it.\n",
    .examples = "Examples:\n"
                "  slewtime offset truck.yaml --plot offset.png\n"
                "  slewtime offset truck.yaml --samples 50000 --csv\n"
                "  slewtime offset truck.yaml --wanted 0.99 --json\n"
                "  slewtime offset truck.yaml --set rotation.approach=rising --random --seed 7\n",
    .cautions = true,
    .run = run,
};
