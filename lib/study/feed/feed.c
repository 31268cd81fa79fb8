/* feed.c - one feed under everything that changes it: weather, conductor, length, joints, other
 * loads, and a battery at its end. */
#include "slewtime/feed.h"

#include "error/error.h"
#include "keys/sound.h"
#include "motion/errors.h"
#include "study/feed/feed_part.h"

#include <string.h>

static const double cold = SLEW_ZERO_CELSIUS - 20, hot = SLEW_ZERO_CELSIUS + 60; /* [K] */

/* ---- one trial ---- */

slew_feed_trial slew_feed_try(const slew_setup *setup, bool together)
{
    slew_feed_trial t = {.status = SLEW_OK};
    t.status = slew_feed_ask(setup, &t.figures, NULL);
    t.keeps = t.status == SLEW_OK && slew_feed_keeps(&t.figures, together, setup->supply.floor);
    return t;
}

static slew_feed_need floor_need(const slew_setup *setup, bool together)
{
    const slew_feed_wish wish = {.together = together};
    return slew_feed_find_need(setup, &wish);
}

/* ---- weather ---- */

/* where a spread of the temperature ends; infinite where it does not */
static slew_range ends_of(const slew_variation *v)
{
    slew_range range = {v->low, v->high};
    for (int i = 0; v->distribution == SLEW_TABLE && i < v->count; i++) {
        range.low = i == 0 ? v->value[i] : fmin(range.low, v->value[i]);
        range.high = i == 0 ? v->value[i] : fmax(range.high, v->value[i]);
    }
    return range;
}

/* a normal that is cut off by the key's own range alone has no ends of its own */
static bool is_end(double end)
{
    const slew_key *key = slew_key_at(slew_key_find("environment.temperature"));
    return end > key->low && end < key->high;
}

/* of a day whose temperature is known that alone, of any other what the spread or the trade says */
static slew_range weather_of(const slew_scenario *scenario, slew_occasion occasion, double own)
{
    const slew_spread *spreads[] = {&scenario->truck, &scenario->day};
    int key = slew_key_find("environment.temperature");
    slew_range weather = {cold, hot};
    for (int k = 0; k < 2; k++)
        for (int i = 0; i < spreads[k]->count; i++)
            if (spreads[k]->item[i].key == key) {
                slew_range ends = ends_of(&spreads[k]->item[i]);
                weather.low = is_end(ends.low) ? ends.low : cold;
                weather.high = is_end(ends.high) ? ends.high : hot;
                if (spreads[k] == &scenario->day && slew_is_known(scenario, occasion, key))
                    weather = (slew_range){own, own};
            }
    return weather;
}

static void ask_climate(const slew_feed_question *q, double temperature, slew_feed_answer *a,
                        slew_feed_climate *out)
{
    slew_setup setup = a->setup;
    setup.environment.temperature = temperature;
    out->temperature = temperature;
    out->own = slew_feed_try(&setup, a->together);
    out->floor = floor_need(&setup, a->together);
    for (int i = 0; i < q->drop_count; i++) {
        const slew_feed_wish wish = {a->together, true, q->drop[i]};
        out->drop[i] = slew_feed_find_need(&setup, &wish);
    }
}

static void ask_climates(const slew_scenario *scenario, const slew_feed_question *q,
                         slew_feed_answer *a)
{
    double own = a->setup.environment.temperature;
    slew_range weather = weather_of(scenario, q->occasion, own);
    ask_climate(q, own, a, &a->climate[SLEW_FEED_AS_IT_IS]);
    ask_climate(q, fmin(weather.low, own), a, &a->climate[SLEW_FEED_COLD]);
    ask_climate(q, fmax(weather.high, own), a, &a->climate[SLEW_FEED_HOT]);
}

/* ---- conductors ---- */

static void ask_ladders(slew_feed_answer *a)
{
    for (int ladder = 0; ladder < SLEW_LADDERS; ladder++)
        for (int i = 0; i < slew_ladder_count((slew_ladder)ladder); i++) {
            slew_setup setup = a->setup;
            slew_feed_fit(&setup, (slew_ladder)ladder, i);
            a->ladder[ladder][i] = slew_feed_try(&setup, a->together);
        }
}

/* ---- length, joints, other loads ---- */

static const double multiples[SLEW_FEED_LEVELS] = {0, 0.5, 1, 2, 4};

static void set_length(slew_setup *setup, double value)
{
    setup->supply.feed.length = value;
}

static void set_joints(slew_setup *setup, double value)
{
    setup->supply.feed.joints = 1;
    setup->supply.feed.joint_resistance = value;
}

static void set_shared(slew_setup *setup, double value)
{
    setup->supply.shared_load = value;
}

/* multiples of the scenario's own value, or of a usual one where it has none */
static void ask_levels(const slew_feed_answer *a, double own, double usual,
                       void (*set)(slew_setup *setup, double value),
                       slew_feed_level out[SLEW_FEED_LEVELS])
{
    double base = own > 0 ? own : usual;
    for (int i = 0; i < SLEW_FEED_LEVELS; i++) {
        slew_setup setup = a->setup;
        out[i].value = multiples[i] * base;
        out[i].own = out[i].value == own;
        set(&setup, out[i].value);
        out[i].trial = slew_feed_try(&setup, a->together);
    }
}

static void ask_changes(slew_feed_answer *a)
{
    const slew_supply *supply = &a->setup.supply;
    ask_levels(a, supply->feed.length, 10, set_length, a->length);
    ask_levels(a, slew_feed_joints(&a->setup), 0.02, set_joints, a->joints);
    ask_levels(a, supply->shared_load, 10, set_shared, a->shared);
}

/* ---- no feed, auxiliary battery, faults ---- */

static void ask_ideal(slew_feed_answer *a)
{
    slew_setup setup = a->setup;
    slew_feed_put_resistance(&setup, SLEW_FEED_NEARLY_NONE);
    a->ideal = slew_feed_try(&setup, a->together);
}

static void ask_auxiliary(slew_feed_answer *a)
{
    slew_setup setup = a->setup;
    setup.supply.auxiliary_fitted = true;
    a->auxiliary.with = slew_feed_try(&setup, a->together);
    a->auxiliary.need_with = floor_need(&setup, a->together);
    setup.supply.auxiliary_fitted = false;
    a->auxiliary.without = slew_feed_try(&setup, a->together);
    a->auxiliary.need_without = floor_need(&setup, a->together);
}

static void ask_faults(slew_feed_answer *a)
{
    const slew_feed_figures *own = &a->climate[SLEW_FEED_AS_IT_IS].own.figures;
    const slew_battery *main = &a->setup.supply.main;
    a->short_circuit = main->voltage / (main->resistance + own->conductors + own->joints);
    a->most_stall = 0;
    for (int w = 0; w < SLEW_FEED_WEATHERS; w++) {
        const slew_feed_trial *t = &a->climate[w].own;
        if (t->status == SLEW_OK)
            a->most_stall = fmax(a->most_stall, t->figures.standing[SLEW_FEED_BOTH].line);
    }
}

/* ---- together ---- */

static slew_status check(const slew_scenario *scenario, const slew_feed_question *q,
                         slew_error *error)
{
    if (q->drop_count < 0 || q->drop_count > SLEW_FEED_DROPS_MAX)
        return slew_no_number(error);
    for (int i = 0; i < q->drop_count; i++)
        if (!(q->drop[i] > 0 && q->drop[i] < 1))
            return slew_error_set(error, SLEW_ERROR_INPUT, "",
                                  "the drop asked for is not a share between 0 and 100 %",
                                  "a share of the nominal system voltage, for example 3 %");
    if (q->occasion == SLEW_OCCASION_DEPLOY && !scenario->deploy.given)
        return slew_error_set(error, SLEW_ERROR_INPUT, "deploy", "the scenario has no deploy",
                              "deploy: with seconds, order and target");
    return SLEW_OK;
}

slew_status slew_feed_run(const slew_scenario *scenario, const slew_feed_question *question,
                          slew_feed_answer *out, slew_error *error)
{
    if (question == NULL || out == NULL)
        return slew_no_argument(error);
    if (!slew_is_sound(scenario, error))
        return SLEW_ERROR_INPUT;
    slew_feed_figures figures;
    memset(out, 0, sizeof *out);
    slew_status status = check(scenario, question, error);
    if (status != SLEW_OK)
        return status;
    slew_scenario_resolve(scenario, question->occasion, &out->setup);
    status = slew_feed_ask(&out->setup, &figures, error);
    if (status != SLEW_OK)
        return slew_blame_occasion(error, status, scenario, question->occasion);
    out->together = scenario->stow.order == SLEW_TOGETHER ||
                    (scenario->deploy.given && scenario->deploy.order == SLEW_TOGETHER);
    ask_climates(scenario, question, out);
    ask_ladders(out);
    ask_changes(out);
    ask_ideal(out);
    ask_auxiliary(out);
    ask_faults(out);
    return SLEW_OK;
}
