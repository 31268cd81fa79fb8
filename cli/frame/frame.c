/* frame.c - see frame.h. */
#include "frame.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "draw/plot.h"
#include "line/command.h"
#include "line/report.h"
#include "single/single_run.h"

static int check_pose(const cli_options *options, const char *command)
{
    const cli_complaint complaint = {.expected = "two files", .help = command};
    bool is_same = options->plot != NULL && strcmp(options->plot, options->pose) == 0;
    if (is_same && strcmp(options->pose, "-") != 0)
        return cli_complain(&complaint, "--plot and --pose both write %s", options->pose);
    return cli_plot_check("--pose", options->pose);
}

int cli_answer_check(const cli_options *options, const char *command)
{
    const cli_complaint complaint = {.expected = "one of them", .help = command};
    if (options->json && options->csv)
        return cli_complain(&complaint, "--json and --csv both ask for stdout");
    int code = options->plot != NULL ? cli_plot_check("--plot", options->plot) : CLI_OK;
    if (code == CLI_OK && options->pose != NULL)
        code = check_pose(options, command);
    return code;
}

int cli_answer_question(const cli_options *options, const char *command, size_t size,
                        cli_question *ask)
{
    int code = cli_answer_check(options, command);
    if (code != CLI_OK)
        return code;
    slew_scenario *scenario = malloc(sizeof *scenario);
    void *answer = calloc(1, size);
    code =
        scenario != NULL && answer != NULL ? cli_read_scenario(options, scenario) : cli_no_memory();
    if (code == CLI_OK)
        code = ask(options, scenario, answer);
    free(answer);
    free(scenario);
    return code;
}

int cli_answer_tell(const cli_options *options, const cli_answer *answer)
{
    if (options->plot != NULL) {
        int code = answer->draw(options->plot, answer->what);
        if (code != CLI_OK)
            return code;
    }
    if (options->json)
        return answer->json(answer->what);
    if (options->csv)
        answer->csv(stdout, answer->what);
    else
        answer->text(answer->what);
    return CLI_OK;
}

void cli_warn_of_refused(const cli_options *options, int64_t refused, const slew_error *first)
{
    if (refused > 0 && !options->quiet)
        fprintf(stderr,
                "slewtime: warning: %" PRId64 " samples can't run, the first because: %s %s\n",
                refused, first->key, first->message);
}
