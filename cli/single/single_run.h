/* single_run.h - one run of a scenario, kept with its events and samples. */
#ifndef SLEW_CLI_SINGLE_SINGLE_RUN_H
#define SLEW_CLI_SINGLE_SINGLE_RUN_H

#include "frame/reading.h"
#include "slewtime/doubts.h"
#include "slewtime/run.h"

static const double CLI_SAMPLE_INTERVAL = 0.010; /* of traces and pictures [s] */

typedef struct cli_single {
    const slew_scenario *scenario;
    slew_parts parts; /* which are told */
    bool
        stow_fails; /* the deploy alone was asked for, but its stow ends before it: parts is both */
    slew_prepared prepared;
    slew_result result;
    size_t event_count, event_room;
    slew_event *event;
    size_t sample_count, sample_room;
    slew_sample *sample;
    size_t sample_seen, sample_step; /* each sample_step-th of those seen is kept */
    bool short_of_memory;
} cli_single;

/* The parts that --only asks for. */
slew_parts cli_wanted_parts(const cli_options *options);

/* The parts that are run for those that are told: a deploy alone begins where the stow ends. */
slew_parts cli_single_cycle(const cli_single *single);

/* Warns on stderr, unless quiet, of home sensors that never close or never open, on each occasion,
 * with the place of the key. */
void cli_sensor_warn(const cli_options *options, const slew_scenario *scenario);

/* Warns on stderr, unless quiet, of values that no truck has, with the places of their keys. */
void cli_doubt_warn(const cli_options *options, const slew_doubt *doubts, int count);

/* Where a value that no truck has is why the point can't be taught, puts it in the error's place.
 */
void cli_doubt_explain(const cli_options *options, const cli_single *single, slew_error *error);

/* Finds the value that no truck has and that is why the run ends in a fault. false: none is. */
bool cli_doubt_cause(const cli_single *single, slew_doubt *cause);

/* Derives what a run needs: models and stored times. Returns an exit code, an error is told on
 * stderr with the place of its key. */
int cli_single_prepare(cli_single *single, const cli_options *options);

/* The same, but an error is handed back with its place instead of told. */
slew_status cli_single_try(cli_single *single, const cli_options *options, slew_error *error);

/* Runs what is prepared. Returns an exit code. */
int cli_single_play(cli_single *single, bool with_samples);

/* Prepares and runs single->scenario; samples are kept where they are wanted. Returns an exit code,
 * errors are told on stderr. */
int cli_single_run(cli_single *single, const cli_options *options, bool with_samples);

/* Releases the events and samples, after any of these. */
void cli_single_free(cli_single *single);

/* true: the part was asked for, and the scenario has it. */
bool cli_single_stows(const cli_single *single);
bool cli_single_deploys(const cli_single *single);

/* true: the deploy was asked for and begun; its angles mean something. */
bool cli_single_deploy_begun(const cli_single *single);

/* The conditions whose stops and home sensors a picture shows: those of the first part run. */
const slew_setup *cli_single_setup(const cli_single *single);

/* When the stow ended, by its done or fault event; INFINITY: it has none [s]. */
double cli_single_stow_end(const cli_single *single);

/* The voltage floor that the verdict is about: that of the last part run [V]. */
double cli_single_floor(const cli_single *single);

#endif
