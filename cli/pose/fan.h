/* fan.h - where the axes rest over all that the scenario lets vary: the fan of the pose picture. */
#ifndef SLEW_CLI_POSE_FAN_H
#define SLEW_CLI_POSE_FAN_H

#include "frame/sampling.h"
#include "single/single_run.h"
#include "slewtime/rest.h"

typedef struct cli_fan {
    slew_ensemble rest;     /* where the axes rest, see slewtime/rest.h */
    slew_sampling sampling; /* how to repeat it */
    bool deploy_alone;      /* the stow has no lines */
} cli_fan;

/* Says what is wrong with the sampling options of a command whose picture they are for. Returns an
 * exit code. */
int cli_fan_check(const cli_options *options, const char *command);

/* Runs the single's scenario over its spread. Returns an exit code; errors are told on stderr.
 * After ctrl-C the code is that of stopping and the fan is what the samples done tell
 * (rest.done may be 0). Free fan->rest after any of them. */
int cli_fan_run(const cli_options *options, const cli_single *single, cli_fan *fan);

/* "stow: 466 within tolerance, 34 outside; deploy: 500 inside the target": of the samples that ran.
 */
void cli_fan_words(const cli_fan *fan, const cli_single *single, char *text, size_t size);

/* Of more samples than this one line stands for several. */
enum { CLI_FAN_LINES_MAX = 100 };

/* The lines of the fan: angles at equal steps through the sorted ones, from the lowest to the
 * highest [rad]. Returns how many; -1: memory is short, which is told on stderr. */
int cli_fan_lines(const cli_fan *fan, slew_rest_part part, int axis,
                  double angle[CLI_FAN_LINES_MAX]);

#endif
