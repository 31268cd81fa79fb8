/* causes_diagnosis.c - the ranking, how well it fits, and what to look at next. */
#include "slewtime/causes.h"

#include "error/error.h"

enum { TRIALS = 400 };
static const double worth_a_look = 0.01; /* [bit] */

static void find_candidates(const slew_causes *causes, const slew_seen *seen, uint64_t seed,
                            slew_diagnosis *out)
{
    const slew_ranking *r = &out->ranking;
    while (out->candidates < r->count && out->candidates < SLEW_CANDIDATES_MAX) {
        int cause = r->order[out->candidates];
        if (out->candidates > 0 && r->share[cause] < SLEW_CANDIDATE)
            break;
        out->fit[out->candidates++] = slew_causes_fit(causes, seen, cause, seed, TRIALS);
    }
    out->fits = r->share[r->order[0]] > r->none;
}

static double bits_a_minute(int observable, double bits)
{
    return bits / slew_observable_at(observable)->minutes;
}

static void find_next(const slew_causes *causes, const slew_seen *seen, slew_diagnosis *out)
{
    for (int i = 0; i < SLEW_OBSERVABLES; i++) {
        double bits = isnan(seen->value[i]) ? slew_causes_information(causes, &out->ranking, i) : 0;
        if (bits < worth_a_look)
            continue;
        int at = out->next_count++;
        double rate = bits_a_minute(i, bits);
        for (; at > 0 && bits_a_minute(out->next[at - 1], out->bits[at - 1]) < rate; at--) {
            out->bits[at] = out->bits[at - 1];
            out->next[at] = out->next[at - 1];
        }
        out->bits[at] = bits;
        out->next[at] = i;
    }
}

slew_status slew_causes_diagnose(const slew_causes *causes, const slew_catalogue *catalogue,
                                 const slew_seen *seen, uint64_t seed, slew_diagnosis *out,
                                 slew_error *error)
{
    if (causes == NULL || catalogue == NULL || seen == NULL || out == NULL)
        return slew_no_argument(error);
    *out = (slew_diagnosis){0};
    slew_status status = slew_causes_rank(causes, catalogue, seen, &out->ranking, error);
    if (status != SLEW_OK)
        return status;
    find_candidates(causes, seen, seed, out);
    find_next(causes, seen, out);
    return SLEW_OK;
}

void slew_diagnosis_free(slew_diagnosis *diagnosis)
{
    if (diagnosis != NULL)
        slew_ranking_free(&diagnosis->ranking);
}
