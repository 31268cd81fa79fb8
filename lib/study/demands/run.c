/* run.c - a scenario as it is against its demands, over its spread. */
#include "study/demands/ask.h"

#include "error/error.h"

void slew_demands_ask(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                      double *figures)
{
    const slew_demands_asking *a = context;
    slew_result result;
    slew_run_prepared(drawn, prepared, a->parts, NULL, &result);
    figures[0] = slew_demands_missed(drawn, prepared, a->parts, &result);
}

unsigned slew_demands_mask(const slew_demands_asking *a, double figure)
{
    return isnan(figure) ? slew_demands_missed_untaught(a->scenario, a->parts) : (unsigned)figure;
}

static void count(const slew_demands_asking *a, const slew_ensemble *e,
                  int64_t misses[SLEW_DEMAND_COUNT])
{
    for (int64_t i = 0; i < e->done; i++) {
        unsigned mask = slew_demands_mask(a, e->figure[i]);
        for (int d = 0; d < SLEW_DEMAND_COUNT; d++)
            misses[d] += mask >> d & 1;
    }
}

slew_status slew_demands_run(const slew_scenario *scenario, slew_parts parts,
                             const slew_sampling *sampling, slew_judgment *out, slew_error *error)
{
    if (out == NULL)
        return slew_no_argument(error);
    slew_ensemble e;
    slew_demands_asking a = {scenario, parts};
    int64_t misses[SLEW_DEMAND_COUNT] = {0};
    *out = (slew_judgment){0};
    slew_status status =
        slew_ensemble_run(scenario, parts, sampling, slew_demands_ask, &a, 1, &e, error);
    if (status != SLEW_OK && status != SLEW_ERROR_STOPPED)
        return status;
    count(&a, &e, misses);
    if (e.done > 0)
        slew_demands_judge(scenario, parts, misses, e.done, e.refused, out);
    slew_ensemble_free(&e);
    return status;
}

/* any other seed does; the golden ratio keeps neighbors apart */
slew_sampling slew_sampling_fresh(const slew_sampling *sampling)
{
    if (sampling == NULL)
        return slew_sampling_default();
    slew_sampling fresh = *sampling;
    fresh.seed += UINT64_C(0x9e3779b97f4a7c15);
    return fresh;
}
