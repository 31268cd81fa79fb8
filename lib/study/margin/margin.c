/* margin.c - clearances of a stow point over everything that varies. */
#include "slewtime/read.h"

#include "error/error.h"
#include "study/margin/margin_change.h"
#include "study/margin/margin_trial.h"

#include <gsl/gsl_sort.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double confidence = 0.95;

/* ---- how many are allowed ---- */

static bool is_below(int64_t hits, int64_t samples, double wanted)
{
    return slew_wilson((double)hits, (double)samples, confidence).high < wanted;
}

int64_t slew_margin_samples(double wanted)
{
    int64_t low = 0, high = 1; /* low is too few */
    while (high < 1000000000000L && !is_below(0, high, wanted))
        low = high, high *= 2;
    while (high - low > 1) {
        int64_t middle = low + (high - low) / 2;
        if (is_below(0, middle, wanted))
            high = middle;
        else
            low = middle;
    }
    return high;
}

/* the most hits that still prove it; -1: not even none */
static int64_t hits_allowed(int64_t samples, double wanted)
{
    int64_t hits = -1;
    while (hits < samples && is_below(hits + 1, samples, wanted))
        hits++;
    return hits;
}

/* ---- what is needed ---- */

/* needs: sorted, one for each sample that can be taught [grid steps] */
static void conclude_need(const double *needs, double wanted, slew_margin_need *out)
{
    int64_t n = out->samples, hits = n > 0 ? hits_allowed(n, wanted) : -1;
    out->unseen = n > 0 ? needs[n - 1] * SLEW_MARGIN_GRID : NAN;
    out->enough = hits < 0    ? NAN
                  : hits >= n ? SLEW_MARGIN_FIRST * SLEW_MARGIN_GRID
                              : needs[n - 1 - hits] * SLEW_MARGIN_GRID;
}

static slew_status sort_needs(const slew_ensemble *e, double wanted, slew_margin_need *out)
{
    double *needs = malloc((size_t)e->samples * sizeof *needs);
    if (needs == NULL)
        return SLEW_ERROR_MEMORY;
    for (int64_t i = 0; i < e->done; i++)
        if (!isnan(e->figure[i]))
            needs[out->samples++] = e->figure[i];
    out->untaught = e->done - e->refused - out->samples;
    gsl_sort(needs, 1, (size_t)out->samples);
    conclude_need(needs, wanted, out);
    free(needs);
    return SLEW_OK;
}

typedef struct asking {
    const slew_margin_question *question;
    const slew_sampling *sampling;
    slew_margin *out;
    slew_error *error;
} asking;

/* the ensemble's own teaching is not needed: every clearance is taught */
static slew_status run(const asking *a, slew_margin_case *c, slew_question *ask, int figures,
                       slew_ensemble *e)
{
    slew_scenario *untaught = malloc(sizeof *untaught);
    if (untaught == NULL)
        return SLEW_ERROR_MEMORY;
    *untaught = *c->scenario;
    untaught->stow.has_times = true;
    slew_status status =
        slew_ensemble_run(untaught, SLEW_STOW_ONLY, a->sampling, ask, c, figures, e, a->error);
    free(untaught);
    return status;
}

static bool has_answer(slew_status status, const slew_ensemble *e)
{
    return status == SLEW_OK || (status == SLEW_ERROR_STOPPED && e->done > 0);
}

static slew_status find_need(const asking *a, slew_margin_case *c, slew_margin_need *out)
{
    slew_ensemble e = {0};
    slew_status status = run(a, c, slew_margin_ask_need, 1, &e);
    out->limit = c->last * SLEW_MARGIN_GRID;
    if (has_answer(status, &e)) {
        a->out->samples = a->out->samples > 0 ? a->out->samples : e.done;
        a->out->refused = e.refused;
        a->out->first_refusal = e.first_refusal;
        slew_status sorted = sort_needs(&e, a->question->wanted, out);
        status = sorted != SLEW_OK ? sorted : status;
    }
    slew_ensemble_free(&e);
    out->status = status;
    return status;
}

/* ---- the ladder ---- */

/* the clearance that the ladder leads up to [grid steps] */
static int top_of(const slew_margin_need *need, int last)
{
    double top = isfinite(need->enough) ? need->enough : need->unseen;
    int steps = isfinite(top) ? (int)lround(top / SLEW_MARGIN_GRID) : last;
    return steps < SLEW_MARGIN_FIRST ? SLEW_MARGIN_FIRST : steps;
}

/* geometric, rounded to the grid, each further than the one before; the last but one is the top
 * unless that is nearer than a step for each */
static int build_ladder(int top, int last, int step[SLEW_MARGIN_STEPS])
{
    double growth = pow((double)top / SLEW_MARGIN_FIRST, 1.0 / (SLEW_MARGIN_STEPS - 2));
    int count = 0;
    for (int i = 0; i < SLEW_MARGIN_STEPS; i++) {
        int next = (int)lround(SLEW_MARGIN_FIRST * pow(growth, i));
        if (count > 0 && next <= step[count - 1])
            next = step[count - 1] + 1;
        if (next <= last)
            step[count++] = next;
    }
    return count;
}

static slew_share share_of(const slew_ensemble *e, int index)
{
    double hits = 0, n = 0;
    for (int64_t i = 0; i < e->done; i++) {
        double value = e->figure[i * e->count + index];
        hits += isnan(value) ? 0 : value;
        n += !isnan(value);
    }
    if (!(n > 0))
        return (slew_share){NAN, NAN, NAN};
    slew_interval interval = slew_wilson(hits, n, confidence);
    return (slew_share){hits / n, interval.low, interval.high};
}

static int64_t count_untaught(const slew_ensemble *e, int index)
{
    int64_t count = -e->refused;
    for (int64_t i = 0; i < e->done; i++)
        count += isnan(e->figure[i * e->count + index]);
    return count;
}

static void conclude_step(const slew_ensemble *e, int first, slew_margin_step *out)
{
    out->untaught = count_untaught(e, first);
    out->fault = share_of(e, first + SLEW_MARGIN_F_FAULT);
    out->pressed = share_of(e, first + SLEW_MARGIN_F_PRESSED);
    out->unsafe = share_of(e, first + SLEW_MARGIN_F_UNSAFE);
    out->touched = share_of(e, first + SLEW_MARGIN_F_TOUCHED);
    out->short_of = share_of(e, first + SLEW_MARGIN_F_SHORT);
    out->near_to = share_of(e, first + SLEW_MARGIN_F_NEAR);
    out->other = share_of(e, first + SLEW_MARGIN_F_OTHER);
}

static slew_status climb(const asking *a, slew_margin_case *c, slew_margin_side *out)
{
    slew_ensemble e = {0};
    int step[SLEW_MARGIN_STEPS], count = build_ladder(top_of(&out->need, c->last), c->last, step);
    c->step = step;
    c->step_count = count;
    slew_status status = run(a, c, slew_margin_ask_ladder, c->step_count * SLEW_MARGIN_FIGURES, &e);
    if (has_answer(status, &e)) {
        out->step_count = count;
        for (int i = 0; i < count; i++) {
            out->step[i].clearance = step[i] * SLEW_MARGIN_GRID;
            conclude_step(&e, i * SLEW_MARGIN_FIGURES, &out->step[i]);
        }
    }
    slew_ensemble_free(&e);
    return status;
}

/* ---- one side ---- */

static double stop_and_limit(const slew_scenario *s, int axis, int side, double *stop)
{
    slew_setup taught;
    slew_scenario_resolve(s, SLEW_OCCASION_TEACH, &taught);
    const slew_axis_setup *setup = &taught.axis[axis];
    *stop = side < 0 ? setup->stops.low : setup->stops.high;
    return (*stop - setup->home.angle) * side;
}

/* [grid steps] */
static int last_step(const slew_scenario *s, int axis, int side)
{
    double stop;
    return (int)fmax(0, stop_and_limit(s, axis, side, &stop) / SLEW_MARGIN_GRID + 1e-6);
}

static slew_status ask_side(const asking *a, const slew_scenario *s, int index,
                            slew_margin_need *need, slew_margin_side *whole)
{
    int side = index == 0 ? -1 : 1;
    slew_margin_case c = {.scenario = s, .axis = a->question->axis, .side = side};
    c.last = last_step(s, c.axis, side);
    need->limit = need->enough = need->unseen = NAN;
    need->status = SLEW_ERROR_INPUT;
    if (c.last < SLEW_MARGIN_FIRST)
        return SLEW_OK; /* the home sensor is at this stop */
    slew_status status = slew_margin_case_open(&c);
    if (status == SLEW_OK)
        status = find_need(a, &c, need);
    if (status == SLEW_OK && whole != NULL) {
        whole->need = *need;
        status = climb(a, &c, whole);
    }
    if (whole != NULL) {
        whole->need = *need;
        whole->untaught = c.untaught;
    }
    slew_margin_case_close(&c);
    return status;
}

/* ---- changes ---- */

static slew_status ask_change(const asking *a, const slew_scenario *s, slew_margin_change change,
                              slew_scenario *changed)
{
    const slew_error_sink nobody = {0};
    slew_margin_need *need = a->out->change[change];
    slew_status status = SLEW_OK;
    *changed = *s;
    if (!slew_margin_apply(changed, change, a->question->axis) ||
        slew_scenario_check(changed, nobody, nobody) != SLEW_OK)
        return SLEW_OK;
    for (int k = 0; k < SLEW_MARGIN_SIDES && status == SLEW_OK; k++)
        status = ask_side(a, changed, k, &need[k], NULL);
    return status;
}

/* ---- together ---- */

static slew_status refuse(slew_error *error, const char *key, const char *message,
                          const char *expected)
{
    return slew_error_set(error, SLEW_ERROR_INPUT, key, message, expected);
}

static slew_status check(const slew_scenario *s, const slew_margin_question *q, slew_error *error)
{
    if (!(q->wanted > 0 && q->wanted < 1))
        return refuse(error, "", "the wanted probability lies outside 0 to 1",
                      "a share, for example 0.001");
    if (s->stow.has_times)
        return refuse(error, "stow.times", "stored times do not move with the clearance",
                      "stow.point, where it is taught, instead of the times");
    if (!s->stow.has_point)
        return refuse(error, "stow.point", "there is no point whose clearance could be asked",
                      "stow.point, where it is taught");
    if (slew_ensemble_dimensions(s, SLEW_STOW_ONLY) == 0)
        return refuse(error, "spread", "nothing varies, so there is no probability",
                      "spread: with day: or truck:, for example "
                      "supply.main.voltage: {uniform: {low: 11.8 V, high: 14.2 V}}");
    if (last_step(s, q->axis, -1) < SLEW_MARGIN_FIRST &&
        last_step(s, q->axis, 1) < SLEW_MARGIN_FIRST)
        return refuse(error,
                      q->axis == SLEW_ROTATION ? "rotation.home.angle" : "elevation.home.angle",
                      "the home sensor is within 0.25 deg of both hard stops",
                      "a home sensor between the stops");
    return SLEW_OK;
}

static void clear(slew_margin *out)
{
    const slew_margin_need none = {
        .status = SLEW_ERROR_INPUT, .limit = NAN, .enough = NAN, .unseen = NAN};
    memset(out, 0, sizeof *out);
    for (int k = 0; k < SLEW_MARGIN_SIDES; k++) {
        out->side[k].need = none;
        for (int i = 0; i < SLEW_MARGIN_CHANGE_COUNT; i++)
            out->change[i][k] = none;
    }
}

static slew_status ask_all(const asking *a, const slew_scenario *s, slew_scenario *changed)
{
    slew_status status = SLEW_OK;
    for (int k = 0; k < SLEW_MARGIN_SIDES && status == SLEW_OK; k++) {
        slew_margin_side *side = &a->out->side[k];
        stop_and_limit(s, a->question->axis, k == 0 ? -1 : 1, &side->stop);
        status = ask_side(a, s, k, &a->out->change[SLEW_MARGIN_NONE][k], side);
    }
    int64_t refused = a->out->refused;
    slew_error first = a->out->first_refusal;
    for (int i = SLEW_MARGIN_NONE + 1; i < SLEW_MARGIN_CHANGE_COUNT && status == SLEW_OK; i++)
        status = ask_change(a, s, (slew_margin_change)i, changed);
    a->out->refused = refused; /* of the scenario as it is */
    a->out->first_refusal = first;
    return status;
}

slew_status slew_margin_run(const slew_scenario *scenario, const slew_margin_question *question,
                            const slew_sampling *sampling, slew_margin *out, slew_error *error)
{
    const asking a = {question, sampling, out, error};
    clear(out);
    slew_status status = check(scenario, question, error);
    if (status != SLEW_OK)
        return status;
    slew_scenario *changed = malloc(sizeof *changed);
    if (changed != NULL)
        status = ask_all(&a, scenario, changed);
    free(changed);
    if (changed == NULL || status == SLEW_ERROR_MEMORY) {
        refuse(error, "", "memory is short for that many samples", "");
        status = SLEW_ERROR_MEMORY;
        if (error != NULL)
            error->status = status;
    }
    return status;
}
