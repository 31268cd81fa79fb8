/* scenario_hash.c - the fingerprint of a scenario: blind to how it came in, to nothing else. */
#include <math.h>

#include "scenario_text.h"

static uint64_t hash_of(const char *text)
{
    outcome o;
    read_text(&o, text);
    assert_int_equal(o.status, SLEW_OK);
    return slew_scenario_hash(&o.scenario);
}

static uint64_t hash_with(const char *from, const char *to)
{
    char *text = edit(from, to);
    uint64_t hash = hash_of(text);
    free(text);
    return hash;
}

static void alike(const char *from, const char *to)
{
    if (hash_with(from, to) != hash_of(FULL))
        fail_msg("\"%s\" and \"%s\" say the same, and the hash differs", from, to);
}

static void different(const char *from, const char *to)
{
    if (hash_with(from, to) == hash_of(FULL))
        fail_msg("\"%s\" and \"%s\" differ, and the hash does not", from, to);
}

/* ---- the same ---- */

static void what_says_the_same_has_the_same_hash(void **state)
{
    (void)state;
    alike("title: Roof", "title: Another roof");
    alike("length: 9 m", "length: 900 cm");
    alike("  floor: 11.5 V\n", "");          /* its default */
    alike("{ratio: 2200, efficiency: 36 %}", /* 2 - 1/efficiency */
          "{efficiency: 0.36, ratio: 2200, backward_efficiency: -0.7777777777777777}");
    alike("tilt: 0 deg", "tilt: -0 deg");
    alike("teach: {supply.main.voltage: 12.6 V, environment.temperature: 20 degC,",
          "teach: {environment.temperature: 20 degC, supply: {main.voltage: 12.6 V},");
}

static void assignments_and_functions_count_like_the_file(void **state)
{
    (void)state;
    outcome o;
    read_text(&o, FULL);
    int key = slew_key_find("supply.feed.length");
    assert_int_equal(slew_scenario_set_number(&o.scenario, SLEW_LAYER_FILE, key, 12), SLEW_OK);
    assert_int_equal(slew_scenario_set(&o.scenario, SLEW_LAYER_TODAY, "rotation.home.present", "no",
                                       (slew_error_sink){0}),
                     SLEW_OK);
    char *text = edit("length: 9 m", "length: 12 m");
    outcome written;
    read_text(&written, text);
    free(text);
    key = slew_key_find("rotation.home.present");
    assert_int_equal(slew_scenario_set_number(&written.scenario, SLEW_LAYER_TODAY, key, 0),
                     SLEW_OK);
    assert_true(slew_scenario_hash(&o.scenario) == slew_scenario_hash(&written.scenario));
}

/* ---- different ---- */

/* the least change of every number, yes/no and choice that the table has */
static void every_key_counts(void **state)
{
    (void)state;
    outcome o;
    read_text(&o, FULL);
    uint64_t before = slew_scenario_hash(&o.scenario);
    int tried = 0;
    for (int key = 0; key < slew_key_count(); key++) {
        slew_scenario changed = o.scenario;
        double value = slew_scenario_get_number(&o.scenario, key);
        slew_key_kind kind = slew_key_at(key)->kind;
        double other = kind == SLEW_KEY_YES_NO ? 1 - value : nextafter(value, value > 0 ? 0 : 9);
        if ((kind != SLEW_KEY_NUMBER && kind != SLEW_KEY_YES_NO) || isnan(value) ||
            slew_scenario_set_number(&changed, SLEW_LAYER_FILE, key, other) != SLEW_OK)
            continue;
        if (slew_scenario_hash(&changed) == before)
            fail_msg("%s does not count", slew_key_at(key)->path);
        tried++;
    }
    assert_true(tried > 90);
    different("stop: brake", "stop: coast");
    different("gauge: 8 AWG", "area: 8 mm2");
    different("home_order: elevation, rotation", "home_order: rotation, elevation");
}

static void lists_layers_and_spread_count(void **state)
{
    (void)state;
    different("7.5 s, 9 s]", "7.5 s]");
    different("7.5 s, 9 s]", "7.5 s, 9.01 s]");
    different("name: light mast", "name: dark mast");
    different("high: -19 deg}}", "high: -18 deg}}");
    different("today: {}", "today: {supply.main.voltage: 13.4 V}"); /* hides a draw from the file */
    different("today: {}\ndeploy_day: {}", "today: {}\ndeploy_day: {nozzle.flowing: no}");
    different("sd: 60 rpm", "sd: 61 rpm");
    different("mode: 36 %", "mode: 35 %");
    different("[5 deg, 30 deg, 60 deg]", "[5 deg, 30 deg]");
    different("[5 deg, 30 deg, 60 deg]", "[5 deg, 30 deg, 61 deg]");
    different("same_day: no", "same_day: yes");
    different("  truck:\n",
              "  correlation:\n    - {between: [supply.main.voltage, rotation.start], "
              "coefficient: 0.1}\n  truck:\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_says_the_same_has_the_same_hash),
        cmocka_unit_test(assignments_and_functions_count_like_the_file),
        cmocka_unit_test(every_key_counts),
        cmocka_unit_test(lists_layers_and_spread_count),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
