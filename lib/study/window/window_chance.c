/* window_chance.c - how likely a magnet within its tolerances is too weak for its switch. */
#include "study/window/window.h"

enum { DRAWN = 20000 };
static const uint64_t seed = 1;
static const double confidence = 0.95;

/* the figures that vary: between the ends of what is asked all values are as likely */
static int list_figures(const slew_scenario *s, const slew_window_question *q,
                        slew_variation out[SLEW_WINDOW_FIGURES], int figure[SLEW_WINDOW_FIGURES])
{
    int count = 0;
    for (int i = 0; i < SLEW_WINDOW_FIGURES; i++) {
        int key = slew_window_key(q->axis, i);
        const slew_variation *varied = slew_window_variation(s, key);
        bool asked = !isnan(q->figure[i].low);
        if (!asked && varied == NULL)
            continue;
        figure[count] = i;
        out[count++] = asked ? (slew_variation){.key = key,
                                                .distribution = SLEW_UNIFORM,
                                                .low = q->figure[i].low,
                                                .high = q->figure[i].high}
                             : *varied;
    }
    return count;
}

static slew_magnet draw(const slew_magnet *own, const slew_variation *varied, const int *figure,
                        int count, int64_t number)
{
    slew_magnet magnet = *own;
    for (int i = 0; i < count; i++)
        *slew_window_place(&magnet, figure[i]) = slew_variation_quantile(
            &varied[i], slew_random_unit(seed, (uint64_t)number, (uint32_t)i));
    return magnet;
}

/* a switch that would open above what it closes at can't be, and is left out */
slew_share slew_window_chance(const slew_scenario *scenario, const slew_window_question *question,
                              const slew_magnet *own)
{
    slew_variation varied[SLEW_WINDOW_FIGURES];
    int figure[SLEW_WINDOW_FIGURES];
    int64_t whole = 0, weak = 0;
    int count = own->given ? list_figures(scenario, question, varied, figure) : 0;
    for (int64_t i = 0; i < DRAWN && count > 0; i++) {
        const slew_magnet magnet = draw(own, varied, figure, count, i);
        if (magnet.release_flux > magnet.operate_flux)
            continue;
        whole++;
        weak += slew_home_flux(&magnet, 0) < magnet.operate_flux;
    }
    return whole > 0 ? slew_exact_share(weak, whole, confidence) : (slew_share){NAN, NAN, NAN};
}
