/*
 * plan_search.c - see plan_search.h.
 *
 * Points lie on a grid through the wished one and are asked from the nearest outward, until one
 * meets all. At each point every pair of seconds is run if they are few; if they are many each axis
 * is run alone first, the other one not driven, and the pairs that would land both most often are
 * run together: what one meets on the way only a whole run tells.
 */
#include "study/plan/plan_search.h"
#include "study/plan/plan_change.h"

#include "study/sampling/stowed_ensemble.h"

#include <stdlib.h>
#include <string.h>

enum {
    PAIRS_MAX = 12,   /* run together at one point */
    GRID_ONE = 13,    /* points along the range of an axis that moves alone */
    GRID_BOTH = 7,    /* the same if both move */
    POINTS_MAX = 100, /* above (GRID_BOTH + 1) squared */
    BEYOND = 2        /* points that are asked after the first that meets all */
};

double slew_plan_distance(const slew_plan_setting *p)
{
    return hypot(p->moved[SLEW_ROTATION], p->moved[SLEW_ELEVATION]);
}

slew_plan_setting slew_plan_own(const slew_scenario *s)
{
    slew_plan_setting own = {0};
    for (int j = 0; j < SLEW_AXES; j++) {
        own.point[j] = s->stow.point[j];
        own.seconds[j] = s->deploy.seconds[j];
    }
    return own;
}

/* ---- figures of many runs ---- */

typedef struct pair {
    double seconds[SLEW_AXES];
    double score;
} pair;

typedef struct pairs {
    int count;
    pair of[PAIRS_MAX];
} pairs;

enum { MASK, OFF_CENTER, FIGURES };

/* how far from the middle of its target the worse axis comes to rest, in half widths */
static double off_center(const slew_scenario *s, const slew_result *r)
{
    double worst = 0;
    for (int j = 0; j < SLEW_AXES; j++) {
        const slew_range *t = &s->deploy.target[j];
        double half = (t->high - t->low) / 2;
        double off = fabs(r->deploy.angle[j] - (t->low + half)) / fmax(half, 1e-9);
        worst = fmax(worst, off);
    }
    return worst;
}

static void ask_pairs(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                      const slew_stowed *stowed, double *figures)
{
    const pairs *p = context;
    slew_deploys deploys;
    slew_result r;
    slew_deploys_begin(drawn, prepared, stowed, &deploys);
    for (int i = 0; i < p->count; i++, figures += FIGURES) {
        slew_deploys_run(&deploys, p->of[i].seconds, &r);
        figures[MASK] = slew_demands_missed(drawn, prepared, SLEW_STOW_AND_DEPLOY, &r);
        figures[OFF_CENTER] = off_center(drawn, &r);
    }
}

/* misses of pair `index` over the samples; returns its mean distance from the middle */
static double count_misses(const slew_scenario *s, const slew_ensemble *e, int index,
                           int64_t misses[SLEW_DEMAND_COUNT])
{
    unsigned untaught = slew_demands_missed_untaught(s, SLEW_STOW_AND_DEPLOY);
    double sum = 0;
    for (int64_t i = 0; i < e->done; i++) {
        const double *figures = e->figure + i * e->count + index * FIGURES;
        unsigned mask = isnan(figures[MASK]) ? untaught : (unsigned)figures[MASK];
        for (int d = 0; d < SLEW_DEMAND_COUNT; d++)
            misses[d] += mask >> d & 1;
        sum += isnan(figures[OFF_CENTER]) ? 0 : figures[OFF_CENTER];
    }
    return sum / (double)e->done;
}

static double shortfall_of(const slew_judgment *j)
{
    double sum = 0;
    for (int d = 0; d < SLEW_DEMAND_COUNT; d++)
        if (j->of[d].asked)
            sum += fmax(0, j->of[d].missed.value - j->of[d].limit);
    return sum;
}

/* misses against what is allowed, all demands together: the less, the more room */
static double use_of(const slew_judgment *j)
{
    double sum = 0;
    for (int d = 0; d < SLEW_DEMAND_COUNT; d++)
        if (j->of[d].asked)
            sum += j->of[d].missed.value / fmax(j->of[d].limit, 1e-6);
    return sum;
}

/* ---- a truck that can't be taught ---- */

static void judge_untaught(const slew_scenario *s, int64_t samples, slew_plan_setting *setting)
{
    unsigned mask = slew_demands_missed_untaught(s, SLEW_STOW_AND_DEPLOY);
    int64_t misses[SLEW_DEMAND_COUNT];
    for (int d = 0; d < SLEW_DEMAND_COUNT; d++)
        misses[d] = mask >> d & 1 ? samples : 0;
    slew_demands_judge(s, SLEW_STOW_AND_DEPLOY, misses, samples, samples, &setting->judgment);
}

slew_status slew_plan_judge(const slew_scenario *scenario, const slew_sampling *sampling,
                            slew_plan_setting *setting, slew_error *error)
{
    slew_scenario trial = *scenario;
    slew_plan_set(&trial, setting);
    slew_status status =
        slew_demands_run(&trial, SLEW_STOW_AND_DEPLOY, sampling, &setting->judgment, error);
    if (status == SLEW_ERROR_TEACH) {
        judge_untaught(scenario, sampling->samples, setting);
        status = SLEW_OK;
    }
    setting->shortfall = shortfall_of(&setting->judgment);
    return status;
}

/* ---- seconds ---- */

static void every_pair(const slew_deploy *d, pairs *out)
{
    out->count = 0;
    for (int a = 0; a < d->choice_count[SLEW_ROTATION]; a++)
        for (int b = 0; b < d->choice_count[SLEW_ELEVATION]; b++)
            out->of[out->count++] =
                (pair){{d->choices[SLEW_ROTATION][a], d->choices[SLEW_ELEVATION][b]}, 0};
}

/* keeps the best ones, in the order of their scores; of equals the first */
static void keep_pair(pairs *p, pair next)
{
    int at = p->count;
    while (at > 0 && p->of[at - 1].score < next.score)
        at--;
    if (at >= PAIRS_MAX)
        return;
    p->count += p->count < PAIRS_MAX;
    for (int i = p->count - 1; i > at; i--)
        p->of[i] = p->of[i - 1];
    p->of[at] = next;
}

/* for each choice of each axis whether it lands, and how far from the middle: 1 in the middle, 0
 * outside */
static void ask_alone(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                      const slew_stowed *stowed, double *figures)
{
    const slew_deploy *d = context;
    slew_deploys deploys;
    slew_result r;
    slew_deploys_begin(drawn, prepared, stowed, &deploys);
    for (int j = 0; j < SLEW_AXES; j++)
        for (int i = 0; i < d->choice_count[j]; i++) {
            const slew_range *t = &d->target[j];
            double seconds[SLEW_AXES] = {0, 0};
            seconds[j] = d->choices[j][i];
            slew_deploys_run(&deploys, seconds, &r);
            double off =
                fabs(2 * r.deploy.angle[j] - t->low - t->high) / fmax(t->high - t->low, 1e-9);
            *figures++ = r.deploy.says == SLEW_DEPLOYED && off <= 1 ? 1.01 - 0.01 * off : 0;
        }
}

static double score_of(const slew_ensemble *e, int first, int second)
{
    double sum = 0;
    for (int64_t i = 0; i < e->done; i++) {
        double a = e->figure[i * e->count + first], b = e->figure[i * e->count + second];
        sum += isnan(a) || isnan(b) ? 0 : a * b;
    }
    return sum;
}

static slew_status choose_pairs(slew_scenario *s, const slew_sampling *how, pairs *out,
                                slew_error *error)
{
    const slew_deploy *d = &s->deploy;
    int rotations = d->choice_count[SLEW_ROTATION], elevations = d->choice_count[SLEW_ELEVATION];
    slew_ensemble e;
    if (rotations * elevations <= PAIRS_MAX) {
        every_pair(d, out);
        return SLEW_OK;
    }
    out->count = 0;
    const slew_stowed_asking asking = {ask_alone, &s->deploy, rotations + elevations, NULL, NULL};
    slew_status status = slew_stowed_ensemble_run(s, how, &asking, &e, error);
    if (status != SLEW_OK && status != SLEW_ERROR_STOPPED)
        return status;
    for (int i = 0; i < rotations; i++)
        for (int k = 0; k < elevations; k++)
            keep_pair(out, (pair){{d->choices[SLEW_ROTATION][i], d->choices[SLEW_ELEVATION][k]},
                                  score_of(&e, i, rotations + k)});
    slew_ensemble_free(&e);
    return status;
}

/* ---- one point ---- */

typedef struct trial {
    slew_plan_setting setting;
    double use, off_center;
} trial;

/* less short; then a nearer point; then more room; then more central */
static bool is_better(const trial *a, const trial *b)
{
    const double near_enough = 1e-9;
    double from_a = slew_plan_distance(&a->setting), from_b = slew_plan_distance(&b->setting);
    if (fabs(a->setting.shortfall - b->setting.shortfall) > near_enough)
        return a->setting.shortfall < b->setting.shortfall;
    if (fabs(from_a - from_b) > near_enough)
        return from_a < from_b;
    if (fabs(a->use - b->use) > near_enough)
        return a->use < b->use;
    return a->off_center < b->off_center - near_enough;
}

typedef struct trials {
    int count;
    trial of[SLEW_PLAN_CANDIDATES];
} trials;

static void keep_trial(trials *t, const trial *next)
{
    int at = t->count;
    while (at > 0 && is_better(next, &t->of[at - 1]))
        at--;
    if (at >= SLEW_PLAN_CANDIDATES)
        return;
    t->count += t->count < SLEW_PLAN_CANDIDATES;
    for (int i = t->count - 1; i > at; i--)
        t->of[i] = t->of[i - 1];
    t->of[at] = *next;
}

static trial conclude(const slew_scenario *s, const slew_ensemble *e, const pairs *p, int index,
                      const slew_plan_setting *at)
{
    trial t = {.setting = *at};
    int64_t misses[SLEW_DEMAND_COUNT] = {0};
    memcpy(t.setting.seconds, p->of[index].seconds, sizeof t.setting.seconds);
    t.off_center = count_misses(s, e, index, misses);
    slew_demands_judge(s, SLEW_STOW_AND_DEPLOY, misses, e->done, e->refused, &t.setting.judgment);
    t.setting.shortfall = shortfall_of(&t.setting.judgment);
    t.use = use_of(&t.setting.judgment);
    return t;
}

/* runs the pairs at one point; keeps all of the best, or of several points the best of each */
static slew_status ask_point(slew_scenario *s, const slew_sampling *how,
                             const slew_plan_setting *at, trials *here, slew_error *error)
{
    pairs p;
    slew_ensemble e;
    slew_plan_move(s, at->point);
    here->count = 0;
    slew_status status = choose_pairs(s, how, &p, error);
    if (status == SLEW_OK) {
        const slew_stowed_asking asking = {ask_pairs, &p, p.count * FIGURES, NULL, NULL};
        status = slew_stowed_ensemble_run(s, how, &asking, &e, error);
    }
    if (status == SLEW_ERROR_TEACH) {
        here->count = 1;
        here->of[0] = (trial){.setting = *at};
        judge_untaught(s, how->samples, &here->of[0].setting);
        here->of[0].setting.shortfall = shortfall_of(&here->of[0].setting.judgment);
        return SLEW_OK;
    }
    if (status != SLEW_OK && status != SLEW_ERROR_STOPPED)
        return status;
    for (int i = 0; i < p.count && status == SLEW_OK; i++) {
        trial next = conclude(s, &e, &p, i, at);
        keep_trial(here, &next);
    }
    slew_ensemble_free(&e);
    return status;
}

/* ---- points ---- */

typedef struct points {
    int count;
    slew_plan_setting of[POINTS_MAX];
} points;

static bool moves(const slew_scenario *s, int axis)
{
    const slew_range *r = &s->stow.range[axis];
    return s->stow.has_point && !s->stow.has_times && !isnan(r->low) && !isnan(r->high) &&
           r->high > r->low;
}

/* the wished angle first, then a grid over its range; returns how many */
static int angles_of(const slew_scenario *s, int axis, int grid, double angle[])
{
    const slew_range *r = &s->stow.range[axis];
    int count = 0;
    angle[count++] = s->stow.point[axis];
    for (int i = 0; i < grid && moves(s, axis); i++)
        angle[count++] = r->low + (r->high - r->low) * i / (grid - 1);
    return count;
}

/* sorted by the way from the wished one */
static void add_point(points *p, const slew_plan_setting *next)
{
    int at = p->count;
    while (at > 0 && slew_plan_distance(next) < slew_plan_distance(&p->of[at - 1]))
        at--;
    for (int i = p->count; i > at; i--)
        p->of[i] = p->of[i - 1];
    p->of[at] = *next;
    p->count++;
}

static void lay_out(const slew_scenario *s, points *p)
{
    double a[GRID_ONE + 1], b[GRID_ONE + 1];
    bool both = moves(s, SLEW_ROTATION) && moves(s, SLEW_ELEVATION);
    int rotations = angles_of(s, SLEW_ROTATION, both ? GRID_BOTH : GRID_ONE, a);
    int elevations = angles_of(s, SLEW_ELEVATION, both ? GRID_BOTH : GRID_ONE, b);
    p->count = 0;
    for (int i = 0; i < rotations; i++)
        for (int k = 0; k < elevations; k++) {
            slew_plan_setting next = slew_plan_own(s);
            next.point[SLEW_ROTATION] = a[i];
            next.point[SLEW_ELEVATION] = b[k];
            for (int j = 0; j < SLEW_AXES; j++)
                next.moved[j] = next.point[j] - s->stow.point[j];
            add_point(p, &next);
        }
}

/* ---- together ---- */

/* of one point several pairs are candidates; of several points the best pair of each */
static slew_status ask_points(slew_scenario *s, const slew_sampling *how, const points *p,
                              trials *best, slew_error *error)
{
    int after = -1;
    for (int i = 0; i < p->count && after < BEYOND; i++) {
        trials here;
        slew_status status = ask_point(s, how, &p->of[i], &here, error);
        if (status != SLEW_OK)
            return status;
        for (int k = 0; k < here.count && (k == 0 || p->count == 1); k++)
            keep_trial(best, &here.of[k]);
        after += after >= 0 || best->of[0].setting.shortfall <= 0;
    }
    return SLEW_OK;
}

slew_status slew_plan_search(const slew_scenario *scenario, const slew_sampling *sampling,
                             slew_plan_candidates *out, slew_error *error)
{
    points p;
    trials best = {0};
    slew_scenario s = *scenario;
    lay_out(scenario, &p);
    slew_status status = ask_points(&s, sampling, &p, &best, error);
    out->count = best.count;
    for (int i = 0; i < best.count; i++)
        out->of[i] = best.of[i].setting;
    return status;
}
