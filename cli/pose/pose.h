/*
 * pose.h - the pose picture: the barrel from the side and from above, where it rests after stow and
 * deploy and where it should, the hard stops, home windows and keep-out boxes.
 */
#ifndef SLEW_CLI_POSE_POSE_H
#define SLEW_CLI_POSE_POSE_H

#include "fan.h"

enum { CLI_POSES_MAX = CLI_COLUMNS_MAX };

/* One column of the picture. */
typedef struct cli_pose {
    const char *title;        /* above a column when there are several; NULL: the scenario's */
    const cli_single *single; /* prepared and run; events and samples are not needed */
    const char *why_not;      /* NULL; or why it was not run: the column says that instead */
    const cli_fan *fan;       /* NULL: none */
} cli_pose;

/* Draws 1 to CLI_POSES_MAX poses side by side, at one scale, to the file of --pose, on a slide with
 * --slide (to - in the terminal one below the other). Returns an exit code, a failure is told on
 * stderr. */
int cli_pose_draw(const cli_options *options, int count, const cli_pose pose[]);

#endif
