/* finer_confirm.c - see finer_confirm.h. */
#include "study/offset/finer_confirm.h"

#include "slewtime/offset.h"
#include "study/offset/landing.h"
#include "study/sampling/stowed_ensemble.h"

#include <stdlib.h>
#include <string.h>

enum { FIGURES = SLEW_LANDING_FIGURES };

/* parts of the way back that are tried */
static const double back[] = {1.0 / 32, 1.0 / 16, 1.0 / 8, 1.0 / 4, 1.0 / 2};

typedef struct asking {
    const slew_scenario *scenario;
    slew_sampling sampling;
    double *stored; /* of these samples */
    slew_error *error;
} asking;

/* ---- runs ---- */

typedef struct candidates {
    slew_offset_choice *at;
    int count;
} candidates;

static void ask(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                const slew_stowed *stowed, double *figures)
{
    const candidates *c = context;
    slew_deploys deploys;
    slew_deploys_begin(drawn, prepared, stowed, &deploys);
    for (int k = 0; k < c->count; k++)
        slew_landing_run(&deploys, c->at[k].seconds, figures + k * FIGURES);
}

/* all but their seconds */
static slew_status simulate(const asking *a, slew_offset_choice *at, int count)
{
    slew_ensemble e;
    candidates c = {at, count};
    const slew_stowed_asking each = {ask, &c, count * FIGURES, NULL, a->stored};
    slew_status status = slew_stowed_ensemble_run(a->scenario, &a->sampling, &each, &e, a->error);
    if (status != SLEW_OK && status != SLEW_ERROR_STOPPED)
        return status;
    double *room = malloc((size_t)e.samples * sizeof *room);
    for (int k = 0; k < count && room != NULL; k++)
        slew_landing_conclude(a->scenario, &e, k * FIGURES, &a->sampling, room, &at[k]);
    free(room);
    slew_ensemble_free(&e);
    return room != NULL ? status : SLEW_ERROR_MEMORY;
}

/* ---- better than what is coarser ---- */

/* so far from `found` back to `coarser`, in steps of `step` from `coarser` (0: of 0.01 s) */
static double between(double found, double coarser, double part, double step)
{
    double fine = step > 0 ? step : 0.01;
    return coarser + round((found - coarser) * (1 - part) / fine) * fine;
}

/* What lands most often may strike something: goes back until it is better than `coarser`; else it
 * is `coarser` itself. */
static slew_status go_back(const asking *a, const slew_offset_choice *coarser,
                           const double step[SLEW_AXES], slew_offset_choice *found)
{
    const slew_offset_choice first = *found;
    for (size_t i = 0; i < sizeof back / sizeof *back; i++) {
        for (int j = 0; j < SLEW_AXES; j++)
            found->seconds[j] = between(first.seconds[j], coarser->seconds[j], back[i], step[j]);
        slew_status status = simulate(a, found, 1);
        if (status != SLEW_OK || slew_offset_is_better(a->scenario, found, coarser))
            return status;
    }
    *found = *coarser;
    return SLEW_OK;
}

static bool is_same(const slew_offset_choice *a, const slew_offset_choice *b)
{
    return a->seconds[SLEW_ROTATION] == b->seconds[SLEW_ROTATION] &&
           a->seconds[SLEW_ELEVATION] == b->seconds[SLEW_ELEVATION];
}

static slew_status keep_better(const asking *a, const slew_offset_choice *best, slew_finer *out)
{
    static const double parts[SLEW_FINER_COUNT] = {2, 10, INFINITY};
    slew_offset_choice all[1 + SLEW_FINER_COUNT] = {*best};
    memcpy(all + 1, out->at, sizeof out->at);
    slew_status status = simulate(a, all, 1 + SLEW_FINER_COUNT);
    for (int k = 0; status == SLEW_OK && k < SLEW_FINER_COUNT; k++) {
        slew_offset_choice *coarser = &all[k], *found = &all[k + 1];
        const double step[SLEW_AXES] = {out->step[0] / parts[k], out->step[1] / parts[k]};
        bool gives_way =
            !is_same(found, coarser) && !slew_offset_is_better(a->scenario, found, coarser);
        out->held_back[k] = gives_way;
        if (gives_way)
            status = go_back(a, coarser, step, found);
        out->at[k] = *found;
    }
    return status;
}

/* what has chosen them does not tell of them */
slew_status slew_finer_confirm(const slew_scenario *scenario, const slew_sampling *sampling,
                               const slew_offset *offset, slew_finer *out, slew_error *error)
{
    asking searched = {scenario, *sampling, offset->stored_chosen, error};
    const asking fresh = {scenario, slew_sampling_fresh(sampling), offset->stored_fresh, error};
    searched.sampling.samples = out->searched;
    slew_status status = keep_better(&searched, &offset->choice[offset->best], out);
    return status == SLEW_OK ? simulate(&fresh, out->at, SLEW_FINER_COUNT) : status;
}
