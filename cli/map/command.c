/* command.c - `slewtime map`: which outcome over one or two varied keys, and where it changes. */
#include "answer.h"

#include "commands.h"
#include "frame/frame.h"
#include "frame/sampling.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "line/value.h"

static const double tolerance = 1e-4; /* of the range, for the boundaries of a line */
enum { LINE_STEPS = 60, MAP_COLUMNS = 80, MAP_ROWS = 60 };
enum { FINE = 4, FINE_CELLS_MAX = 4000000 }; /* of the picture */

/* ---- what is varied ---- */

/* a key of the file that teach or today says again changes little or nothing */
static void warn_of_hidden(const slew_scenario *s, const slew_vary *vary)
{
    for (int id = SLEW_LAYER_TEACH; id <= SLEW_LAYER_DEPLOY_DAY; id++) {
        bool above = vary->layer == SLEW_LAYER_FILE ||
                     (vary->layer == SLEW_LAYER_TODAY && id == SLEW_LAYER_DEPLOY_DAY);
        if (above && slew_layer_holds(slew_layer_at(s, (slew_layer_id)id), vary->key))
            fprintf(stderr, "slewtime: warning: %s sets %s again and hides what is varied there\n",
                    slew_layer_word((slew_layer_id)id), slew_key_at(vary->key)->path);
    }
}

static int check_count(const cli_options *options)
{
    const cli_complaint complaint = {
        .expected = "--vary [LAYER.]PATH=FROM:TO[:STEPS] once or twice", .help = "map"};
    if (options->vary_count == 0)
        return cli_complain(&complaint, "map needs to be told what to vary");
    if (options->vary_count > CLI_VARIED_MAX)
        return cli_complain(&complaint, "--vary is given %d times", options->vary_count);
    return CLI_OK;
}

static int read_varies(const cli_options *options, cli_map *a)
{
    static const int default_steps[] = {MAP_COLUMNS, MAP_ROWS};
    int code = check_count(options);
    for (; a->count < options->vary_count && code == CLI_OK; a->count++) {
        slew_vary *vary = &a->vary[a->count];
        code = cli_read_vary(options->vary[a->count], a->scenario, vary);
        if (vary->steps == 0)
            vary->steps = options->vary_count == 1 ? LINE_STEPS : default_steps[a->count];
        if (code == CLI_OK && !options->quiet)
            warn_of_hidden(a->scenario, vary);
    }
    const cli_complaint complaint = {.expected = "two keys, or one key of two layers",
                                     .help = "map"};
    if (code == CLI_OK && a->count == 2 && a->vary[0].key == a->vary[1].key &&
        a->vary[0].layer == a->vary[1].layer)
        return cli_complain(&complaint, "--vary: %s is varied twice",
                            slew_key_at(a->vary[0].key)->path);
    return code;
}

/* ---- the command ---- */

static int64_t points_of(const cli_map *a)
{
    return (a->vary[0].steps + 1L) * (a->count == 2 ? a->vary[1].steps + 1L : 1L);
}

static slew_status ask_points(const cli_options *options, cli_map *a, slew_error *error)
{
    cli_progress progress;
    slew_sampling sampling = cli_sampling(options, "map", &progress);
    int fine = points_of(a) * FINE * FINE <= FINE_CELLS_MAX ? FINE : 1;
    progress.samples = points_of(a);
    slew_status status =
        a->count == 1
            ? slew_map_line_run(a->scenario, a->vary, a->tolerance, &sampling, &a->line, error)
            : slew_map_run(a->scenario, a->vary, fine, &sampling, &a->map, error);
    cli_sampling_end(&progress);
    return status;
}

/* half a map tells nothing: what stops leaves no answer */
static int ask(const cli_options *options, const slew_scenario *scenario, void *answer)
{
    cli_map *a = answer;
    slew_error error = {0};
    a->scenario = scenario;
    a->tolerance = tolerance;
    int code = read_varies(options, a);
    if (code != CLI_OK)
        return code;
    slew_status status = ask_points(options, a, &error);
    cli_provenance_words(scenario, NULL, 0, a->asked);
    const cli_frame frame = {a,
                             cli_map_text,
                             cli_map_document,
                             cli_map_table,
                             a->count == 2 ? "map.gp" : "map_line.gp",
                             "Which outcome where, over the keys that vary",
                             cli_map_fill};
    code = cli_frame_tell_sampled(options, &frame,
                                  &(cli_sampled){.status = status,
                                                 .error = &error,
                                                 .asked = points_of(a),
                                                 .done = status == SLEW_OK ? points_of(a) : 0});
    slew_map_line_free(&a->line);
    slew_map_free(&a->map);
    return code;
}

const cli_command cli_map_command = {
    .name = "map",
    .operands = "SCENARIO",
    .least = 1,
    .most = 1,
    .options = CLI_SCENARIO_OPTIONS | CLI_BIT(CLI_VARY) | CLI_BIT(CLI_THREADS) | CLI_BIT(CLI_JSON) |
               CLI_BIT(CLI_CSV) | CLI_PICTURE_OPTIONS,
    .summary = "which outcome over one or two varied keys, and where it changes",
    .about =
        "Runs the scenario over a range of one key and prints from where to where which\n"
        "outcome holds, the boundaries found to 1e-4 of the range; or over a grid of two keys\n"
        "and prints the share of each outcome, the picture shows their regions. Nothing is\n"
        "drawn at random: what is not varied is as the scenario says.\n",
    .examples =
        "Examples:\n"
        "  slewtime map truck.yaml --vary today.supply.main.voltage=9V:15V:60\n"
        "  slewtime map truck.yaml --vary stow.point.elevation=-20deg:-10deg \\\n"
        "      --vary today.supply.main.voltage=9V:15V --plot map.png\n"
        "  slewtime map truck.yaml --vary today.environment.temperature=-20degC:40degC --csv\n",
    .cautions = true,
    .ask = ask,
    .answer_size = sizeof(cli_map),
};
