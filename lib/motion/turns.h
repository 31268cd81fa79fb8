/*
 * turns.h - turns of a speed, or of a current that goes with the speeds, that two neighbouring
 * nodes of a step do not show: it turns between them, and back.
 */
#ifndef SLEW_MOTION_TURNS_H
#define SLEW_MOTION_TURNS_H

#include "motion/step.h"

/* Rate of share[0] w0 + share[1] w1, `since` seconds after the start of the step. */
double slew_turns_rate(const slew_step *step, const double share[SLEW_AXES], double since);

/* The same at a node. */
static inline double slew_turns_node(const slew_step *step, const double share[SLEW_AXES], int node)
{
    return share[0] * step->node_change[node][0] + share[1] * step->node_change[node][1];
}

/* Seen from its values at the nodes, the rate is nearest to zero between this one and the next,
 * without passing through it: only there something can be hidden. (Beyond the last node it goes on
 * as before: it is slow there, and the last two are close together.) */
static inline bool slew_turns_nears(const double rate[SLEW_NODES], int node)
{
    double from = rate[node], to = rate[node + 1];
    double after = node + 2 < SLEW_NODES ? rate[node + 2] : to + (to - from);
    return from * to > 0 && fabs(after) > fabs(to) &&
           (node == 0 || fabs(rate[node - 1]) > fabs(from));
}

/* A time between node and node + 1, where it nears zero, at which the rate has the other sign than
 * at both; negative: there is none. */
double slew_turns_hidden(const slew_step *step, const double share[SLEW_AXES], int node);

/* The rate, with these values at the nodes, passes through zero between node and node + 1. */
static inline bool slew_turns_between(const slew_step *step, const double share[SLEW_AXES],
                                      const double rate[SLEW_NODES], int node)
{
    return rate[node] * rate[node + 1] < 0 ||
           (slew_turns_nears(rate, node) && slew_turns_hidden(step, share, node) >= 0);
}

/* How long the speed of the axis that alone moves surely only rises or only falls, from the start
 * of the step on [s]. */
double slew_turns_first(const slew_step *step);

#endif
