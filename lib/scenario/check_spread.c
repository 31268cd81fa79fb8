/* check_spread.c - distributions: right in themselves, and within what their keys allow. */
#include <stdio.h>

#include "keys/text.h"
#include "keys/values.h"
#include "scenario/check.h"
#include "scenario/correlation.h"
#include "scenario/variation.h"

/* One distribution with what its errors need. */
typedef struct checked {
    const slew_checker *checker;
    const slew_variation *variation;
    const slew_key_row *row;
    slew_mark mark;
} checked;

static const char *fault_of(const slew_variation *v)
{
    switch (v->distribution) {
    case SLEW_UNIFORM:
        return v->low < v->high ? NULL : "low is not below high";
    case SLEW_NORMAL:
        return !(v->sd > 0)          ? "sd is not above zero"
               : !(v->low < v->high) ? "low is not below high"
               : v->mean < v->low    ? "mean is below low"
               : v->mean > v->high   ? "mean is above high"
                                     : NULL;
    case SLEW_TRIANGULAR:
        return !(v->low < v->high) ? "low is not below high"
               : v->mode < v->low  ? "mode is below low"
               : v->mode > v->high ? "mode is above high"
                                   : NULL;
    default: /* a table has values, or the scenario no shape */
        return NULL;
    }
}

static void say(const checked *c, const char *message, const char *expected)
{
    slew_error error = {.status = SLEW_ERROR_INPUT};
    slew_say(error.key, sizeof error.key, "%s", c->row->key.path);
    slew_say(error.message, sizeof error.message, "%s", message);
    slew_say(error.expected, sizeof error.expected, "%s", expected);
    slew_report_add(c->checker->of_spread, c->mark, &error);
}

/* ---- what the key allows ---- */

/* the tails of a normal without ends of its own are forgiven where they are small */
static bool leaves(const slew_variation *v, slew_range allowed, double *share)
{
    bool endless = v->distribution == SLEW_NORMAL && (isinf(v->low) || isinf(v->high));
    *share = slew_variation_outside(v, allowed);
    return *share > (endless ? SLEW_TAIL_SHARE : 0);
}

/* 0 to 1; of a key that allows its two bounds alone, what is neither */
static double share_outside(const checked *c, bool *told)
{
    double share = 0, total = 0;
    const slew_variation *v = c->variation;
    *told = leaves(v, (slew_range){c->row->key.low, c->row->key.high}, &share);
    if (!c->row->bounds_only)
        return share;
    share = v->distribution == SLEW_TABLE ? 0 : 1;
    for (int i = 0; v->distribution == SLEW_TABLE && i < v->count; i++) {
        total += v->weight[i];
        share += slew_value_allowed(c->row, v->value[i]) ? 0 : v->weight[i];
    }
    *told = share > 0;
    return total > 0 ? share / total : share;
}

static bool check_allowed(const checked *c)
{
    bool outside;
    double share = share_outside(c, &outside);
    char message[160], expected[256];
    const slew_key *key = &c->row->key;
    slew_range drawn = slew_variation_extent(c->variation);
    bool on_end = c->variation->distribution != SLEW_NORMAL &&
                  ((key->low_open && drawn.low == key->low && isfinite(drawn.low)) ||
                   (key->high_open && drawn.high == key->high && isfinite(drawn.high)));
    if (!outside && !on_end)
        return true;
    slew_value_expected(c->row, expected, sizeof expected);
    if (share > 0)
        slew_say(message, sizeof message, "%.3g %% of it lies outside what the key allows",
                 100 * share);
    else
        slew_say(message, sizeof message, "it reaches an end that the key does not allow");
    say(c, message, expected);
    return false;
}

/* ---- starts within the stops ---- */

static bool starts_within(const slew_axis_setup *axis)
{
    return axis->stops.low <= axis->start && axis->start <= axis->stops.high;
}

/* a setup whose own start is wrong is told already */
static void check_start(const checked *c, const slew_setup *setup)
{
    static const char *const starts[SLEW_AXES] = {"rotation.start", "elevation.start"};
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        const slew_range *stops = &setup->axis[axis].stops;
        char message[160], low[64], high[64], expected[160];
        double share;
        if (c->variation->key != slew_key_find(starts[axis]) ||
            !starts_within(&setup->axis[axis]) || !leaves(c->variation, *stops, &share))
            continue;
        slew_value_print(c->row, stops->low, low, sizeof low);
        slew_value_print(c->row, stops->high, high, sizeof high);
        slew_say(message, sizeof message, "%.3g %% of it lies beyond the stops", 100 * share);
        slew_say(expected, sizeof expected, "%s to %s", low, high);
        say(c, message, expected);
    }
}

/* ---- a window or its magnet ---- */

/* one that would take the place of what the scenario says, or that lacks its fellows */
static const char *without_effect(const slew_variation *v, const slew_setup *setup)
{
    slew_effect effect = slew_key_row_at(v->key)->effect;
    if (effect == SLEW_EFFECT_SHEET)
        return "it tells the motor's figures once: vary no_load_speed, stall_current or efficiency";
    bool window = effect == SLEW_EFFECT_WINDOW, magnet = effect == SLEW_EFFECT_MAGNET;
    if (!window && !magnet)
        return NULL;
    bool given = setup->axis[slew_key_axis(v->key)].home.magnet.given;
    return window && given    ? "a magnet gives it: vary the figures of the magnet instead"
           : magnet && !given ? "no magnet is given that could vary"
                              : NULL;
}

/* ---- all of them ---- */

static void check_variations(const slew_checker *checker, const slew_spread *spread,
                             const slew_setup *setup, const slew_mark *marks)
{
    for (int i = 0; i < spread->count; i++) {
        const slew_variation *v = &spread->item[i];
        checked c = {checker, v, slew_key_row_at(v->key), marks ? marks[i] : (slew_mark){0}};
        const char *fault = fault_of(v);
        if (fault == NULL)
            fault = without_effect(v, setup);
        if (fault != NULL)
            say(&c, fault, "");
        else if (check_allowed(&c))
            check_start(&c, setup);
    }
}

/* ---- correlations ---- */

static void say_correlation(const slew_checker *c, int index, const char *message,
                            const char *expected)
{
    slew_error error = {.status = SLEW_ERROR_INPUT, .key = "spread.correlation"};
    slew_say(error.message, sizeof error.message, "%s", message);
    slew_say(error.expected, sizeof error.expected, "%s", expected);
    slew_report_add(c->of_spread, c->marks ? c->marks->correlation[index] : (slew_mark){0}, &error);
}

static bool is_same_pair(const slew_correlation *a, const slew_correlation *b)
{
    return (a->key[0] == b->key[0] && a->key[1] == b->key[1]) ||
           (a->key[0] == b->key[1] && a->key[1] == b->key[0]);
}

static bool check_correlation(const slew_checker *c, int index)
{
    const slew_correlations *all = &c->scenario->correlation;
    const slew_correlation *own = &all->item[index];
    char message[2 * SLEW_PATH_MAX + 64];
    const char *wrong = NULL;
    for (int i = 0; i < index; i++)
        if (is_same_pair(&all->item[i], own))
            wrong = "the same two keys again";
    if (own->key[0] == own->key[1])
        wrong = "a key with itself";
    if (!(fabs(own->coefficient) < 1))
        wrong = "the coefficient is not between -1 and 1";
    if (wrong != NULL)
        say_correlation(c, index, wrong, "a pair of keys with a coefficient between -1 and 1");
    if (wrong != NULL || slew_correlation_applies(&c->scenario->truck, own) ||
        slew_correlation_applies(&c->scenario->day, own))
        return wrong == NULL;
    slew_say(message, sizeof message, "%s and %s are not varied together",
             slew_key_at(own->key[0])->path, slew_key_at(own->key[1])->path);
    say_correlation(c, index, message, "two keys of spread.truck, or two of spread.day");
    return false;
}

static void check_correlations(const slew_checker *c)
{
    bool right = true;
    double factor[SLEW_FACTOR_MAX];
    const slew_correlations *all = &c->scenario->correlation;
    for (int i = 0; i < all->count; i++)
        right &= check_correlation(c, i);
    if (right && (!slew_correlation_factor(&c->scenario->truck, all, factor) ||
                  !slew_correlation_factor(&c->scenario->day, all, factor)))
        say_correlation(c, all->count - 1, "these coefficients can't hold all at once",
                        "weaker ones, or all pairs of the keys that go together");
}

void slew_check_spread(const slew_checker *c)
{
    slew_setup today;
    slew_scenario_resolve(c->scenario, SLEW_OCCASION_STOW, &today);
    check_variations(c, &c->scenario->truck, &c->scenario->setup,
                     c->marks ? c->marks->truck : NULL);
    check_variations(c, &c->scenario->day, &today, c->marks ? c->marks->day : NULL);
    check_correlations(c);
}
