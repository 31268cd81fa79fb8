/*
 * scenario_fuzz.c - thousands of damaged scenarios, the same ones in every run.
 *
 * Whatever the damage: the reader returns, each error is whole and printable, and what it accepts
 * can be resolved and printed. Run it under the address sanitizer to see leaks and overruns.
 */
#include <math.h>

#include "damage.h"
#include "whole.h"

enum { ROUNDS = 2500 };

/* ---- what holds all the same ---- */

static void is_usable(const slew_scenario *scenario)
{
    for (slew_occasion o = SLEW_OCCASION_TEACH; o <= SLEW_OCCASION_DEPLOY; o++) {
        slew_setup setup;
        slew_scenario_resolve(scenario, o, &setup);
        assert_true(setup.supply.main.voltage > 0 && setup.supply.feed.length >= 0);
        for (int axis = 0; axis < SLEW_AXES; axis++) {
            const slew_axis_setup *a = &setup.axis[axis];
            assert_true(a->stops.low <= a->start && a->start <= a->stops.high);
            assert_true(isfinite(a->gear.backward_efficiency));
        }
    }
    for (int i = 0; i < slew_key_count(); i++) {
        char text[64];
        slew_key_format(scenario, i, text, sizeof text);
    }
}

static void damaged_files_are_read_to_an_end(void **state)
{
    (void)state;
    static outcome o;
    static damaged d;
    uint64_t generator = 20260101;
    int accepted = 0, refused = 0;
    for (int round = 0; round < ROUNDS; round++) {
        damage(&d, FULL, &generator);
        read_with(&o, d.text, d.length, NULL, 0);
        errors_are_whole(&o.errors);
        assert_int_equal(o.status == SLEW_OK, o.errors.count == 0);
        if (o.status == SLEW_OK)
            is_usable(&o.scenario);
        accepted += o.status == SLEW_OK;
        refused += o.status == SLEW_ERROR_INPUT;
    }
    /* the damage is neither always harmless nor always fatal, or nothing would be tried */
    assert_int_equal(accepted + refused, ROUNDS);
    assert_true(accepted > ROUNDS / 50 && refused > ROUNDS / 2);
}

static void damaged_values_are_read_to_an_end(void **state)
{
    (void)state;
    static const char letters[] = "0123456789.+-eE %/*^ mkVAohsrdgNKCFLpsinbA[],°²Ω\xFF_";
    uint64_t generator = 7;
    slew_scenario s;
    slew_scenario_init(&s);
    for (int round = 0; round < ROUNDS; round++) {
        char text[24] = "";
        static caught errors;
        errors.count = 0;
        size_t length = 1 + below(&generator, sizeof text - 2);
        for (size_t i = 0; i < length; i++)
            text[i] = letters[below(&generator, sizeof letters - 1)];
        const slew_key *key = slew_key_at((int)below(&generator, (size_t)slew_key_count()));
        slew_status status = slew_scenario_set(&s, SLEW_LAYER_FILE, key->path, text,
                                               (slew_error_sink){catch_error, &errors});
        assert_int_equal(status == SLEW_OK, errors.count == 0);
        errors_are_whole(&errors);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(damaged_files_are_read_to_an_end),
        cmocka_unit_test(damaged_values_are_read_to_an_end),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
