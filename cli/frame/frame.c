/* frame.c - see frame.h. */
#include "frame.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "line/exit_code.h"
#include "line/report.h"
#include "reading.h"
#include "sampling.h"
#include "tell/json.h"

/* ---- asking ---- */

/* a terminal's picture has one size */
static int check_slide(const cli_options *options, const char *command)
{
    const cli_complaint complaint = {.expected = "--plot FILE", .help = command};
    const char *path = options->plot != NULL ? options->plot : options->pose;
    if (!options->slide || (path != NULL && strcmp(path, "-") != 0))
        return CLI_OK;
    return cli_complain(&complaint, "--slide draws nothing by itself: no file to draw to");
}

int cli_frame_check(const cli_options *options, const char *command)
{
    const cli_complaint complaint = {.expected = "one of them", .help = command};
    if (options->json && options->csv)
        return cli_complain(&complaint, "--json and --csv both ask for stdout");
    int code = check_slide(options, command);
    if (code == CLI_OK && options->plot != NULL)
        code = cli_plot_check("--plot", options->plot);
    if (code == CLI_OK && options->pose != NULL)
        code = cli_plot_check("--pose", options->pose);
    return code;
}

/* the command line may give none: then it has the defaults */
static int read_scenario(const cli_options *options, slew_scenario *scenario)
{
    if (options->operand_count > 0)
        return cli_read_scenario(options, scenario);
    slew_scenario_init(scenario);
    return CLI_OK;
}

int cli_frame_ask(const cli_options *options, const char *command, size_t size, cli_question *ask)
{
    int code = cli_frame_check(options, command);
    if (code != CLI_OK)
        return code;
    slew_scenario *scenario = malloc(sizeof *scenario);
    void *answer = calloc(1, size);
    code = scenario != NULL && answer != NULL ? read_scenario(options, scenario) : cli_no_memory();
    if (code == CLI_OK)
        code = ask(options, scenario, answer);
    free(answer);
    free(scenario);
    return code;
}

/* ---- answering ---- */

int cli_frame_tell(const cli_options *options, const cli_frame *frame)
{
    if (options->plot != NULL) {
        const cli_picture picture = {options->plot, options->slide, frame->script, frame->shows};
        int code = cli_plot_draw(&picture, frame->fill, frame->what);
        if (code != CLI_OK)
            return code;
    }
    if (options->json)
        return cli_json_write(frame->document, frame->what);
    if (options->csv)
        frame->table(stdout, frame->what);
    else
        frame->text(frame->what);
    return CLI_OK;
}

int cli_frame_tell_sampled(const cli_options *options, const cli_frame *frame,
                           const cli_sampled *sampled)
{
    int code = cli_code(sampled->status);
    if (sampled->status == SLEW_ERROR_STOPPED)
        cli_report_stopped(sampled->done, sampled->asked);
    else if (sampled->status != SLEW_OK)
        return cli_report_located(options, sampled->status, sampled->error);
    if (sampled->status == SLEW_ERROR_STOPPED && sampled->done == 0)
        return code;
    cli_warn_of_refused(options, sampled->refused, sampled->first_refusal);
    int told = cli_frame_tell(options, frame);
    return told != CLI_OK ? told : code;
}

void cli_warn_of_refused(const cli_options *options, int64_t refused, const slew_error *first)
{
    if (refused > 0 && !options->quiet)
        fprintf(stderr,
                "slewtime: warning: %" PRId64
                " simulated days can't run, the first because: %s %s\n",
                refused, first->key, first->message);
}
