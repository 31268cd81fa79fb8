/* plan_together.c - see plan_together.h. */
#include "study/plan/plan_together.h"

#include "study/plan/plan_change.h"

static const double helps = 0.002; /* of shortfall: what few samples tell from nothing [1] */

/* less short; of those that are short of nothing the cheaper */
static bool is_better(const slew_plan_row *a, const slew_plan_row *b)
{
    if (a->best.shortfall <= 0 && b->best.shortfall <= 0)
        return a->cost < b->cost;
    return a->best.shortfall < b->best.shortfall;
}

/* the best single change on top of the scenario; *found: there is one */
static slew_status best_next(const slew_scenario *s, slew_plan_stages *stages, slew_plan_row *best,
                             bool *found, slew_error *error)
{
    slew_plan_change change[SLEW_PLAN_CHANGES_MAX];
    int count = slew_plan_changes(s, change);
    *found = false;
    for (int i = 0; i < count; i++) {
        slew_plan_row row = {.change = change[i]};
        slew_status status = slew_plan_screen_row(s, stages, &row, error);
        if (status == SLEW_ERROR_INPUT || status == SLEW_ERROR_TEACH)
            continue; /* the truck can't have it */
        if (status != SLEW_OK)
            return status;
        if (!*found || is_better(&row, best))
            *best = row;
        *found = true;
    }
    return SLEW_OK;
}

static slew_status confirm(const slew_scenario *s, slew_plan_stages *stages,
                           slew_plan_together *out, slew_error *error)
{
    slew_plan_row row = {.change = {SLEW_PLAN_NONE, -1, 0, out->cost}};
    slew_status status = slew_plan_confirm_row(s, stages, &row, error);
    out->best = row.best;
    out->cost = row.cost;
    return status;
}

slew_status slew_plan_combine(const slew_scenario *scenario, slew_plan_stages *stages,
                              slew_plan_together *out, slew_error *error)
{
    slew_scenario s = *scenario;
    slew_plan_row row = {.change = {SLEW_PLAN_NONE, -1, 0, SLEW_PLAN_COST_SETTING}};
    slew_status status = slew_plan_screen_row(&s, stages, &row, error);
    double before = row.best.shortfall;
    bool found = true;
    while (status == SLEW_OK && found && before > 0 && out->count < SLEW_PLAN_TOGETHER_MAX) {
        status = best_next(&s, stages, &row, &found, error);
        if (status != SLEW_OK || !found || row.best.shortfall > before - helps)
            break;
        slew_plan_apply(&s, &row.change);
        out->change[out->count++] = row.change;
        out->cost = row.cost > out->cost ? row.cost : out->cost;
        before = row.best.shortfall;
        stages->done++;
    }
    return status == SLEW_OK && out->count > 0 ? confirm(&s, stages, out, error) : status;
}
