/* sampling.h - what commands that ask many runs have in common: sampling options, progress, ctrl-C.
 */
#ifndef SLEW_CLI_FRAME_SAMPLING_H
#define SLEW_CLI_FRAME_SAMPLING_H

#include "line/options.h"
#include "slewtime/study.h"

typedef struct cli_progress {
    const char *what; /* "offset" */
    int64_t samples;
    double started, told; /* [s] */
    bool shows;           /* stderr is a terminal, and not quiet */
    bool shown;
} cli_progress;

/* The sampling that the options ask for; progress is shown on a terminal once it takes longer than
 * a second, and ctrl-C stops it cleanly. `progress` must live as long as the sampling. */
slew_sampling cli_sampling(const cli_options *options, const char *what, cli_progress *progress);

/* Reads --wanted, a probability from 1e-6 to below 1; without it *wanted stays as it is. `example`
 * is for the complaint. Returns an exit code. */
int cli_read_wanted(const cli_options *options, const char *example, double *wanted);

/* Warns, unless quiet, of keys of spread.day that are known, and so not drawn; and of keys that
 * were set and are drawn all the same. */
void cli_warn_of_known(const cli_options *options, const slew_scenario *scenario);

/* Prints a line for each key that varies, and one for those that are known, on stdout. */
void cli_print_spread(const slew_scenario *scenario);

/* Begins the next stage of the same question, of so many samples. */
void cli_sampling_next(cli_progress *progress, int64_t samples);

/* Says on stderr that the samples done so far are all that the answer rests on, or that there is
 * none. */
void cli_report_stopped(int64_t done, int64_t samples);

/* Takes the progress line away and gives ctrl-C back its usual meaning. */
void cli_sampling_end(cli_progress *progress);

#endif
