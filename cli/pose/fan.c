/* fan.c - see fan.h. */
#include "fan.h"

#include <inttypes.h>
#include <stdlib.h>

#include "frame/frame.h"
#include "line/exit_code.h"
#include "line/report.h"
#include "tell/append.h"

/* ---- asking it ---- */

int cli_fan_check(const cli_options *options, const char *command)
{
    const cli_complaint picture = {.expected = "--pose FILE with it", .help = command};
    const cli_complaint samples = {.expected = "--samples N with it", .help = command};
    if (options->samples > 0 && options->pose == NULL)
        return cli_complain(&picture, "--samples is for the fan of the pose picture");
    if (options->samples == 0 && (options->seed > 0 || options->threads > 0 || options->random))
        return cli_complain(&samples, "%s says how samples are drawn, and none are asked for",
                            options->seed > 0      ? "--seed"
                            : options->threads > 0 ? "--threads"
                                                   : "--random");
    return CLI_OK;
}

static int refuse_without_spread(const cli_options *options)
{
    const cli_complaint complaint = {.expected = "what varies under spread, truck: or day:, for "
                                                 "example supply.main.voltage: {uniform: {low: "
                                                 "12 V, high: 14 V}}; or no --samples"};
    return cli_complain(&complaint, "--samples: nothing varies in %s, a fan would be one line",
                        options->operand[0]);
}

int cli_fan_run(const cli_options *options, const cli_single *single, cli_fan *fan)
{
    slew_error error = {0};
    cli_progress progress;
    const slew_parts parts = cli_single_cycle(single);
    *fan = (cli_fan){.deploy_alone = !cli_single_stows(single)};
    if (slew_ensemble_dimensions(single->scenario, parts) == 0)
        return refuse_without_spread(options);
    cli_warn_of_known(options, single->scenario);
    fan->sampling = cli_sampling(options, "fan", &progress);
    slew_status status = slew_rest_run(single->scenario, parts, &fan->sampling, &fan->rest, &error);
    cli_sampling_end(&progress);
    fan->sampling.context = NULL;
    cli_warn_of_refused(options, fan->rest.refused, &fan->rest.first_refusal);
    if (status == SLEW_ERROR_STOPPED)
        cli_report_stopped(fan->rest.done, fan->sampling.samples);
    else if (status != SLEW_OK)
        cli_report_located(options, status, &error);
    return cli_code(status);
}

/* ---- what it tells ---- */

static const char *const end_words[SLEW_REST_ENDS] = {
    [SLEW_REST_MISSED] = "outside",
    [SLEW_REST_ON_A_STOP] = "jammed on a stop",
    [SLEW_REST_FAULT] = "fault",
    [SLEW_REST_DOES_NOT_HOLD] = "do not hold",
    [SLEW_REST_NOT_REACHED] = "not attempted",
};

/* without a stow point there is no tolerance to be within */
static const char *word_for(const cli_single *single, slew_rest_part part, int end)
{
    if (end != SLEW_REST_ON_TARGET)
        return end_words[end];
    if (part == SLEW_REST_DEPLOY)
        return "inside the target";
    return single->scenario->stow.has_point ? "within tolerance" : "stowed";
}

static void add_part(const cli_fan *fan, const cli_single *single, slew_rest_part part, char *text,
                     size_t size)
{
    const char *between = part == SLEW_REST_STOW ? "stow: " : "deploy: ";
    for (int end = 0; end < SLEW_REST_ENDS; end++) {
        int64_t count = slew_rest_count(&fan->rest, part, (slew_rest_end)end);
        if (count == 0)
            continue;
        cli_append(text, size, "%s%" PRId64 " %s", between, count, word_for(single, part, end));
        between = ", ";
    }
}

void cli_fan_words(const cli_fan *fan, const cli_single *single, char *text, size_t size)
{
    text[0] = '\0';
    if (cli_single_stows(single))
        add_part(fan, single, SLEW_REST_STOW, text, size);
    if (text[0] != '\0' && cli_single_deploys(single))
        cli_append(text, size, "; ");
    if (cli_single_deploys(single))
        add_part(fan, single, SLEW_REST_DEPLOY, text, size);
}

/* ---- its lines ---- */

int cli_fan_lines(const cli_fan *fan, slew_rest_part part, int axis,
                  double angle[CLI_FAN_LINES_MAX])
{
    if (fan->deploy_alone && part == SLEW_REST_STOW)
        return 0;
    double *all = malloc(((size_t)fan->rest.done + 1) * sizeof *all);
    if (all == NULL) {
        cli_no_memory();
        return -1;
    }
    int64_t count = slew_rest_angles(&fan->rest, part, axis, all);
    int lines = count < CLI_FAN_LINES_MAX ? (int)count : CLI_FAN_LINES_MAX;
    for (int i = 0; i < lines; i++)
        angle[i] = all[lines > 1 ? i * (count - 1) / (lines - 1) : 0];
    free(all);
    return lines;
}
