/* scenario_hash.c - the fingerprint of a scenario: blind to how it came in, to nothing else. */
#include <math.h>

#include "keys/fields.h"
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
    alike("title: Roof", "units: si\ntitle: Roof"); /* shown otherwise */
    alike("length: 9 m", "length: 900 cm");
    alike("  floor: 10.5 V\n", "");          /* its default */
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

/* ---- defaults ---- */

static bool is_value(int key)
{
    slew_key_kind kind = slew_key_at(key)->kind;
    bool stored = slew_key_row_at(key)->offset != SLEW_NO_FIELD;
    return stored &&
           (kind == SLEW_KEY_NUMBER || kind == SLEW_KEY_YES_NO || kind == SLEW_KEY_CHOICE);
}

static void set_text(slew_scenario *s, int key, const char *text)
{
    const char *path = slew_key_at(key)->path;
    if (slew_scenario_set(s, SLEW_LAYER_FILE, path, text, (slew_error_sink){0}) != SLEW_OK)
        fail_msg("%s can't be %s", path, text);
}

/* nothing but what is required, by the table's own examples */
static slew_scenario bare(void)
{
    slew_scenario s;
    slew_scenario_init(&s);
    for (int key = 0; key < slew_key_count(); key++) {
        const slew_key_row *row = slew_key_row_at(key);
        if (is_value(key) &&
            (row->key.required || row->effect == SLEW_EFFECT_GAUGE ||
             row->effect == SLEW_EFFECT_POINT ||
             (row->effect == SLEW_EFFECT_DEPLOY && row->key.default_text[0] == 'r')))
            set_text(&s, key, row->key.example);
    }
    assert_true(s.stow.has_point && s.deploy.given);
    return s;
}

static void a_fresh_scenario_says_nothing(void **state)
{
    (void)state;
    slew_scenario s;
    slew_scenario_init(&s);
    assert_true(slew_scenario_hash(&s) == 0xcbf29ce484222325u); /* of no bytes */
}

/* with the defaults that depend on other keys filled in */
static double number_of(const slew_scenario *s, int key)
{
    slew_setup setup;
    slew_scenario_resolve(s, SLEW_OCCASION_STOW, &setup);
    return slew_field_get(s, &setup, key);
}

/* false: it has none */
static bool spell_default(slew_scenario *s, int key)
{
    const slew_key_row *row = slew_key_row_at(key);
    double by_rule = number_of(s, key);
    if (row->initial == SLEW_INITIAL_DEFAULT)
        set_text(s, key, row->key.default_text);
    else if (row->initial == SLEW_INITIAL_ZERO)
        assert_int_equal(slew_scenario_set_number(s, SLEW_LAYER_FILE, key, 0), SLEW_OK);
    else if (isnan(slew_scenario_get_number(s, key)) && !isnan(by_rule))
        assert_int_equal(slew_scenario_set_number(s, SLEW_LAYER_FILE, key, by_rule), SLEW_OK);
    else
        return false;
    return true;
}

/* so a key that the table gains later changes no hash of a scenario that does not use it */
static void a_key_at_its_default_does_not_count(void **state)
{
    (void)state;
    const slew_scenario without = bare();
    int tried = 0;
    for (int key = 0; key < slew_key_count(); key++) {
        slew_scenario with = without;
        if (!is_value(key) || !spell_default(&with, key))
            continue;
        if (slew_scenario_hash(&with) != slew_scenario_hash(&without))
            fail_msg("%s at its default counts", slew_key_at(key)->path);
        tried++;
    }
    assert_true(tried > 60);
    alike("  sample: 5 ms\n", "");
    alike("choices: {rotation: [0 s],", "choices: {");
    alike("today: {}\ndeploy_day: {}\n", "");
}

/* to the table's example, or if it has that already to what else it may be */
static void set_otherwise(slew_scenario *s, int key)
{
    const double old = number_of(s, key), others[] = {-1, 0, 1, 2, 3, nextafter(old, 0)};
    set_text(s, key, slew_key_at(key)->example);
    for (size_t i = 0; number_of(s, key) == old && i < sizeof others / sizeof *others; i++)
        slew_scenario_set_number(s, SLEW_LAYER_FILE, key, others[i]);
}

static void every_key_set_to_something_else_counts(void **state)
{
    (void)state;
    const slew_scenario without = bare();
    uint64_t hash[SLEW_KEYS_MAX] = {slew_scenario_hash(&without)};
    int count = 1;
    for (int key = 0; key < slew_key_count(); key++) {
        slew_scenario with = without;
        if (!is_value(key))
            continue;
        set_otherwise(&with, key);
        if (strcmp(slew_key_at(key)->path, "units") == 0) { /* it changes no figure */
            assert_true(slew_scenario_hash(&with) == hash[0]);
            continue;
        }
        hash[count] = slew_scenario_hash(&with);
        for (int i = 0; i < count; i++)
            if (hash[i] == hash[count])
                fail_msg("%s does not count, or not as itself", slew_key_at(key)->path);
        count++;
    }
    assert_true(count > 120);
}

/* what a magnet or another size takes the place of */
static void what_does_not_count_says_nothing(void **state)
{
    (void)state;
    slew_scenario a = bare(), b = bare();
    set_text(&a, slew_key_find("rotation.home.operate"), "5 deg");
    set_text(&a, slew_key_find("rotation.home.magnet.gap"), "6 mm");
    set_text(&b, slew_key_find("rotation.home.magnet.gap"), "6 mm");
    set_text(&b, slew_key_find("supply.feed.area"), "10 mm2");
    set_text(&b, slew_key_find("supply.feed.gauge"),
             slew_key_at(slew_key_find("supply.feed.gauge"))->example);
    assert_true(slew_scenario_hash(&a) == slew_scenario_hash(&b));
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
        cmocka_unit_test(a_fresh_scenario_says_nothing),
        cmocka_unit_test(a_key_at_its_default_does_not_count),
        cmocka_unit_test(every_key_set_to_something_else_counts),
        cmocka_unit_test(what_does_not_count_says_nothing),
        cmocka_unit_test(every_key_counts),
        cmocka_unit_test(lists_layers_and_spread_count),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
