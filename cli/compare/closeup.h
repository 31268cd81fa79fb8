/* closeup.h - which piece of a comparison's picture is shown once more, enlarged. */
#ifndef SLEW_CLI_COMPARE_CLOSEUP_H
#define SLEW_CLI_COMPARE_CLOSEUP_H

#include "compared_runs.h"

/* How one axis comes to where it is stowed: degrees in which columns differ are hard to see in the
 * whole travel. */
typedef struct cli_closeup {
    bool is_there; /* false: no column stows, or the ends lie so far apart that it would be no help
                    */
    int axis;
    double low, high;              /* of every column [deg] */
    double start[CLI_COLUMNS_MAX]; /* of each column [s] */
    double end;                    /* of the move, after each start [s] */
    double duration;               /* of every column [s] */
} cli_closeup;

/* `low` and `high` are what the whole travel of each axis spans [deg]. */
cli_closeup cli_closeup_find(const cli_compared_runs *columns, const double low[SLEW_AXES],
                             const double high[SLEW_AXES]);

#endif
