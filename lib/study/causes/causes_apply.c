/*
 * causes_apply.c - the changes of a cause put into a drawn scenario.
 *
 * A layered key is worked out for each occasion on which the change counts, from that occasion's
 * own value, and put into the occasion's uppermost layer: nothing drawn or given can hide it.
 */
#include "study/causes/causes_apply.h"

#include "error/error.h"
#include "keys/fields.h"
#include "slewtime/magnet.h"

static const slew_layer_id uppermost[] = {SLEW_LAYER_TEACH, SLEW_LAYER_TODAY,
                                          SLEW_LAYER_DEPLOY_DAY};

void slew_before_fill(slew_before *before, const slew_scenario *scenario)
{
    before->scenario = scenario;
    for (int k = SLEW_OCCASION_TEACH; k <= SLEW_OCCASION_DEPLOY; k++) {
        slew_scenario_resolve(scenario, (slew_occasion)k, &before->setup[k]);
        for (int j = 0; j < SLEW_AXES; j++) /* the window that a magnet gives is the one changed */
            slew_home_resolve(&before->setup[k].axis[j].home);
    }
}

static bool counts_on(slew_layer_id layer, slew_occasion occasion)
{
    switch (layer) {
    case SLEW_LAYER_TEACH:
        return occasion == SLEW_OCCASION_TEACH;
    case SLEW_LAYER_TODAY:
        return occasion != SLEW_OCCASION_TEACH;
    case SLEW_LAYER_DEPLOY_DAY:
        return occasion == SLEW_OCCASION_DEPLOY;
    default:
        return true;
    }
}

static double amount_of(const slew_change *change, double u)
{
    if (change->range)
        return change->amount[0] + (change->amount[1] - change->amount[0]) * u;
    int index = (int)(u * change->count);
    return change->amount[index < change->count ? index : change->count - 1];
}

static double new_value(const slew_change *change, double amount, double base)
{
    return change->how == SLEW_CHANGE_TIMES   ? base * amount
           : change->how == SLEW_CHANGE_PLUS  ? base + amount
           : change->how == SLEW_CHANGE_LEAST ? fmax(base, amount)
                                              : amount;
}

static bool refuse(slew_error *error, const slew_change *change, const char *message)
{
    slew_refuse(error, slew_key_at(change->key)->path, message, "");
    return false;
}

static bool put(const slew_change *change, const slew_before *before, slew_occasion occasion,
                double amount, slew_scenario *trial, slew_error *error)
{
    bool layered = slew_key_at(change->key)->layered;
    const slew_setup *setup = &before->setup[occasion];
    double base = change->base >= 0 ? slew_field_get(before->scenario, setup, change->base) : 0;
    double among = change->over >= 0 ? slew_field_get(before->scenario, setup, change->over) : 1;
    if (isnan(base) || isnan(among) ||
        (!layered && isnan(slew_field_get(before->scenario, setup, change->key))))
        return refuse(error, change, "not given by the scenario");
    slew_layer_id layer = layered ? uppermost[occasion] : SLEW_LAYER_FILE;
    double value = new_value(change, amount / fmax(among, 1), base);
    if (slew_scenario_set_number(trial, layer, change->key, value) != SLEW_OK)
        return refuse(error, change, "would be out of range");
    return true;
}

bool slew_cause_apply(const slew_cause *cause, const slew_before *before, const double *u,
                      slew_scenario *trial, slew_error *error)
{
    for (int i = 0; i < cause->change_count; i++) {
        const slew_change *change = &cause->change[i];
        double amount = amount_of(change, u[i]);
        for (int k = SLEW_OCCASION_TEACH; k <= SLEW_OCCASION_DEPLOY; k++)
            if (counts_on(change->layer, (slew_occasion)k) &&
                !put(change, before, (slew_occasion)k, amount, trial, error))
                return false;
    }
    return true;
}

bool slew_cause_teaches(const slew_cause *cause)
{
    for (int i = 0; i < cause->change_count; i++)
        if (counts_on(cause->change[i].layer, SLEW_OCCASION_TEACH))
            return true;
    return false;
}
