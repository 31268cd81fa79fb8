/* fan.c - see fan.h. */
#include "fan.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "frame/frame.h"
#include "line/exit_code.h"
#include "line/report.h"

/* figures of one sample: for each part where the axes rest, and what it came to */
enum { END = SLEW_AXES, FIGURES_OF_PART, FIGURES = CLI_FAN_PARTS * FIGURES_OF_PART };

/* ---- the question ---- */

static bool stands_on_a_stop(const slew_setup *setup, const slew_part *part)
{
    for (int axis = 0; axis < SLEW_AXES; axis++)
        if (cli_stop_under(setup, axis, part->angle[axis]) != 0)
            return true;
    return false;
}

static cli_fan_end end_of(const slew_part *part, const slew_setup *setup)
{
    if (!part->holds)
        return CLI_FAN_DOES_NOT_HOLD;
    if (part->says == SLEW_NOT_RUN)
        return CLI_FAN_NOT_REACHED;
    if (part->says == SLEW_FAULTED)
        return CLI_FAN_FAULT;
    if (stands_on_a_stop(setup, part))
        return CLI_FAN_ON_A_STOP;
    return part->on_target || !part->has_target ? CLI_FAN_ON_TARGET : CLI_FAN_MISSED;
}

static void fill(const slew_part *part, const slew_setup *setup, double *figures)
{
    cli_fan_end end = end_of(part, setup);
    for (int axis = 0; axis < SLEW_AXES; axis++)
        figures[axis] = end == CLI_FAN_NOT_REACHED ? NAN : part->angle[axis];
    figures[END] = end;
}

static void ask(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                double *figures)
{
    const slew_parts *parts = context;
    slew_result result;
    slew_run_prepared(drawn, prepared, *parts, NULL, &result);
    fill(&result.stow, &prepared->stow_setup, figures);
    fill(&result.deploy, &prepared->deploy_setup, figures + FIGURES_OF_PART);
}

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

static int tell_failure(const cli_options *options, slew_status status, const slew_sampling *asked,
                        const cli_fan *fan, slew_error *error)
{
    if (status == SLEW_ERROR_STOPPED)
        cli_report_stopped(fan->ensemble.done, asked->samples);
    else if (status != SLEW_OK)
        cli_report_located(options, status, error);
    return cli_code(status);
}

int cli_fan_run(const cli_options *options, const cli_single *single, cli_fan *fan)
{
    slew_error error = {0};
    cli_progress progress;
    *fan = (cli_fan){0};
    if (slew_ensemble_dimensions(&single->scenario, single->parts) == 0)
        return refuse_without_spread(options);
    slew_sampling sampling = cli_sampling(options, "fan", &progress);
    slew_parts parts = single->parts;
    slew_status status = slew_ensemble_run(&single->scenario, parts, &sampling, ask, &parts,
                                           FIGURES, &fan->ensemble, &error);
    cli_sampling_end(&progress);
    fan->sampling = sampling;
    fan->sampling.context = NULL;
    cli_warn_of_refused(options, fan->ensemble.refused, &fan->ensemble.first_refusal);
    return tell_failure(options, status, &sampling, fan, &error);
}

void cli_fan_free(cli_fan *fan)
{
    if (fan != NULL)
        slew_ensemble_free(&fan->ensemble);
}

/* ---- what it tells ---- */

double cli_fan_angle(const cli_fan *fan, int64_t sample, int part, int axis)
{
    return fan->ensemble.figure[sample * FIGURES + part * FIGURES_OF_PART + axis];
}

int64_t cli_fan_count(const cli_fan *fan, int part, cli_fan_end end)
{
    int64_t count = 0;
    for (int64_t i = 0; i < fan->ensemble.done; i++)
        count += fan->ensemble.figure[i * FIGURES + part * FIGURES_OF_PART + END] == (double)end;
    return count;
}

static const char *const end_words[CLI_FAN_ENDS] = {
    [CLI_FAN_ON_TARGET] = "on target",         [CLI_FAN_MISSED] = "missed",
    [CLI_FAN_ON_A_STOP] = "pressed on a stop", [CLI_FAN_FAULT] = "fault",
    [CLI_FAN_DOES_NOT_HOLD] = "do not hold",   [CLI_FAN_NOT_REACHED] = "not reached",
};

/* without a stow point there is nothing to be on */
static const char *word_for(const cli_single *single, int part, int end)
{
    bool has_target = part == CLI_FAN_DEPLOY || single->scenario.stow.has_point;
    return end == CLI_FAN_ON_TARGET && !has_target ? "stowed" : end_words[end];
}

static void add_part(const cli_fan *fan, const cli_single *single, int part, char *text,
                     size_t size)
{
    const char *between = part == CLI_FAN_STOW ? "stow: " : "deploy: ";
    for (int end = 0; end < CLI_FAN_ENDS; end++) {
        int64_t count = cli_fan_count(fan, part, (cli_fan_end)end);
        size_t length = strlen(text);
        if (count == 0)
            continue;
        snprintf(text + length, size - length, "%s%" PRId64 " %s", between, count,
                 word_for(single, part, end));
        between = ", ";
    }
}

void cli_fan_words(const cli_fan *fan, const cli_single *single, char *text, size_t size)
{
    text[0] = '\0';
    if (cli_single_stows(single))
        add_part(fan, single, CLI_FAN_STOW, text, size);
    if (text[0] != '\0' && cli_single_deploys(single))
        snprintf(text + strlen(text), size - strlen(text), "; ");
    if (cli_single_deploys(single))
        add_part(fan, single, CLI_FAN_DEPLOY, text, size);
}

/* ---- its lines ---- */

static int ascending(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

/* the angles that count, sorted; returns how many, -1: memory is short */
static int64_t sort_angles(const cli_fan *fan, int part, int axis, double **angles)
{
    int64_t count = 0;
    *angles = malloc(((size_t)fan->ensemble.done + 1) * sizeof **angles);
    if (*angles == NULL)
        return -1;
    for (int64_t i = 0; i < fan->ensemble.done; i++) {
        double angle = cli_fan_angle(fan, i, part, axis);
        if (!isnan(angle))
            (*angles)[count++] = angle;
    }
    qsort(*angles, (size_t)count, sizeof **angles, ascending);
    return count;
}

bool cli_fan_lines(const cli_fan *fan, int axis,
                   void (*draw)(void *context, int part, double angle), void *context)
{
    for (int part = 0; part < CLI_FAN_PARTS; part++) {
        double *angles;
        int64_t count = sort_angles(fan, part, axis, &angles);
        int64_t lines = count < CLI_FAN_LINES_MAX ? count : CLI_FAN_LINES_MAX;
        if (count < 0)
            return false;
        for (int64_t i = 0; i < lines; i++)
            draw(context, part, angles[lines > 1 ? i * (count - 1) / (lines - 1) : 0]);
        free(angles);
    }
    return true;
}
