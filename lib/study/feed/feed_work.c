/* feed_work.c - conductors through a whole day's work: teaching, stow and deploy over the spread.
 */
#include "slewtime/feed.h"

#include "error/error.h"
#include "keys/sound.h"
#include "scenario/variation.h"
#include "study/sampling/untaught.h"

#include <stdlib.h>
#include <string.h>

enum { LIMIT, LOADED, MISSED, FIGURES };
enum { FRESH_TIMES = 8 }; /* samples that confirm, for each that found */

static const double tail = 1e-3; /* the low end of a spread that has none */

#define WORD(name, word) word,
const char *slew_feed_limit_word(slew_feed_limit limit)
{
    static const char *const words[] = {SLEW_FEED_LIMITS(WORD)};
    return (unsigned)limit < SLEW_FEED_LIMIT_COUNT ? words[limit] : "?";
}
#undef WORD

/* ---- one case ---- */

static bool misses(unsigned missed, slew_demand demand)
{
    return (missed & 1U << demand) != 0;
}

static slew_feed_limit limit_of(const slew_result *r, unsigned missed)
{
    if (r->stow.fault == SLEW_FAULT_UNDERVOLTAGE || r->deploy.fault == SLEW_FAULT_UNDERVOLTAGE)
        return SLEW_FEED_LIMITED_BY_BROWNOUT;
    if (misses(missed, SLEW_DEMAND_FAULT) || misses(missed, SLEW_DEMAND_STOP))
        return SLEW_FEED_LIMITED_BY_OTHER_FAULT;
    if (misses(missed, SLEW_DEMAND_FLOOR))
        return SLEW_FEED_LIMITED_BY_FLOOR;
    if (misses(missed, SLEW_DEMAND_KEEPOUT))
        return SLEW_FEED_LIMITED_BY_KEEPOUT;
    return missed != 0 ? SLEW_FEED_LIMITED_BY_TARGET : SLEW_FEED_LIMITED_BY_NONE;
}

/* not taught beforehand: that may be just what fails */
static void ask(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                double *figures)
{
    const slew_scenario *own = context;
    slew_scenario trial = *drawn;
    slew_prepared taught;
    slew_result result;
    (void)prepared;
    trial.stow.has_times = own->stow.has_times;
    memcpy(trial.stow.times, own->stow.times, sizeof trial.stow.times);
    slew_status status = slew_prepare(&trial, SLEW_STOW_AND_DEPLOY, &taught, NULL);
    figures[LIMIT] = SLEW_FEED_LIMITED_BY_TEACHING;
    figures[LOADED] = INFINITY;
    figures[MISSED] = slew_demands_missed_untaught(&trial, SLEW_STOW_AND_DEPLOY);
    if (status != SLEW_OK)
        return;
    slew_run_prepared(&trial, &taught, SLEW_STOW_AND_DEPLOY, NULL, &result);
    unsigned missed = slew_demands_missed(&trial, &taught, SLEW_STOW_AND_DEPLOY, &result);
    figures[LIMIT] = limit_of(&result, missed);
    figures[LOADED] = result.lowest_loaded_voltage;
    figures[MISSED] = missed;
}

/* ---- one conductor ---- */

/* a size that a layer has would hide it */
static void forget_sizes(slew_layer *layer)
{
    int kept = 0;
    for (int i = 0; i < layer->count; i++) {
        const char *path = slew_key_at(layer->item[i].key)->path;
        bool is_size = strcmp(path, "supply.feed.gauge") == 0 ||
                       strcmp(path, "supply.feed.area") == 0 ||
                       strcmp(path, "supply.feed.per_length") == 0;
        if (!is_size)
            layer->item[kept++] = layer->item[i];
    }
    layer->count = kept;
}

static void fit(slew_scenario *s, const slew_feed_size *size)
{
    if (size->index == SLEW_FEED_OWN)
        return;
    slew_feed_fit(&s->setup, size->ladder, size->index);
    forget_sizes(&s->teach);
    forget_sizes(&s->today);
    forget_sizes(&s->deploy_day);
}

/* the ensemble's own teaching is not needed, and may fail */
static slew_status run(const slew_scenario *fitted, const slew_sampling *how, slew_ensemble *e,
                       slew_error *error)
{
    slew_scenario *untaught = malloc(sizeof *untaught), *own = malloc(sizeof *own);
    slew_status status = SLEW_ERROR_MEMORY;
    if (untaught != NULL && own != NULL) {
        *untaught = *own = *fitted;
        slew_leave_untaught(untaught);
        status =
            slew_ensemble_run(untaught, SLEW_STOW_AND_DEPLOY, how, ask, own, FIGURES, e, error);
    }
    free(untaught);
    free(own);
    return status;
}

static bool misses_too_often(const slew_scenario *s, const slew_feed_size *size, slew_demand demand)
{
    return (double)size->misses[demand] >
           slew_demand_limit(&s->demands, demand) * (double)size->samples;
}

/* what fails first of all that fails; no case may end in a fault */
static slew_feed_limit worst_of(const slew_scenario *s, const slew_feed_size *size)
{
    for (int k = SLEW_FEED_LIMITED_BY_TEACHING; k < SLEW_FEED_LIMITED_BY_FLOOR; k++)
        if (size->hits[k] > 0)
            return (slew_feed_limit)k;
    if (misses_too_often(s, size, SLEW_DEMAND_FLOOR))
        return SLEW_FEED_LIMITED_BY_FLOOR;
    if (misses_too_often(s, size, SLEW_DEMAND_KEEPOUT))
        return SLEW_FEED_LIMITED_BY_KEEPOUT;
    bool off = misses_too_often(s, size, SLEW_DEMAND_DEPLOY) ||
               misses_too_often(s, size, SLEW_DEMAND_STOW);
    return off ? SLEW_FEED_LIMITED_BY_TARGET : SLEW_FEED_LIMITED_BY_NONE;
}

static void count(const slew_scenario *s, const slew_ensemble *e, slew_feed_size *size)
{
    const unsigned untaught = slew_demands_missed_untaught(s, SLEW_STOW_AND_DEPLOY);
    size->samples = e->done;
    size->lowest_loaded = INFINITY;
    memset(size->hits, 0, sizeof size->hits);
    memset(size->misses, 0, sizeof size->misses);
    for (int64_t i = 0; i < e->done; i++) {
        const double *figures = e->figure + i * FIGURES;
        bool ran = !isnan(figures[LIMIT]);
        unsigned missed = ran ? (unsigned)figures[MISSED] : untaught;
        size->hits[ran ? (int)figures[LIMIT] : SLEW_FEED_LIMITED_BY_TEACHING]++;
        size->lowest_loaded = fmin(size->lowest_loaded, ran ? figures[LOADED] : INFINITY);
        for (int k = 0; k < SLEW_DEMAND_COUNT; k++)
            size->misses[k] += misses(missed, (slew_demand)k);
    }
}

static slew_status ask_size(const slew_scenario *s, const slew_sampling *how, slew_feed_size *size,
                            slew_error *error)
{
    slew_scenario *fitted = malloc(sizeof *fitted);
    slew_ensemble e = {0};
    if (fitted == NULL)
        return SLEW_ERROR_MEMORY;
    *fitted = *s;
    fit(fitted, size);
    slew_status status = run(fitted, how, &e, error);
    if (status == SLEW_OK) {
        count(s, &e, size);
        size->limit = worst_of(s, size);
        slew_ensemble_free(&e);
    } else if (status == SLEW_ERROR_INPUT) { /* nothing is left for the drives */
        size->limit = SLEW_FEED_LIMITED_BY_TEACHING;
        status = SLEW_OK;
    }
    free(fitted);
    return status;
}

/* ---- the coldest, weakest day ---- */

static double low_end(const slew_variation *v)
{
    slew_range extent = slew_variation_extent(v);
    return isfinite(extent.low) ? extent.low : slew_variation_quantile(v, tail);
}

/* what is known of an occasion stays so */
static void weaken(const slew_scenario *s, const slew_variation *v, slew_scenario *out)
{
    double low = low_end(v);
    if (!slew_is_known(s, SLEW_OCCASION_STOW, v->key))
        slew_scenario_set_number(out, SLEW_LAYER_TODAY, v->key, low);
    if (!slew_is_known(s, SLEW_OCCASION_DEPLOY, v->key))
        slew_scenario_set_number(out, SLEW_LAYER_DEPLOY_DAY, v->key, low);
}

/* both at the low ends of their spread on every occasion after teaching; nothing else varies */
static void make_weakest(const slew_scenario *s, slew_scenario *out)
{
    static const char *const paths[] = {"supply.main.voltage", "environment.temperature"};
    *out = *s;
    for (int k = 0; k < 2; k++)
        for (int i = 0; i < s->day.count; i++)
            if (s->day.item[i].key == slew_key_find(paths[k]))
                weaken(s, &s->day.item[i], out);
    out->truck.count = out->day.count = 0;
    out->correlation.count = 0;
}

static slew_status ask_weakest(const slew_scenario *weakest, slew_feed_size *size,
                               slew_error *error)
{
    slew_sampling once = slew_sampling_default();
    slew_feed_size alone = *size;
    once.samples = once.shifts = 1;
    once.threads = 1;
    slew_status status = ask_size(weakest, &once, &alone, error);
    size->weakest = alone.limit;
    return status;
}

/* ---- all of them ---- */

/* the demands that each tier asks for */
static const unsigned asked_of[SLEW_FEED_TIERS] = {
    [SLEW_FEED_RUNS] = 1U << SLEW_DEMAND_FAULT | 1U << SLEW_DEMAND_STOP,
    [SLEW_FEED_KEEPS] = 1U << SLEW_DEMAND_FAULT | 1U << SLEW_DEMAND_STOP | 1U << SLEW_DEMAND_FLOOR,
    [SLEW_FEED_MEETS] = (1U << SLEW_DEMAND_COUNT) - 1};

static bool runs(slew_feed_limit limit)
{
    return limit == SLEW_FEED_LIMITED_BY_NONE || limit >= SLEW_FEED_LIMITED_BY_FLOOR;
}

static bool does(const slew_feed_size *size, slew_feed_tier tier)
{
    bool keeps = size->limit != SLEW_FEED_LIMITED_BY_FLOOR;
    bool meets = size->limit == SLEW_FEED_LIMITED_BY_NONE;
    return runs(size->limit) && runs(size->weakest) && (keeps || tier < SLEW_FEED_KEEPS) &&
           (meets || tier < SLEW_FEED_MEETS);
}

/* from thick to thin, while they do it */
static int thinnest_of(const slew_feed_work *w, slew_ladder ladder, slew_feed_tier tier)
{
    int found = -1;
    for (int i = w->count - 1; i > 0; i--)
        if (w->size[i].ladder == ladder) {
            if (!does(&w->size[i], tier))
                return found;
            found = i;
        }
    return found;
}

/* all demands as the samples tell; what they come to together is asked of the tier's alone */
static slew_judgment judge(const slew_scenario *s, const slew_feed_size *size, slew_feed_tier tier)
{
    slew_judgment out;
    slew_demands_judge(s, SLEW_STOW_AND_DEPLOY, size->misses, size->samples, 0, &out);
    out.meets = SLEW_MEETS;
    for (int k = 0; k < SLEW_DEMAND_COUNT; k++) {
        slew_meets one = misses(asked_of[tier], (slew_demand)k) ? out.of[k].meets : SLEW_MEETS;
        if (one == SLEW_MEETS_NOT || out.meets == SLEW_MEETS)
            out.meets = one;
    }
    return out;
}

static slew_status ask_fresh(const slew_scenario *s, const slew_sampling *sampling,
                             slew_feed_size *size, slew_error *error)
{
    slew_sampling fresh = slew_sampling_fresh(sampling);
    fresh.samples = FRESH_TIMES * sampling->samples;
    return ask_size(s, &fresh, size, error);
}

/* What does not meet the demands on fresh samples gives way to the next thicker one; if none is
 * sure to meet them, the thinnest stays that may. What was run for another tier is in `again`
 * already. */
static slew_status confirm(const slew_scenario *s, const slew_sampling *sampling, slew_feed_work *w,
                           slew_feed_tier tier, slew_feed_found *found,
                           slew_feed_size again[SLEW_FEED_SIZES_MAX], slew_error *error)
{
    slew_feed_found may = {.index = -1};
    for (int i = found->index; i >= 0;) {
        if (again[i].samples == 0) {
            again[i] = w->size[i];
            slew_status status = ask_fresh(s, sampling, &again[i], error);
            if (status != SLEW_OK)
                return status;
        }
        *found = (slew_feed_found){i, judge(s, &again[i], tier)};
        w->size[i] = again[i];
        if (found->judged.meets == SLEW_MEETS)
            return SLEW_OK;
        if (found->judged.meets == SLEW_NOT_TOLD && may.index < 0)
            may = *found;
        bool thicker = i + 1 < w->count && w->size[i + 1].ladder == w->size[i].ladder;
        i = thicker ? i + 1 : -1;
    }
    *found = may;
    return SLEW_OK;
}

static slew_status find_thinnest(const slew_scenario *s, const slew_sampling *sampling,
                                 slew_ladder ladder, int k, slew_feed_work *w, slew_error *error)
{
    slew_feed_size again[SLEW_FEED_SIZES_MAX] = {0};
    slew_status status = SLEW_OK;
    for (int tier = 0; tier < SLEW_FEED_TIERS && status == SLEW_OK; tier++) {
        slew_feed_found *found = &w->found[tier][k];
        found->index = thinnest_of(w, ladder, (slew_feed_tier)tier);
        status = confirm(s, sampling, w, (slew_feed_tier)tier, found, again, error);
    }
    return status;
}

static slew_status ask_all(const slew_scenario *s, const slew_scenario *weakest,
                           const slew_sampling *sampling, slew_feed_work *w, slew_error *error)
{
    slew_status status = SLEW_OK;
    for (int i = 0; i < w->count && status == SLEW_OK; i++) {
        status = ask_size(s, sampling, &w->size[i], error);
        if (status == SLEW_OK)
            status = ask_weakest(weakest, &w->size[i], error);
    }
    return status;
}

slew_status slew_feed_work_run(const slew_scenario *scenario, slew_ladder metric,
                               const slew_sampling *sampling, slew_feed_work *out,
                               slew_error *error)
{
    if (sampling == NULL || out == NULL)
        return slew_no_argument(error);
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
    const slew_ladder ladders[] = {SLEW_LADDER_AWG, metric};
    *out = (slew_feed_work){.count = 1, .size[0] = {.index = SLEW_FEED_OWN}};
    for (int tier = 0; tier < SLEW_FEED_TIERS; tier++)
        out->found[tier][0].index = out->found[tier][1].index = -1;
    if (!scenario->stow.has_point && !scenario->stow.has_times)
        return slew_error_set(error, SLEW_ERROR_INPUT, "stow.point", "there is no stow to run", "");
    for (int k = 0; k < 2; k++)
        for (int i = 0; i < slew_ladder_count(ladders[k]); i++)
            out->size[out->count++] = (slew_feed_size){.ladder = ladders[k], .index = i};
    slew_scenario *weakest = malloc(sizeof *weakest);
    if (weakest == NULL)
        return slew_error_set(error, SLEW_ERROR_MEMORY, "", "memory is short", "");
    make_weakest(scenario, weakest);
    slew_status status = ask_all(scenario, weakest, sampling, out, error);
    free(weakest);
    if (status == SLEW_OK) {
        status = ask_fresh(scenario, sampling, &out->size[0], error);
        out->own = judge(scenario, &out->size[0], SLEW_FEED_MEETS);
    }
    for (int k = 0; k < 2 && status == SLEW_OK; k++)
        status = find_thinnest(scenario, sampling, ladders[k], k, out, error);
    return status;
}
