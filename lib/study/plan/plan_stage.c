/*
 * plan_stage.c - see plan_stage.h.
 *
 * What is told of a setting comes from samples that had no part in choosing it; where these do not
 * meet the demands, the next candidate of the search is tried, with samples of its own.
 */
#include "study/plan/plan_stage.h"

#include "study/plan/plan_search.h"

typedef slew_plan_stages stages;

/* ---- progress of several questions as one ---- */

static bool tell(void *context, int64_t done)
{
    const stages *s = context;
    (void)done;
    return s->sampling->progress == NULL ||
           s->sampling->progress(s->sampling->context,
                                 s->sampling->samples * s->done / (s->all > 0 ? s->all : 1));
}

slew_sampling slew_plan_staged(stages *s, int64_t samples)
{
    slew_sampling how = *s->sampling;
    how.samples = samples < how.samples ? samples : how.samples;
    how.progress = tell;
    how.context = s;
    return how;
}

/* the k-th set of samples that has nothing to do with the others */
slew_sampling slew_plan_fresh(const slew_sampling *sampling, int k)
{
    slew_sampling how = *sampling;
    for (int i = 0; i <= k; i++)
        how = slew_sampling_fresh(&how);
    return how;
}

/* ---- one scenario: found, and found true ---- */

/* the first candidate that meets all, or of those that do not the one with the least shortfall */
static slew_status confirm(const slew_scenario *s, stages *st, const slew_plan_candidates *c,
                           slew_plan_setting *best, slew_error *error)
{
    for (int i = 0; i < c->count; i++) {
        slew_sampling how = slew_plan_staged(st, st->sampling->samples);
        how = slew_plan_fresh(&how, i);
        slew_plan_setting next = c->of[i];
        slew_status status = slew_plan_judge(s, &how, &next, error);
        if (status != SLEW_OK)
            return status;
        next.confirmed = true;
        if (i == 0 || next.judgment.meets == SLEW_MEETS || next.shortfall < best->shortfall)
            *best = next;
        if (next.judgment.meets == SLEW_MEETS || c->of[i].shortfall > 0)
            break; /* what the search saw fail need not be tried again */
    }
    return SLEW_OK;
}

static slew_plan_cost cost_of(const slew_plan_change *c, const slew_plan_setting *best)
{
    bool moved = slew_plan_distance(best) > 0;
    return moved && c->cost < SLEW_PLAN_COST_RETEACH ? SLEW_PLAN_COST_RETEACH : c->cost;
}

static slew_status search_row(const slew_scenario *s, stages *st, slew_plan_row *row,
                              slew_plan_candidates *found, slew_error *error)
{
    slew_scenario changed = *s;
    slew_sampling how = slew_plan_staged(st, SLEW_PLAN_SCREENED);
    slew_plan_apply(&changed, &row->change);
    slew_status status = slew_plan_search(&changed, &how, found, error);
    if (status != SLEW_OK)
        return status;
    row->best = found->of[0];
    row->cost = cost_of(&row->change, &row->best);
    return SLEW_OK;
}

slew_status slew_plan_screen_row(const slew_scenario *s, stages *st, slew_plan_row *row,
                                 slew_error *error)
{
    slew_plan_candidates found;
    return search_row(s, st, row, &found, error);
}

slew_status slew_plan_confirm_row(const slew_scenario *s, stages *st, slew_plan_row *row,
                                  slew_error *error)
{
    slew_scenario changed = *s;
    slew_plan_candidates found;
    slew_status status = search_row(s, st, row, &found, error);
    slew_plan_apply(&changed, &row->change);
    if (status == SLEW_OK)
        status = confirm(&changed, st, &found, &row->best, error);
    row->cost = cost_of(&row->change, &row->best);
    return status;
}
