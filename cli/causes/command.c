/* command.c - `slewtime causes`: what each fault would look like, and which agree with what was
 * seen.
 */
#include "answer.h"

#include <string.h>

#include "commands.h"
#include "frame/frame.h"
#include "frame/reading.h"
#include "frame/sampling.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "line/suggest.h"

static const int64_t default_samples = 1000;

/* ---- what is read ---- */

static int read_catalogue(const cli_options *options, slew_catalogue *catalogue)
{
    const slew_error_sink errors = {.report = cli_tell_error};
    slew_status status = slew_catalogue_builtin(catalogue);
    if (status == SLEW_OK && options->catalogue != NULL)
        status = slew_catalogue_read_file(options->catalogue, errors, catalogue);
    return status == SLEW_ERROR_MEMORY ? cli_no_memory() : cli_code(status);
}

static int read_seen(const cli_options *options, slew_seen *seen)
{
    const slew_error_sink errors = {.report = cli_tell_error};
    if (options->seen == NULL)
        return CLI_OK;
    slew_status status = slew_seen_read_file(options->seen, errors, seen);
    return status == SLEW_ERROR_MEMORY ? cli_no_memory() : cli_code(status);
}

static int find_about(const cli_options *options, const slew_catalogue *catalogue, int *about)
{
    const char *names[SLEW_CAUSES_MAX];
    *about = -1;
    if (options->about == NULL)
        return CLI_OK;
    for (int i = 0; i < catalogue->count; i++)
        names[i] = catalogue->cause[i].name;
    *about = slew_catalogue_find(catalogue, options->about);
    const cli_complaint complaint = {
        .expected = "the name of a cause, as the table without --about has it",
        .nearest = cli_nearest(options->about, strlen(options->about), names, catalogue->count)};
    return *about >= 0 ? CLI_OK
                       : cli_complain(&complaint, "--about %s: no such cause", options->about);
}

static int read_question(const cli_options *options, cli_causes *a)
{
    a->ranks = options->seen != NULL;
    a->seen_path = options->seen;
    a->catalogue_path = options->catalogue;
    a->draw = options->draw;
    int code = read_catalogue(options, &a->catalogue);
    if (code == CLI_OK)
        code = find_about(options, &a->catalogue, &a->about);
    return code == CLI_OK ? read_seen(options, &a->seen) : code;
}

/* ---- what is asked ---- */

static slew_status simulate(const cli_options *options, cli_causes *a, slew_error *error)
{
    cli_progress progress;
    cli_warn_of_known(options, a->scenario);
    a->sampling = cli_sampling(options, "causes", &progress);
    if (options->samples == 0)
        a->sampling.samples = progress.samples = default_samples;
    slew_status status = slew_causes_run(a->scenario, &a->catalogue, a->ranks ? &a->seen : NULL,
                                         &a->sampling, &a->causes, error);
    cli_sampling_end(&progress);
    cli_provenance_words(a->scenario, &a->sampling, a->causes.samples, a->asked);
    return status;
}

static slew_status conclude(cli_causes *a, slew_error *error)
{
    if (a->ranks)
        return slew_causes_diagnose(&a->causes, &a->catalogue, &a->seen, a->sampling.seed,
                                    &a->diagnosis, error);
    return slew_causes_likeness(&a->causes, a->draw > 0 ? SLEW_BY_CHECK : SLEW_BY_METER,
                                SLEW_LOOKS_THE_SAME, a->likeness);
}

static bool is_known(const cli_causes *a, const char *path)
{
    return a->ranks && slew_layer_holds(&a->seen.known, slew_key_find(path));
}

/* an error about what was seen stands in its file */
static int report_seen(const cli_causes *a, slew_status status, slew_error *error)
{
    if (status == SLEW_ERROR_MEMORY)
        return cli_no_memory();
    snprintf(error->source, sizeof error->source, "%s", a->seen_path);
    cli_report_error(error);
    return cli_code(status);
}

static int tell(const cli_options *options, const cli_causes *a, slew_status status,
                slew_error *error)
{
    const cli_frame frame = {a,
                             a->draw > 0 ? cli_causes_game : cli_causes_text,
                             cli_causes_document,
                             cli_causes_table,
                             a->ranks ? "causes_seen.gp" : "causes.gp",
                             a->ranks ? "Which causes agree with what was seen, check by check"
                                      : "What each cause looks like at the truck",
                             a->ranks ? cli_ranking_fill : cli_signatures_fill};
    return cli_frame_tell_sampled(options, &frame,
                                  &(cli_sampled){status, error, a->sampling.samples,
                                                 a->causes.samples, a->causes.refused,
                                                 &a->causes.first_refusal});
}

static int find_out(const cli_options *options, cli_causes *a)
{
    slew_error error = {0};
    slew_status status = simulate(options, a, &error);
    if (status != SLEW_OK && is_known(a, error.key))
        return report_seen(a, status, &error);
    if (status == SLEW_OK || (status == SLEW_ERROR_STOPPED && a->causes.samples > 0)) {
        slew_status concluded = conclude(a, &error);
        if (concluded == SLEW_OK)
            concluded = cli_signatures_find(a, &error);
        if (concluded != SLEW_OK)
            return report_seen(a, concluded, &error);
        if (a->draw > 0 && cli_causes_count(a) == 0)
            return cli_fail("take other causes, with --catalogue", "there is no cause to hide");
    }
    return tell(options, a, status, &error);
}

static int ask(const cli_options *options, const slew_scenario *scenario, void *answer)
{
    cli_causes *a = answer;
    a->scenario = scenario;
    int code = read_question(options, a);
    if (code == CLI_OK)
        code = find_out(options, a);
    cli_signatures_free(a);
    slew_diagnosis_free(&a->diagnosis);
    slew_causes_free(&a->causes);
    return code;
}

/* ---- the command ---- */

static int run(const cli_options *options)
{
    const cli_complaint complaint = {.help = "causes"};
    bool shows = options->json || options->csv || options->plot != NULL;
    if (options->draw > 0 && (options->seen != NULL || options->about != NULL || shows))
        return cli_complain(&complaint, "--draw goes without --seen, --about, --json, --csv and "
                                        "--plot");
    if (options->about != NULL && (options->seen != NULL || options->plot != NULL))
        return cli_complain(&complaint, "--about goes without --seen and --plot");
    return cli_frame_ask(options, "causes", sizeof(cli_causes), ask);
}

const cli_command cli_causes_command = {
    .name = "causes",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_SAMPLING_OPTIONS | CLI_BIT(CLI_SEEN) |
               CLI_BIT(CLI_CATALOGUE) | CLI_BIT(CLI_ABOUT) | CLI_BIT(CLI_DRAW) | CLI_BIT(CLI_JSON) |
               CLI_BIT(CLI_CSV) | CLI_PICTURE_OPTIONS,
    .summary = "what each fault would look like, and which agree with what was seen",
    .about =
        "Takes the scenario for the machine as it should be, puts one fault after the other into\n"
        "it, over its spread of trucks and days, and prints what each would look like at the\n"
        "truck. With --seen it shows how likely each is by what was seen and timed, and that it "
        "is\n"
        "none of them, and which check tells the rest apart best for the minutes it takes. With\n"
        "--draw it hides one for a trainee to find.\n"
        "What can be seen is listed by `slewtime causes SCENARIO --about 'nothing wrong'`.\n",
    .examples = "Examples:\n"
                "  slewtime causes truck.yaml --plot causes.png\n"
                "  slewtime causes truck.yaml --about 'corroded connection in the feed'\n"
                "  slewtime causes truck.yaml --seen seen.yaml\n"
                "  slewtime causes truck.yaml --seen seen.yaml --catalogue own.yaml --json\n"
                "  slewtime causes truck.yaml --draw 7\n"
                "A file for --seen tells what is known of the day and what was seen, for example\n"
                "  known: {rotation.start: -30 deg}\n"
                "  stow: {says: stowed, seconds: 12.9 s, seconds_sd: 0.2 s}\n"
                "  check: {controller: {idle: 13 V}}\n",
    .cautions = true,
    .run = run,
};
