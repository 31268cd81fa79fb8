/*
 * plan.c - what a truck does today, the best of its own settings, and single changes, ranked.
 *
 * Every setting is found with few samples. Of those that are told first each is run again with
 * samples of its own that had no part in choosing it; where that does not meet the demands, the
 * next candidate of the search is tried.
 */
#include "study/plan/plan_change.h"
#include "study/plan/plan_search.h"

#include "error/error.h"

#include <string.h>

enum { SCREENED = 256, CURVE_SAMPLES = 1024, TOLD = 6, CONFIRMED_MOST = 12 };

/* ---- progress of several questions as one ---- */

typedef struct stages {
    const slew_sampling *sampling; /* the caller's */
    int done, all;
} stages;

static bool tell(void *context, int64_t done)
{
    const stages *s = context;
    (void)done;
    return s->sampling->progress == NULL ||
           s->sampling->progress(s->sampling->context,
                                 s->sampling->samples * s->done / (s->all > 0 ? s->all : 1));
}

static slew_sampling staged(stages *s, int64_t samples)
{
    slew_sampling how = *s->sampling;
    how.samples = samples < how.samples ? samples : how.samples;
    how.progress = tell;
    how.context = s;
    return how;
}

/* the k-th set of samples that has nothing to do with the others */
static slew_sampling fresh(const slew_sampling *sampling, int k)
{
    slew_sampling how = *sampling;
    for (int i = 0; i <= k; i++)
        how = slew_sampling_fresh(&how);
    return how;
}

/* ---- one scenario: found, and found true ---- */

static slew_status judge_today(const slew_scenario *s, stages *st, slew_plan *out,
                               slew_error *error)
{
    slew_sampling how = staged(st, st->sampling->samples);
    how = fresh(&how, 0);
    out->today = slew_plan_own(s);
    slew_status status = slew_plan_judge(s, &how, &out->today, error);
    out->today.confirmed = status == SLEW_OK;
    out->confirmed = out->today.judgment.samples;
    return status;
}

/* the first candidate that meets all, or of those that do not the one with the least shortfall */
static slew_status confirm(const slew_scenario *s, stages *st, const slew_plan_candidates *c,
                           slew_plan_setting *best, slew_error *error)
{
    for (int i = 0; i < c->count; i++) {
        slew_sampling how = staged(st, st->sampling->samples);
        how = fresh(&how, i);
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

/* ---- changes ---- */

static slew_plan_cost cost_of(const slew_plan_change *c, const slew_plan_setting *best)
{
    bool moved = slew_plan_distance(best) > 0;
    return moved && c->cost < SLEW_PLAN_COST_RETEACH ? SLEW_PLAN_COST_RETEACH : c->cost;
}

/* what few samples do not show to fail counts as met until it is confirmed */
static int rank_of(const slew_plan_setting *p)
{
    if (!p->confirmed)
        return p->shortfall > 0 ? 2 : 0;
    return p->judgment.meets == SLEW_MEETS ? 0 : p->judgment.meets == SLEW_NOT_TOLD ? 1 : 2;
}

static bool goes_before(const slew_plan_row *a, const slew_plan_row *b)
{
    int of_a = rank_of(&a->best), of_b = rank_of(&b->best);
    if (of_a != of_b)
        return of_a < of_b;
    if (a->cost != b->cost)
        return a->cost < b->cost;
    return a->best.shortfall < b->best.shortfall;
}

/* stable: of equals the first stays first */
static void rank(slew_plan *out)
{
    for (int i = 1; i < out->count; i++) {
        slew_plan_row row = out->row[i];
        int at = i;
        for (; at > 0 && goes_before(&row, &out->row[at - 1]); at--)
            out->row[at] = out->row[at - 1];
        out->row[at] = row;
    }
}

static slew_status search_change(const slew_scenario *s, stages *st, slew_plan_row *row,
                                 slew_plan_candidates *found, slew_error *error)
{
    slew_scenario changed = *s;
    slew_sampling how = staged(st, SCREENED);
    slew_plan_apply(&changed, &row->change);
    slew_status status = slew_plan_search(&changed, &how, found, error);
    if (status != SLEW_OK)
        return status;
    row->best = found->of[0];
    row->cost = cost_of(&row->change, &row->best);
    return SLEW_OK;
}

/* every change once, with few samples */
static slew_status screen(const slew_scenario *s, stages *st, slew_plan *out, slew_error *error)
{
    slew_plan_change change[SLEW_PLAN_CHANGES_MAX];
    int count = slew_plan_changes(s, change);
    st->all += count;
    for (int i = 0; i < count; i++, st->done++) {
        slew_plan_candidates found;
        slew_plan_row row = {.change = change[i]};
        slew_status status = search_change(s, st, &row, &found, error);
        if (status == SLEW_ERROR_INPUT || status == SLEW_ERROR_TEACH)
            continue; /* the truck can't have it */
        if (status != SLEW_OK)
            return status;
        out->row[out->count++] = row;
    }
    return SLEW_OK;
}

static slew_status confirm_row(const slew_scenario *s, stages *st, slew_plan_row *row,
                               slew_error *error)
{
    slew_scenario changed = *s;
    slew_plan_candidates found;
    slew_status status = search_change(s, st, row, &found, error);
    slew_plan_apply(&changed, &row->change);
    if (status == SLEW_OK)
        status = confirm(&changed, st, &found, &row->best, error);
    row->cost = cost_of(&row->change, &row->best);
    return status;
}

/* until the rows that are told first are confirmed, whichever these then are */
static slew_status confirm_rows(const slew_scenario *s, stages *st, slew_plan *out,
                                slew_error *error)
{
    for (int confirmed = 0; confirmed < CONFIRMED_MOST; confirmed++, st->done++) {
        int i = 0;
        rank(out);
        while (i < out->count && i < TOLD && out->row[i].best.confirmed)
            i++;
        if (i >= out->count || i >= TOLD)
            return SLEW_OK;
        slew_status status = confirm_row(s, st, &out->row[i], error);
        if (status != SLEW_OK)
            return status;
    }
    rank(out);
    return SLEW_OK;
}

/* ---- curves for the picture ---- */

static double *varied(slew_plan_setting *p, const slew_plan_curve *c)
{
    return &(c->of_seconds ? p->seconds : p->point)[c->axis];
}

static int lay_out(const slew_scenario *s, slew_plan_curve *c)
{
    const slew_deploy *d = &s->deploy;
    const slew_range *r = &s->stow.range[c->axis];
    enum { GRID = 17 };
    int count = 0;
    if (c->of_seconds && d->choice_count[c->axis] > 1)
        for (; count < d->choice_count[c->axis] && count < SLEW_PLAN_CURVE_MAX; count++)
            c->at[count] = d->choices[c->axis][count];
    else if (!c->of_seconds && r->high > r->low && s->stow.has_point && !s->stow.has_times)
        for (; count < GRID; count++)
            c->at[count] = r->low + (r->high - r->low) * count / (GRID - 1);
    return count;
}

static slew_status ask_curve(const slew_scenario *s, stages *st, const slew_plan_setting *about,
                             slew_plan_curve *c, slew_error *error)
{
    int count = lay_out(s, c);
    for (c->count = 0; c->count < count; c->count++) {
        slew_sampling how = staged(st, CURVE_SAMPLES);
        how = fresh(&how, 0);
        slew_plan_setting here = *about;
        *varied(&here, c) = c->at[c->count];
        slew_status status = slew_plan_judge(s, &how, &here, error);
        if (status != SLEW_OK)
            return status;
        c->judgment[c->count] = here.judgment;
    }
    return SLEW_OK;
}

static slew_status ask_curves(const slew_scenario *scenario, stages *st, slew_plan *out,
                              slew_error *error)
{
    slew_scenario s = *scenario;
    const slew_plan_setting *about = &out->best;
    slew_status status = SLEW_OK;
    out->curves_of_row = about->judgment.meets != SLEW_MEETS && out->count > 0 &&
                         out->row[0].best.judgment.meets == SLEW_MEETS;
    if (out->curves_of_row) {
        about = &out->row[0].best;
        slew_plan_apply(&s, &out->row[0].change);
    }
    for (int k = 0; k < SLEW_PLAN_CURVES && status == SLEW_OK; k++, st->done++) {
        slew_plan_curve *c = &out->curve[k];
        c->of_seconds = k >= SLEW_AXES;
        c->axis = k % SLEW_AXES;
        status = ask_curve(&s, st, about, c, error);
    }
    return status;
}

/* ---- together ---- */

static slew_status judge_best(const slew_scenario *s, stages *st, slew_plan *out, slew_error *error)
{
    slew_plan_row own = {.change = {SLEW_PLAN_NONE, -1, 0, SLEW_PLAN_COST_SETTING}};
    slew_status status = confirm_row(s, st, &own, error);
    if (status == SLEW_OK)
        out->best = own.best;
    return status;
}

slew_status slew_plan_run(const slew_scenario *scenario, const slew_sampling *sampling,
                          slew_plan *out, slew_error *error)
{
    stages st = {.sampling = sampling, .all = 2 + CONFIRMED_MOST + SLEW_PLAN_CURVES};
    double stored[SLEW_AXES];
    memset(out, 0, sizeof *out);
    if (!scenario->deploy.given)
        return slew_error_set(error, SLEW_ERROR_INPUT, "deploy", "the scenario has no deploy",
                              "deploy: with seconds, order, target, and the choices of the "
                              "controller");
    out->screened = staged(&st, SCREENED).samples;
    out->taught = slew_teach(scenario, stored, &out->untaught) == SLEW_OK;
    slew_status (*const steps[])(const slew_scenario *, stages *, slew_plan *, slew_error *) = {
        judge_today, judge_best, screen, confirm_rows, ask_curves};
    slew_status status = SLEW_OK;
    for (size_t i = 0; i < sizeof steps / sizeof *steps && status == SLEW_OK; i++) {
        status = steps[i](scenario, &st, out, error);
        st.done += i < 2;
    }
    rank(out);
    return status;
}
