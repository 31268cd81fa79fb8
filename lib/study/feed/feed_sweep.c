/* feed_sweep.c - what conductors leave at the controller, against the length of the feed. */
#include "slewtime/feed.h"

static const double usual_longest = 20; /* [m] */

static void ask_point(const slew_feed_answer *a, slew_setup *setup, slew_feed_point *out)
{
    const double own = a->climate[SLEW_FEED_AS_IT_IS].temperature;
    out->length = setup->supply.feed.length;
    for (int w = 0; w < SLEW_FEED_WEATHERS; w++) {
        double temperature = setup->environment.temperature = a->climate[w].temperature;
        bool known = w != SLEW_FEED_AS_IT_IS && temperature == own;
        out->trial[w] = known ? out->trial[SLEW_FEED_AS_IT_IS] : slew_feed_try(setup, a->together);
    }
}

static void ask_curve(const slew_feed_answer *a, slew_ladder ladder, int index,
                      slew_feed_sweep *out)
{
    const double own = a->setup.supply.feed.length;
    const double longest = own > 0 ? 2 * own : usual_longest;
    slew_feed_curve *curve = &out->curve[out->count++];
    slew_setup setup = a->setup;
    curve->ladder = ladder;
    curve->index = index;
    if (index != SLEW_FEED_OWN)
        slew_feed_fit(&setup, ladder, index);
    for (int i = 0; i < SLEW_FEED_POINTS; i++) {
        setup.supply.feed.length = longest * i / (SLEW_FEED_POINTS - 1);
        ask_point(a, &setup, &curve->point[i]);
    }
}

void slew_feed_sweep_run(const slew_feed_answer *answer, slew_ladder metric, slew_feed_sweep *out)
{
    if (answer == NULL || out == NULL)
        return;
    const slew_ladder ladders[] = {SLEW_LADDER_AWG, metric};
    out->count = 0;
    ask_curve(answer, SLEW_LADDER_AWG, SLEW_FEED_OWN, out);
    for (int k = 0; k < 2; k++)
        for (int i = 0; i < slew_ladder_count(ladders[k]); i++)
            ask_curve(answer, ladders[k], i, out);
}
