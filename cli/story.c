/* story.c - see story.h. */
#include "story.h"

#include <stdio.h>
#include <stdlib.h>

#include "command.h"
#include "report.h"
#include "sensor.h"

static const double SAMPLE_INTERVAL = 0.010; /* [s] */

/* ---- reading ---- */

slew_parts cli_wanted_parts(const cli_options *options)
{
    switch (options->only) {
    case CLI_ONLY_STOW:
        return SLEW_STOW_ONLY;
    case CLI_ONLY_DEPLOY:
        return SLEW_DEPLOY_ONLY;
    default:
        return SLEW_STOW_AND_DEPLOY;
    }
}

static void tell_warning(void *context, const slew_error *warning)
{
    (void)context;
    cli_report_warning(warning);
}

int cli_read_scenario_and(const cli_options *options, slew_error_sink warnings,
                          slew_scenario *scenario)
{
    const slew_reading reading = {
        .assignments = options->assignment,
        .assignment_count = options->assignment_count,
        .errors = {.report = cli_tell_error},
        .warnings = warnings,
    };
    slew_status status = slew_scenario_read_file(options->operand[0], &reading, scenario);
    return status == SLEW_ERROR_MEMORY ? cli_no_memory() : cli_code(status);
}

int cli_read_scenario(const cli_options *options, slew_scenario *scenario)
{
    const slew_error_sink warnings = {.report = options->quiet ? NULL : tell_warning};
    return cli_read_scenario_and(options, warnings, scenario);
}

/* ---- running ---- */

/* room for one more item; false: memory is short */
static bool grow(void **items, size_t size, size_t count, size_t *room)
{
    if (count < *room)
        return true;
    size_t wanted = *room ? 2 * *room : 256;
    void *more = realloc(*items, wanted * size);
    if (more == NULL)
        return false;
    *items = more;
    *room = wanted;
    return true;
}

static void keep_event(void *context, const slew_event *event)
{
    cli_story *story = context;
    void *items = story->event;
    if (grow(&items, sizeof *event, story->event_count, &story->event_room)) {
        story->event = items;
        story->event[story->event_count++] = *event;
    } else
        story->short_of_memory = true;
}

static void keep_sample(void *context, const slew_sample *sample)
{
    cli_story *story = context;
    void *items = story->sample;
    if (grow(&items, sizeof *sample, story->sample_count, &story->sample_room)) {
        story->sample = items;
        story->sample[story->sample_count++] = *sample;
    } else
        story->short_of_memory = true;
}

void cli_locate(const cli_options *options, slew_error *error)
{
    static slew_scenario again;
    const slew_reading reading = {.assignments = options->assignment,
                                  .assignment_count = options->assignment_count,
                                  .locate = error};
    snprintf(error->source, sizeof error->source, "%s", options->operand[0]);
    if (error->key[0] != '\0')
        slew_scenario_read_file(options->operand[0], &reading, &again);
}

int cli_report_located(const cli_options *options, slew_status status, slew_error *error)
{
    cli_locate(options, error);
    cli_report_error(error);
    return cli_code(status);
}

slew_status cli_story_try(cli_story *story, const cli_options *options, slew_error *error)
{
    *error = (slew_error){0};
    slew_status status = slew_prepare(&story->scenario, story->parts, &story->prepared, error);
    if (status != SLEW_OK)
        cli_locate(options, error);
    return status;
}

int cli_story_prepare(cli_story *story, const cli_options *options)
{
    slew_error error;
    cli_sensor_warn(options, &story->scenario);
    slew_status status = cli_story_try(story, options, &error);
    if (status != SLEW_OK)
        cli_report_error(&error);
    return cli_code(status);
}

int cli_story_play(cli_story *story, bool with_samples)
{
    const slew_observer observer = {keep_event, with_samples ? keep_sample : NULL, SAMPLE_INTERVAL,
                                    story};
    slew_run_prepared(&story->scenario, &story->prepared, story->parts, &observer, &story->result);
    return story->short_of_memory ? cli_no_memory() : CLI_OK;
}

int cli_story_run(cli_story *story, const cli_options *options, bool with_samples)
{
    int code = cli_story_prepare(story, options);
    return code == CLI_OK ? cli_story_play(story, with_samples) : code;
}

void cli_story_free(cli_story *story)
{
    if (story == NULL)
        return;
    free(story->event);
    free(story->sample);
    free(story);
}

/* ---- asking ---- */

bool cli_story_stows(const cli_story *story)
{
    return story->parts != SLEW_DEPLOY_ONLY;
}

bool cli_story_deploys(const cli_story *story)
{
    return story->parts != SLEW_STOW_ONLY && story->scenario.deploy.given;
}

bool cli_story_deploy_begun(const cli_story *story)
{
    const slew_part *deploy = &story->result.deploy;
    return cli_story_deploys(story) && (deploy->says != SLEW_NOT_RUN || !deploy->holds);
}

const slew_setup *cli_story_setup(const cli_story *story)
{
    return cli_story_stows(story) ? &story->prepared.stow_setup : &story->prepared.deploy_setup;
}

double cli_story_stow_end(const cli_story *story)
{
    for (size_t i = 0; i < story->event_count; i++)
        if (story->event[i].kind == SLEW_EVENT_DONE || story->event[i].kind == SLEW_EVENT_FAULT)
            return story->event[i].time;
    return INFINITY;
}

double cli_story_floor(const cli_story *story)
{
    return cli_story_deploy_begun(story) ? story->prepared.deploy_setup.supply.floor
                                         : story->prepared.stow_setup.supply.floor;
}

int cli_stop_under(const slew_setup *setup, int axis, double angle)
{
    const slew_range *stops = &setup->axis[axis].stops;
    const double touch = 1e-9; /* a place is exact to this [rad] */
    if (angle <= stops->low + touch)
        return -1;
    return angle >= stops->high - touch ? 1 : 0;
}
