/* judge.c - whether so many misses among so many samples meet the demands. */
#include "slewtime/demands.h"

#include "keys/sound.h"
#include "study/sampling/exact.h"

static const double confidence_shown = 0.95;
static const int64_t most_samples = INT64_C(1000000000000);

const char *slew_meets_word(slew_meets meets)
{
    static const char *const words[] = {"meets", "meets_not", "not_told"};
    return (unsigned)meets < 3 ? words[meets] : "?";
}

/* ---- the three answers ---- */

static slew_meets meets_with(double hits, double n, double limit, double confidence)
{
    if (limit >= 1 || slew_exact_upper(hits, n, confidence) <= limit)
        return SLEW_MEETS;
    return slew_exact_lower(hits, n, confidence) > limit ? SLEW_MEETS_NOT : SLEW_NOT_TOLD;
}

/* samples that would tell if the share stays; -1: none would */
static int64_t enough_for(double share, int64_t n, double limit, double confidence)
{
    int64_t few = n, many = n;
    while (many < most_samples &&
           meets_with(share * (double)many, (double)many, limit, confidence) == SLEW_NOT_TOLD)
        few = many, many *= 2;
    if (many >= most_samples)
        return -1;
    while (many - few > 1) {
        int64_t middle = few + (many - few) / 2;
        bool told =
            meets_with(share * (double)middle, (double)middle, limit, confidence) != SLEW_NOT_TOLD;
        *(told ? &many : &few) = middle;
    }
    return many;
}

static slew_demand_state state_of(const slew_demands *demands, slew_demand demand, int64_t misses,
                                  int64_t samples)
{
    slew_demand_state s = {.asked = true,
                           .limit = slew_demand_limit(demands, demand),
                           .misses = misses,
                           .missed = slew_exact_share(misses, samples, confidence_shown)};
    s.meets = meets_with((double)misses, (double)samples, s.limit, demands->confidence);
    s.enough = enough_for(s.missed.value, samples, s.limit, demands->confidence);
    return s;
}

/* what is not met weighs more than what is not told */
static slew_meets both(slew_meets a, slew_meets b)
{
    if (a == SLEW_MEETS_NOT || b == SLEW_MEETS_NOT)
        return SLEW_MEETS_NOT;
    return a == SLEW_NOT_TOLD ? a : b;
}

/* nothing varies: one case is all */
static slew_demand_state certain_state(const slew_demands *demands, slew_demand demand,
                                       int64_t misses, int64_t samples)
{
    double missed = misses > 0 ? 1 : 0, limit = slew_demand_limit(demands, demand);
    return (slew_demand_state){.asked = true,
                               .limit = limit,
                               .misses = misses,
                               .missed = {missed, missed, missed},
                               .meets = missed <= limit ? SLEW_MEETS : SLEW_MEETS_NOT,
                               .enough = samples};
}

void slew_demands_judge(const slew_scenario *scenario, slew_parts parts,
                        const int64_t misses[SLEW_DEMAND_COUNT], int64_t samples, int64_t refused,
                        slew_judgment *out)
{
    if (misses == NULL || out == NULL || samples < 1 || !slew_has_shape(scenario, NULL))
        return;
    *out = (slew_judgment){.samples = samples, .refused = refused, .meets = SLEW_MEETS};
    out->certain = slew_ensemble_dimensions(scenario, parts) == 0;
    for (int d = 0; d < SLEW_DEMAND_COUNT; d++) {
        if (!slew_demand_is_asked(scenario, parts, (slew_demand)d))
            continue;
        out->of[d] = (out->certain ? certain_state : state_of)(&scenario->demands, (slew_demand)d,
                                                               misses[d], samples);
        out->meets = both(out->meets, out->of[d].meets);
    }
}
