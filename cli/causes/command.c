/* command.c - `slewtime causes`: what each fault would look like, and which agree with what was
 * seen.
 */
#include "answer.h"

#include <stdlib.h>
#include <string.h>

#include "commands.h"
#include "frame/answer.h"
#include "frame/sampling.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "line/suggest.h"
#include "single/single_run.h"

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

/* ---- what is asked ---- */

typedef struct question {
    const cli_options *options;
    slew_scenario scenario;
    slew_catalogue catalogue;
    slew_seen seen;
    slew_sampling sampling;
    slew_causes causes;
    slew_diagnosis diagnosis;
    double likeness[SLEW_CAUSES_MAX * SLEW_CAUSES_MAX];
    cli_causes answer;
} question;

/* an error about what was seen stands in its file, one about the scenario in that */
static int tell_status(const question *q, slew_status status, slew_error *error, bool of_seen)
{
    if (error->message[0] == '\0')
        return cli_no_memory();
    if (of_seen)
        snprintf(error->source, sizeof error->source, "%s", q->options->seen);
    else
        cli_locate(q->options, error);
    cli_report_error(error);
    return cli_code(status);
}

static bool is_known(const question *q, const char *path)
{
    return q->options->seen != NULL && slew_layer_holds(&q->seen.known, slew_key_find(path));
}

static int simulate(question *q)
{
    slew_error error = {0};
    cli_progress progress;
    const cli_options *options = q->options;
    q->sampling = cli_sampling(options, "causes", &progress);
    if (options->samples == 0)
        q->sampling.samples = progress.samples = default_samples;
    slew_status status =
        slew_causes_run(&q->scenario, &q->catalogue, options->seen != NULL ? &q->seen : NULL,
                        &q->sampling, &q->causes, &error);
    cli_sampling_end(&progress);
    if (status == SLEW_ERROR_STOPPED && q->causes.samples > 0)
        cli_report_stopped(q->causes.samples, q->sampling.samples);
    else if (status != SLEW_OK)
        return status == SLEW_ERROR_STOPPED
                   ? cli_code(status)
                   : tell_status(q, status, &error, is_known(q, error.key));
    cli_warn_of_refused(options, q->causes.refused, &q->causes.first_refusal);
    return CLI_OK;
}

static int conclude(question *q)
{
    slew_error error = {0};
    cli_causes *a = &q->answer;
    slew_status status = SLEW_OK;
    if (q->options->seen != NULL) {
        a->seen = &q->seen;
        a->diagnosis = &q->diagnosis;
        status = slew_causes_diagnose(&q->causes, &q->catalogue, &q->seen, q->sampling.seed,
                                      &q->diagnosis, &error);
    } else {
        bool hidden = q->options->draw > 0;
        status = slew_causes_likeness(&q->causes, hidden ? SLEW_BY_CHECK : SLEW_BY_METER,
                                      SLEW_LOOKS_THE_SAME, q->likeness);
        a->likeness = q->likeness;
    }
    return status == SLEW_OK ? CLI_OK : tell_status(q, status, &error, true);
}

static int tell(const question *q)
{
    const cli_answer how = {&q->answer, cli_causes_draw, cli_causes_json, cli_causes_csv,
                            cli_causes_print};
    if (q->options->draw > 0)
        return cli_causes_hide(&q->answer, (uint64_t)q->options->draw, stdin);
    return cli_answer_tell(q->options, &how);
}

static int ask(question *q)
{
    int code = simulate(q);
    q->answer.scenario = &q->scenario;
    q->answer.catalogue = &q->catalogue;
    q->answer.sampling = &q->sampling;
    q->answer.causes = &q->causes;
    q->answer.seen_path = q->options->seen;
    q->answer.catalogue_path = q->options->catalogue;
    if (code == CLI_OK) {
        cli_provenance_words(&q->scenario, &q->sampling, q->causes.samples, q->answer.asked);
        code = conclude(q);
    }
    return code == CLI_OK ? tell(q) : code;
}

/* ---- the command ---- */

static int check_options(const cli_options *o)
{
    const cli_complaint complaint = {.help = "causes"};
    bool shows = o->json || o->csv || o->plot != NULL;
    if (o->draw > 0 && (o->seen != NULL || o->about != NULL || shows))
        return cli_complain(&complaint, "--draw goes without --seen, --about, --json, --csv and "
                                        "--plot");
    if (o->about != NULL && (o->seen != NULL || o->plot != NULL))
        return cli_complain(&complaint, "--about goes without --seen and --plot");
    return cli_frame_check(o, "causes");
}

static int run(const cli_options *options)
{
    int code = check_options(options);
    question *q = code == CLI_OK ? calloc(1, sizeof *q) : NULL;
    if (code != CLI_OK)
        return code;
    if (q == NULL)
        return cli_no_memory();
    q->options = options;
    code = cli_read_scenario(options, &q->scenario);
    if (code == CLI_OK)
        code = read_catalogue(options, &q->catalogue);
    if (code == CLI_OK)
        code = find_about(options, &q->catalogue, &q->answer.about);
    if (code == CLI_OK)
        code = read_seen(options, &q->seen);
    if (code == CLI_OK)
        code = ask(q);
    slew_diagnosis_free(&q->diagnosis);
    slew_causes_free(&q->causes);
    free(q);
    return code;
}

const cli_command cli_causes_command = {
    .name = "causes",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_SAMPLING_OPTIONS | CLI_BIT(CLI_SEEN) |
               CLI_BIT(CLI_CATALOGUE) | CLI_BIT(CLI_ABOUT) | CLI_BIT(CLI_DRAW) | CLI_BIT(CLI_JSON) |
               CLI_BIT(CLI_CSV) | CLI_BIT(CLI_PLOT),
    .summary = "what each fault would look like, and which agree with what was seen",
    .about =
        "Takes the scenario for the machine as it should be, puts one fault after the other into\n"
        "it, over its spread of trucks and days, and prints what each would look like at the\n"
        "truck. With --seen it ranks them by what was seen and timed, says which check would\n"
        "tell the rest apart best, and admits when none fits. With --draw it hides one for a\n"
        "trainee to find.\n"
        "What can be seen is listed by `slewtime causes SCENARIO --about 'nothing wrong'`.\n",
    .examples = "Examples:\n"
                "  slewtime causes truck.yaml --plot causes.png\n"
                "  slewtime causes truck.yaml --about 'corroded joint in the feed'\n"
                "  slewtime causes truck.yaml --seen seen.yaml\n"
                "  slewtime causes truck.yaml --seen seen.yaml --catalogue own.yaml --json\n"
                "  slewtime causes truck.yaml --draw 7\n"
                "A file for --seen tells what is known of the day and what was seen, for example\n"
                "  known: {rotation.start: -30 deg}\n"
                "  stow: {says: fault, fault: hard_stop, seconds: 12.9 s, seconds_sd: 0.2 s}\n"
                "  check: {controller: {idle: 13 V}}\n",
    .cautions = true,
    .run = run,
};
