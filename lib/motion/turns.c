/* turns.c - see turns.h. */
#include "motion/turns.h"

#include "motion/step_read.h"

static const double none = -1;
enum { LOOKS_MAX = 40 };

double slew_turns_rate(const slew_step *step, const double share[SLEW_AXES], double since)
{
    slew_step_place p = slew_step_place_at(step, since, step->moves[0], step->moves[1]);
    double rate = 0;
    for (int j = 0; j < SLEW_AXES; j++)
        if (step->moves[j])
            rate += share[j] * slew_step_change_there(step, j, &p);
    return rate;
}

/* the rate, made positive, and its slope at one time */
typedef struct tangent {
    double at, value, slope;
} tangent;

static tangent tangent_at(const slew_step *step, const double share[SLEW_AXES], double sign,
                          double at)
{
    slew_step_place p = slew_step_place_at(step, at, step->moves[0], step->moves[1]);
    tangent out = {at, 0, 0};
    for (int j = 0; j < SLEW_AXES; j++)
        if (step->moves[j]) {
            out.value += sign * share[j] * slew_step_change_there(step, j, &p);
            out.slope += sign * share[j] * slew_step_bend_there(step, j, &p);
        }
    return out;
}

/* Between two tangents, falling and rising, a curve that bends up stays above where they meet:
 * there is nothing hidden if that is above zero, and else it is the place to look at. */
double slew_turns_hidden(const slew_step *step, const double share[SLEW_AXES], int node)
{
    double sign = slew_turns_node(step, share, node) > 0 ? 1 : -1;
    tangent low = tangent_at(step, share, sign, slew_node[node] * step->length);
    tangent high = tangent_at(step, share, sign, slew_node[node + 1] * step->length);
    for (int n = 0; n < LOOKS_MAX && low.slope < 0 && high.slope > 0; n++) {
        double gap = high.at - low.at;
        double ahead = (high.value - low.value - high.slope * gap) / (low.slope - high.slope);
        if (low.value + low.slope * ahead > 0 || !(ahead > 0 && ahead < gap))
            return none;
        tangent here = tangent_at(step, share, sign, low.at + ahead);
        if (here.value < 0)
            return here.at;
        if (here.slope < 0)
            low = here;
        else
            high = here;
    }
    return none;
}

double slew_turns_first(const slew_step *step)
{
    const double share[SLEW_AXES] = {step->moves[0], step->moves[1]};
    double rate[SLEW_NODES];
    int node = 0;
    if (step->plain)
        return step->length;
    for (int i = 0; i < SLEW_NODES; i++)
        rate[i] = slew_turns_node(step, share, i);
    while (node < SLEW_NODES - 1 && !slew_turns_between(step, share, rate, node))
        node++;
    return slew_node[node] * step->length;
}
