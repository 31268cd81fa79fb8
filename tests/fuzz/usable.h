/* usable.h - a scenario that was accepted: every value in the range of its key, resolved, printed.
 */
#ifndef TESTS_FUZZ_USABLE_H
#define TESTS_FUZZ_USABLE_H

#include "printed.h"

static inline void range_is_sound(slew_range range)
{
    assert_true(isfinite(range.low) && isfinite(range.high) && range.low <= range.high);
}

static inline void occasion_is_usable(const slew_scenario *scenario, slew_occasion occasion)
{
    slew_setup setup;
    slew_scenario_resolve(scenario, occasion, &setup);
    assert_true(setup.supply.main.voltage > 0 && setup.supply.feed.length >= 0);
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        const slew_axis_setup *a = &setup.axis[axis];
        range_is_sound(a->stops);
        assert_true(a->stops.low <= a->start && a->start <= a->stops.high);
        assert_true(isfinite(a->gear.backward_efficiency));
    }
}

static inline void keys_read_back(const slew_scenario *scenario)
{
    for (int i = 0; i < slew_key_count(); i++) {
        char text[512];
        double value = slew_scenario_get_number(scenario, i);
        slew_key_format(scenario, i, text, sizeof text);
        is_shown_whole(text, sizeof text);
        if (slew_key_at(i)->kind == SLEW_KEY_NUMBER && !isnan(value))
            value_reads_back(slew_key_row_at(i), value);
    }
}

static inline void layer_reads_back(const slew_layer *layer)
{
    assert_in_range(layer->count, 0, SLEW_OVERRIDES_MAX);
    for (int i = 0; i < layer->count; i++) {
        const slew_key_row *row = slew_key_row_at(layer->item[i].key);
        assert_true(row->key.layered);
        if (row->key.kind == SLEW_KEY_NUMBER)
            value_reads_back(row, layer->item[i].value);
    }
}

static inline void spread_is_sound(const slew_spread *spread)
{
    assert_in_range(spread->count, 0, SLEW_VARIATIONS_MAX);
    for (int i = 0; i < spread->count; i++) {
        const slew_variation *v = &spread->item[i];
        const slew_key_row *row = slew_key_row_at(v->key);
        if (v->distribution == SLEW_TABLE) {
            assert_in_range(v->count, 1, SLEW_TABLE_MAX);
            for (int k = 0; k < v->count; k++)
                assert_true(v->weight[k] > 0 && isfinite(v->weight[k]) &&
                            slew_value_allowed(row, v->value[k]));
            continue;
        }
        assert_true(v->low < v->high);
        assert_true(v->distribution != SLEW_NORMAL || (isfinite(v->mean) && v->sd > 0));
        assert_true(v->distribution != SLEW_TRIANGULAR ||
                    (v->low <= v->mode && v->mode <= v->high));
        assert_true(v->distribution == SLEW_NORMAL ||
                    (slew_value_allowed(row, v->low) && slew_value_allowed(row, v->high)));
    }
}

static inline void boxes_are_sound(const slew_keepout *keepout)
{
    assert_in_range(keepout->count, 0, SLEW_KEEPOUT_MAX);
    for (int i = 0; i < keepout->count; i++) {
        const slew_keepout_box *box = &keepout->box[i];
        is_shown_whole(box->name, sizeof box->name);
        for (int axis = 0; axis < SLEW_AXES; axis++)
            assert_true(box->axis[axis].low <= box->axis[axis].high);
    }
}

static inline void is_usable(const slew_scenario *scenario)
{
    for (slew_occasion o = SLEW_OCCASION_TEACH; o <= SLEW_OCCASION_DEPLOY; o++)
        occasion_is_usable(scenario, o);
    keys_read_back(scenario);
    layer_reads_back(&scenario->teach);
    layer_reads_back(&scenario->today);
    layer_reads_back(&scenario->deploy_day);
    spread_is_sound(&scenario->truck);
    spread_is_sound(&scenario->day);
    boxes_are_sound(&scenario->keepout);
    for (int i = 0; i < scenario->correlation.count; i++)
        assert_true(fabs(scenario->correlation.item[i].coefficient) < 1);
}

#endif
