/* single_run.c - see single_run.h. */
#include "single_run.h"

#include <stdlib.h>

#include "line/exit_code.h"
#include "line/report.h"

/* of a picture, which can't show more: a run of more than 40 minutes keeps fewer of them */
enum { SAMPLES_MAX = 1 << 18 };

slew_parts cli_wanted_parts(const cli_options *options)
{
    static const slew_parts parts[] = {SLEW_STOW_AND_DEPLOY, [CLI_ONLY_STOW] = SLEW_STOW_ONLY,
                                       [CLI_ONLY_DEPLOY] = SLEW_DEPLOY_ONLY};
    return parts[options->only];
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
    cli_single *single = context;
    void *items = single->event;
    if (grow(&items, sizeof *event, single->event_count, &single->event_room)) {
        single->event = items;
        single->event[single->event_count++] = *event;
    } else
        single->short_of_memory = true;
}

/* every second of them goes, and every second of those to come */
static void thin_out(cli_single *single)
{
    size_t kept = 0;
    for (size_t i = 0; i < single->sample_count; i += 2)
        single->sample[kept++] = single->sample[i];
    single->sample_count = kept;
    single->sample_step *= 2;
}

static void keep_sample(void *context, const slew_sample *sample)
{
    cli_single *single = context;
    void *items = single->sample;
    if (single->sample_seen++ % single->sample_step != 0)
        return;
    if (single->sample_count == SAMPLES_MAX)
        thin_out(single);
    if (grow(&items, sizeof *sample, single->sample_count, &single->sample_room)) {
        single->sample = items;
        single->sample[single->sample_count++] = *sample;
    } else
        single->short_of_memory = true;
}

/* a deploy begins where the stow of today ends; without a deploy that is what is refused */
slew_parts cli_single_cycle(const cli_single *single)
{
    bool begins_stowed = single->parts == SLEW_DEPLOY_ONLY && single->scenario->deploy.given;
    return begins_stowed ? SLEW_STOW_AND_DEPLOY : single->parts;
}

slew_status cli_single_try(cli_single *single, const cli_options *options, slew_error *error)
{
    *error = (slew_error){0};
    slew_status status =
        slew_prepare(single->scenario, cli_single_cycle(single), &single->prepared, error);
    if (status != SLEW_OK)
        cli_locate(options, error);
    return status;
}

int cli_single_prepare(cli_single *single, const cli_options *options)
{
    slew_error error;
    cli_sensor_warn(options, single->scenario);
    slew_status status = cli_single_try(single, options, &error);
    if (status == SLEW_ERROR_TEACH || status == SLEW_ERROR_INPUT)
        cli_doubt_explain(options, single, &error);
    if (status != SLEW_OK)
        cli_report_error(&error);
    return cli_code(status);
}

/* Stows first, unseen. Of a stow from which no deploy begins all is told, since that is why. */
static void stow_first(cli_single *single)
{
    slew_axis_setup *axis = single->prepared.deploy_setup.axis;
    slew_run_prepared(single->scenario, &single->prepared, SLEW_STOW_AND_DEPLOY, NULL,
                      &single->result);
    single->stow_fails = !cli_single_deploy_begun(single);
    if (single->stow_fails)
        single->parts = SLEW_STOW_AND_DEPLOY;
    for (int j = 0; j < SLEW_AXES && !single->stow_fails; j++)
        axis[j].start = single->result.stow.angle[j];
}

int cli_single_play(cli_single *single, bool with_samples)
{
    single->sample_step = 1;
    if (single->parts == SLEW_DEPLOY_ONLY)
        stow_first(single);
    const slew_observer observer = {.event = keep_event,
                                    .sample = with_samples ? keep_sample : NULL,
                                    .interval = CLI_SAMPLE_INTERVAL,
                                    .context = single};
    slew_run_prepared(single->scenario, &single->prepared, single->parts, &observer,
                      &single->result);
    return single->short_of_memory ? cli_no_memory() : CLI_OK;
}

int cli_single_run(cli_single *single, const cli_options *options, bool with_samples)
{
    int code = cli_single_prepare(single, options);
    return code == CLI_OK ? cli_single_play(single, with_samples) : code;
}

void cli_single_free(cli_single *single)
{
    free(single->event);
    free(single->sample);
}

/* ---- asking ---- */

bool cli_single_stows(const cli_single *single)
{
    return single->parts != SLEW_DEPLOY_ONLY;
}

bool cli_single_deploys(const cli_single *single)
{
    return single->parts != SLEW_STOW_ONLY && single->scenario->deploy.given;
}

bool cli_single_deploy_begun(const cli_single *single)
{
    const slew_part *deploy = &single->result.deploy;
    return cli_single_deploys(single) && (deploy->says != SLEW_NOT_RUN || !deploy->holds);
}

const slew_setup *cli_single_setup(const cli_single *single)
{
    return cli_single_stows(single) ? &single->prepared.stow_setup : &single->prepared.deploy_setup;
}

double cli_single_stow_end(const cli_single *single)
{
    for (size_t i = 0; i < single->event_count; i++)
        if (single->event[i].kind == SLEW_EVENT_DONE || single->event[i].kind == SLEW_EVENT_FAULT)
            return single->event[i].time;
    return INFINITY;
}

double cli_single_floor(const cli_single *single)
{
    return cli_single_deploy_begun(single) ? single->prepared.deploy_setup.supply.floor
                                           : single->prepared.stow_setup.supply.floor;
}
