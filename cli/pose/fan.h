/* fan.h - where the axes rest over all that the scenario lets vary: the fan of the pose picture. */
#ifndef SLEW_CLI_POSE_FAN_H
#define SLEW_CLI_POSE_FAN_H

#include "frame/sampling.h"
#include "single/single_run.h"

enum { CLI_FAN_STOW, CLI_FAN_DEPLOY, CLI_FAN_PARTS };

/* What a part came to in one sample; the first that fits counts, from the last upwards. */
typedef enum cli_fan_end {
    CLI_FAN_ON_TARGET, /* or, without a stow point, stowed */
    CLI_FAN_MISSED,
    CLI_FAN_ON_A_STOP,     /* reported as done while an axis stands on a hard stop */
    CLI_FAN_FAULT,         /* the controller says so */
    CLI_FAN_DOES_NOT_HOLD, /* an axis is moved by its load */
    CLI_FAN_NOT_REACHED,   /* the deploy after a stow that failed: it has no angles */
    CLI_FAN_ENDS
} cli_fan_end;

typedef struct cli_fan {
    slew_ensemble ensemble; /* refused samples and parts not reached have NaN for angles */
    slew_sampling sampling; /* how to repeat it */
} cli_fan;

/* Says what is wrong with the sampling options of a command whose picture they are for. Returns an
 * exit code. */
int cli_fan_check(const cli_options *options, const char *command);

/* Runs the single's scenario over its spread. Returns an exit code; errors are told on stderr.
 * After ctrl-C the code is that of stopping and the fan is what the samples done tell
 * (ensemble.done may be 0). Free the fan after any of them. */
int cli_fan_run(const cli_options *options, const cli_single *single, cli_fan *fan);
void cli_fan_free(cli_fan *fan);

/* The angle at which the axis rests after the part in that sample [rad]. */
double cli_fan_angle(const cli_fan *fan, int64_t sample, int part, int axis);

/* How many samples came to that end. */
int64_t cli_fan_count(const cli_fan *fan, int part, cli_fan_end end);

/* "stow: 466 on target, 34 missed; deploy: 500 on target": of the samples that ran. */
void cli_fan_words(const cli_fan *fan, const cli_single *single, char *text, size_t size);

/* Of more samples than this one line stands for several. */
enum { CLI_FAN_LINES_MAX = 100 };

/* Hands the lines of the fan to `draw`: part and angle [rad], at equal steps through the sorted
 * angles from the lowest to the highest. false: memory is short. */
bool cli_fan_lines(const cli_fan *fan, int axis,
                   void (*draw)(void *context, int part, double angle), void *context);

#endif
