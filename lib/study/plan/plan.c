/*
 * plan.c - what a truck does today, the best of its own settings, and single changes, ranked.
 *
 * Every setting is found with few samples. Of those that are told first each is run again with
 * samples of its own that had no part in choosing it; where that does not meet the demands, the
 * next candidate of the search is tried.
 */
#include "study/plan/plan_change.h"
#include "study/plan/plan_search.h"
#include "study/plan/plan_stage.h"
#include "study/plan/plan_together.h"

#include "error/error.h"
#include "keys/sound.h"

#include <string.h>

enum { CURVE_SAMPLES = 4096, TOLD = 6, CONFIRMED_MOST = 12 };

typedef slew_plan_stages stages;

/* ---- today ---- */

static slew_status judge_today(const slew_scenario *s, stages *st, slew_plan *out,
                               slew_error *error)
{
    slew_sampling how = slew_plan_staged(st, st->sampling->samples);
    how = slew_plan_fresh(&how, 0);
    out->today = slew_plan_own(s);
    slew_status status = slew_plan_judge(s, &how, &out->today, error);
    out->today.confirmed = status == SLEW_OK;
    out->confirmed = out->today.judgment.samples;
    return status;
}

/* ---- changes ---- */

/* What few samples do not show to fail counts as met until it is confirmed; what does not make the
 * shortfall smaller comes last. */
static int rank_of(const slew_plan *plan, const slew_plan_setting *p)
{
    const double smaller = 0.95;
    int fails = p->shortfall < smaller * plan->best.shortfall ? 2 : 3;
    if (!p->confirmed)
        return p->shortfall > 0 ? fails : 0;
    return p->judgment.meets == SLEW_MEETS ? 0 : p->judgment.meets == SLEW_NOT_TOLD ? 1 : fails;
}

static bool goes_before(const slew_plan *plan, const slew_plan_row *a, const slew_plan_row *b)
{
    int of_a = rank_of(plan, &a->best), of_b = rank_of(plan, &b->best);
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
        for (; at > 0 && goes_before(out, &row, &out->row[at - 1]); at--)
            out->row[at] = out->row[at - 1];
        out->row[at] = row;
    }
}

/* every change once, with few samples */
static slew_status screen(const slew_scenario *s, stages *st, slew_plan *out, slew_error *error)
{
    slew_plan_change change[SLEW_PLAN_CHANGES_MAX];
    int count = slew_plan_changes(s, change);
    st->all += count;
    for (int i = 0; i < count; i++, st->done++) {
        slew_plan_row row = {.change = change[i]};
        slew_status status = slew_plan_screen_row(s, st, &row, error);
        if (status == SLEW_ERROR_INPUT || status == SLEW_ERROR_TEACH)
            continue; /* the truck can't have it */
        if (status != SLEW_OK)
            return status;
        out->row[out->count++] = row;
    }
    return SLEW_OK;
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
        slew_status status = slew_plan_confirm_row(s, st, &out->row[i], error);
        if (status != SLEW_OK)
            return status;
    }
    rank(out);
    return SLEW_OK;
}

/* ---- changes together, where none does alone ---- */

static slew_status combine(const slew_scenario *s, stages *st, slew_plan *out, slew_error *error)
{
    bool met =
        rank_of(out, &out->best) == 0 || (out->count > 0 && rank_of(out, &out->row[0].best) <= 1);
    return met ? SLEW_OK : slew_plan_combine(s, st, &out->together, error);
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
        slew_sampling how = slew_plan_staged(st, CURVE_SAMPLES);
        how = slew_plan_fresh(&how, 0);
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
    slew_status status = SLEW_OK;
    slew_plan_recommend(out, &out->drawn);
    for (int i = 0; i < out->drawn.count; i++)
        slew_plan_apply(&s, &out->drawn.change[i]);
    for (int k = 0; k < SLEW_PLAN_CURVES && status == SLEW_OK; k++, st->done++) {
        slew_plan_curve *c = &out->curve[k];
        c->of_seconds = k >= SLEW_AXES;
        c->axis = k % SLEW_AXES;
        status = ask_curve(&s, st, &out->drawn.setting, c, error);
    }
    return status;
}

/* ---- together ---- */

static slew_status judge_best(const slew_scenario *s, stages *st, slew_plan *out, slew_error *error)
{
    slew_plan_row own = {.change = {SLEW_PLAN_NONE, -1, 0, SLEW_PLAN_COST_SETTING}};
    slew_status status = slew_plan_confirm_row(s, st, &own, error);
    if (status == SLEW_OK)
        out->best = own.best;
    return status;
}

slew_status slew_plan_run(const slew_scenario *scenario, const slew_sampling *sampling,
                          slew_plan *out, slew_error *error)
{
    if (sampling == NULL || out == NULL)
        return slew_no_argument(error);
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
    stages st = {.sampling = sampling, .all = 2 + CONFIRMED_MOST + SLEW_PLAN_CURVES};
    double stored[SLEW_AXES];
    memset(out, 0, sizeof *out);
    if (!scenario->deploy.given)
        return slew_error_set(error, SLEW_ERROR_INPUT, "deploy", "the scenario has no deploy",
                              "deploy: with seconds, order, target, and the choices of the "
                              "controller");
    out->screened = slew_plan_staged(&st, SLEW_PLAN_SCREENED).samples;
    out->taught = slew_teach(scenario, stored, &out->untaught) == SLEW_OK;
    slew_status (*const steps[])(const slew_scenario *, stages *, slew_plan *, slew_error *) = {
        judge_today, judge_best, screen, confirm_rows, combine, ask_curves};
    slew_status status = SLEW_OK;
    for (size_t i = 0; i < sizeof steps / sizeof *steps && status == SLEW_OK; i++) {
        status = steps[i](scenario, &st, out, error);
        st.done += i < 2;
    }
    rank(out);
    return status;
}

static bool meets(const slew_plan_setting *p)
{
    return p->confirmed && p->judgment.meets == SLEW_MEETS;
}

void slew_plan_recommend(const slew_plan *plan, slew_plan_advice *out)
{
    if (plan == NULL || out == NULL)
        return;
    const slew_plan_together *t = &plan->together;
    *out = (slew_plan_advice){.is_there = true, .setting = plan->best};
    if (meets(&plan->best))
        return;
    if (plan->count > 0 && meets(&plan->row[0].best)) {
        out->count = 1;
        out->change[0] = plan->row[0].change;
        out->setting = plan->row[0].best;
    } else if (t->count > 0 && meets(&t->best)) {
        out->count = t->count;
        memcpy(out->change, t->change, sizeof out->change);
        out->setting = t->best;
    } else
        out->is_there = false;
}
