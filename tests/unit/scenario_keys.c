/* scenario_keys.c - the table of keys holds together: paths, defaults, examples, ranges. */
#include <math.h>

#include "keys/fields.h"
#include "keys/keys.h"
#include "keys/quantity.h"
#include "keys/values.h"
#include "scenario_text.h"

static bool is_value(slew_key_kind kind)
{
    return kind == SLEW_KEY_NUMBER || kind == SLEW_KEY_YES_NO || kind == SLEW_KEY_CHOICE;
}

/* ---- the table by itself ---- */

static void every_path_is_found_at_its_own_index(void **state)
{
    (void)state;
    assert_true(slew_key_count() > 100);
    for (int i = 0; i < slew_key_count(); i++) {
        assert_int_equal(slew_key_find(slew_key_at(i)->path), i);
        assert_true(strlen(slew_key_at(i)->path) < SLEW_PATH_MAX);
        assert_true(slew_path_depth(slew_key_at(i)->path) < SLEW_PATH_DEPTH);
    }
    assert_null(slew_key_at(-1));
    assert_null(slew_key_at(slew_key_count()));
    assert_int_equal(slew_key_find("supply.feed"), -1);
    assert_int_equal(slew_key_find(""), -1);
}

static void no_key_is_a_group_and_groups_stand_together(void **state)
{
    (void)state;
    for (int i = 0; i < slew_key_count(); i++) {
        const char *path = slew_key_at(i)->path;
        assert_int_equal(slew_group_find(path), -1);
        for (const char *p = strchr(path, '.'); p != NULL; p = strchr(p + 1, '.')) {
            size_t length = (size_t)(p - path);
            int blocks = 0;
            for (int k = 0; k < slew_key_count(); k++)
                blocks += slew_key_within(k, path, length) &&
                          (k == 0 || !slew_key_within(k - 1, path, length));
            assert_int_equal(blocks, 1);
        }
    }
}

static void every_number_has_a_quantity_and_a_unit_of_it(void **state)
{
    (void)state;
    for (int i = 0; i < slew_key_count(); i++) {
        const slew_key *key = slew_key_at(i);
        assert_true(strlen(key->meaning) > 0 && strlen(key->example) > 0);
        assert_non_null(key->default_text);
        assert_int_equal(key->required, strcmp(key->default_text, "required") == 0);
        assert_int_equal(key->words != NULL, key->kind == SLEW_KEY_CHOICE);
        if (key->kind != SLEW_KEY_NUMBER)
            continue;
        assert_non_null(slew_quantity_find(key->quantity));
        bool is_difference = strcmp(key->quantity, "temperature difference") == 0;
        if (*key->unit != '\0')
            assert_string_equal(slew_unit_find(key->unit)->quantity,
                                is_difference ? "temperature" : key->quantity);
        assert_true(key->low <= key->high);
    }
}

static void a_choice_has_a_value_for_each_word(void **state)
{
    (void)state;
    for (int i = 0; i < slew_key_count(); i++) {
        const slew_key_row *row = slew_key_row_at(i);
        const char *words = row->key.words, *word;
        size_t length;
        while (words != NULL && (word = slew_word_next(&words, &length)) != NULL) {
            char text[64];
            double value;
            slew_units units = {0};
            slew_error error;
            snprintf(text, sizeof text, "%.*s", (int)length, word);
            assert_true(slew_value_read(&units, row, text, &value, &error));
        }
    }
}

static void conditions_are_layered_and_the_rest_is_not(void **state)
{
    (void)state;
    static const char *const never[] = {"format", "title",   "units",      "fitted",
                                        "stow.",  "deploy.", "demands.",   "keepout",
                                        "teach",  "today",   "deploy_day", "spread."};
    /* what only tells other figures, once */
    static const char *const sheet[] = {".gearmotor.", ".motor.rated.", ".motor.stall_torque",
                                        ".motor.armature_resistance"};
    for (int i = 0; i < slew_key_count(); i++) {
        const slew_key *key = slew_key_at(i);
        bool expected = true;
        for (size_t k = 0; k < sizeof never / sizeof never[0]; k++)
            if (strncmp(key->path, never[k], strlen(never[k])) == 0)
                expected = false;
        if (strcmp(key->path, "stow.cancel_at") == 0)
            expected = true;
        for (size_t k = 0; k < sizeof sheet / sizeof sheet[0]; k++)
            if (strstr(key->path, sheet[k]) != NULL)
                expected = false;
        assert_int_equal(key->layered, expected);
    }
}

/* ---- defaults and examples ---- */

static void defaults_are_what_a_reader_makes_of_their_text(void **state)
{
    (void)state;
    slew_scenario fresh, set;
    int read = 0;
    slew_scenario_init(&fresh);
    for (int i = 0; i < slew_key_count(); i++) {
        const slew_key *key = slew_key_at(i);
        if (!is_value(key->kind) || slew_key_row_at(i)->initial != SLEW_INITIAL_DEFAULT)
            continue;
        slew_scenario_init(&set);
        assert_int_equal(slew_scenario_set(&set, SLEW_LAYER_FILE, key->path, key->default_text,
                                           (slew_error_sink){0}),
                         SLEW_OK);
        assert_true(slew_scenario_get_number(&set, i) == slew_scenario_get_number(&fresh, i));
        read++;
    }
    assert_true(read > 40);
}

static void a_fresh_scenario_holds_zero_for_none_and_nan_for_required(void **state)
{
    (void)state;
    slew_scenario fresh;
    slew_scenario_init(&fresh);
    for (int i = 0; i < slew_key_count(); i++) {
        const slew_key *key = slew_key_at(i);
        if (key->kind != SLEW_KEY_NUMBER)
            continue;
        if (strcmp(key->default_text, "none") == 0)
            assert_true(slew_scenario_get_number(&fresh, i) == 0);
        if (key->required)
            assert_true(isnan(slew_scenario_get_number(&fresh, i)));
    }
    assert_int_equal(fresh.setup.supply.feed.conductor, SLEW_CONDUCTOR_NOT_GIVEN);
    assert_false(fresh.deploy.given || fresh.stow.has_point || fresh.stow.has_times);
    assert_int_equal(fresh.stow.order, SLEW_ORDER_NOT_GIVEN);
    assert_int_equal(fresh.setup.axis[SLEW_ROTATION].search, 0);
    assert_int_equal(fresh.keepout.count + fresh.teach.count + fresh.truck.count, 0);
}

/* hand conversions of the defaults in the format's own description */
static void the_defaults_are_those_of_the_format(void **state)
{
    (void)state;
    slew_scenario s;
    slew_scenario_init(&s);
    const slew_setup *u = &s.setup;
    assert_true(u->supply.system == 12 && isnan(u->supply.floor));
    assert_true(u->supply.feed.stranding == 0.02 && !u->supply.auxiliary_fitted);
    assert_true(u->supply.auxiliary.voltage == 12.7 && u->supply.auxiliary.resistance == 0.02);
    assert_true(u->environment.temperature == 293.15 && u->environment.tilt == 0);
    assert_true(fabs(u->grease.viscosity_40 - 100e-6) < 1e-18);
    assert_true(fabs(u->grease.viscosity_100 - 11.1e-6) < 1e-18);
    assert_true(!u->nozzle.flowing && u->nozzle.kind == SLEW_SPRAY);
    assert_true(u->nozzle.reaction == SLEW_REACTION_TRADE && u->nozzle.coefficient == 1);
    assert_true(u->controller.drive_resistance == 0.02 && u->controller.drive_drop == 0.6);
    assert_true(u->controller.stop == SLEW_BRAKE && u->controller.sample == 0.005);
    assert_true(u->controller.latency == 0.015 && u->controller.clock == 0.01);
    assert_true(u->controller.pause == 0.5 && u->controller.move_limit == 60);
    assert_true(u->controller.stall_dwell == 0.25 && u->controller.stall_blank == 0.2);
    assert_true(isnan(u->controller.brownout_voltage) && u->controller.brownout_dwell == 0.05);
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        const slew_axis_setup *a = &u->axis[axis];
        assert_true(a->motor.viscous_share == 0.3 && a->motor.breakaway == 1.2);
        assert_true(!a->reversed && isnan(a->gear.backward_efficiency));
        assert_true(fabs(a->home.operate - 3 * 0.017453292519943295) < 1e-15);
        assert_true(fabs(a->home.release - 4 * 0.017453292519943295) < 1e-15);
        assert_true(a->home.present && !a->home.stuck);
        assert_true(a->approach == SLEW_APPROACH_FALLING && a->overrun == 0.3);
    }
    assert_true(s.stow.lift_first == 0 && fabs(s.stow.tolerance - 0.03490658503988659) < 1e-15);
    assert_true(isinf(u->stow_cancel_at) && u->stow_cancel_at > 0 && !s.deploy.same_day);
}

static void every_example_is_accepted(void **state)
{
    (void)state;
    for (int i = 0; i < slew_key_count(); i++) {
        const slew_key *key = slew_key_at(i);
        slew_scenario s;
        slew_scenario_init(&s);
        if (key->kind == SLEW_KEY_STRUCTURE)
            continue;
        assert_int_equal(
            slew_scenario_set(&s, SLEW_LAYER_FILE, key->path, key->example, (slew_error_sink){0}),
            SLEW_OK);
    }
}

static void examples_of_structures_are_read_in_a_file(void **state)
{
    (void)state;
    static outcome o;
    for (int i = 0; i < slew_key_count(); i++) {
        const slew_key *key = slew_key_at(i);
        /* what goes together has to vary */
        const char *varied = strcmp(key->path, "spread.correlation") == 0
                                 ? "day: {supply.main.voltage: {values: [12 V]}, "
                                   "environment.temperature: {values: [1 degC]}}, "
                                 : "";
        char text[400];
        if (key->kind != SLEW_KEY_STRUCTURE)
            continue;
        bool spread = strncmp(key->path, "spread.", 7) == 0;
        if (spread)
            snprintf(text, sizeof text, "spread: {%s%s: %s}\n", varied, key->path + 7,
                     key->example);
        else
            snprintf(text, sizeof text, "%s: %s\n", key->path, key->example);
        read_text(&o, text);
        /* only the missing keys are told: format and the five required groups */
        assert_int_equal(o.errors.count, 6);
        for (int e = 0; e < o.errors.count; e++)
            assert_non_null(strstr(o.errors.error[e].message, "required"));
    }
}

/* ---- numbers in and out ---- */

static double inside(const slew_key *key)
{
    if (isfinite(key->low) && isfinite(key->high))
        return key->low + 0.37 * (key->high - key->low);
    return isfinite(key->low) ? key->low + 0.4321 : isfinite(key->high) ? key->high - 1.7 : -0.1234;
}

static void set_number_reaches_every_field_and_only_it(void **state)
{
    (void)state;
    slew_scenario fresh, s;
    slew_scenario_init(&fresh);
    for (int i = 0; i < slew_key_count(); i++) {
        const slew_key *key = slew_key_at(i);
        if (key->kind != SLEW_KEY_NUMBER || slew_key_row_at(i)->bounds_only)
            continue;
        s = fresh;
        assert_int_equal(slew_scenario_set_number(&s, SLEW_LAYER_FILE, i, inside(key)), SLEW_OK);
        for (int k = 0; k < slew_key_count(); k++) {
            double value = slew_scenario_get_number(&s, k);
            double before = slew_scenario_get_number(&fresh, k);
            if (k == i)
                assert_true(value == inside(key));
            else
                assert_true(value == before || (isnan(value) && isnan(before)));
        }
    }
}

static void set_number_refuses_what_is_out_of_range(void **state)
{
    (void)state;
    slew_scenario s;
    slew_scenario_init(&s);
    for (int i = 0; i < slew_key_count(); i++) {
        const slew_key *key = slew_key_at(i);
        double before = slew_scenario_get_number(&s, i);
        assert_int_equal(slew_scenario_set_number(&s, SLEW_LAYER_FILE, i, NAN), SLEW_ERROR_INPUT);
        assert_int_equal(slew_scenario_set_number(&s, SLEW_LAYER_FILE, i, -INFINITY),
                         SLEW_ERROR_INPUT);
        if (isfinite(key->low)) {
            double out = key->low_open ? key->low : key->low - 1e-3;
            assert_int_equal(slew_scenario_set_number(&s, SLEW_LAYER_FILE, i, out),
                             SLEW_ERROR_INPUT);
        }
        if (isfinite(key->high))
            assert_int_equal(slew_scenario_set_number(&s, SLEW_LAYER_FILE, i, key->high + 1e-3),
                             SLEW_ERROR_INPUT);
        double after = slew_scenario_get_number(&s, i);
        assert_true(after == before || (isnan(after) && isnan(before)));
    }
    int cancel = slew_key_find("stow.cancel_at"), system = slew_key_find("supply.system");
    assert_int_equal(slew_scenario_set_number(&s, SLEW_LAYER_FILE, cancel, INFINITY), SLEW_OK);
    assert_int_equal(slew_scenario_set_number(&s, SLEW_LAYER_FILE, system, 24), SLEW_OK);
    assert_int_equal(slew_scenario_set_number(&s, SLEW_LAYER_FILE, system, 18), SLEW_ERROR_INPUT);
    assert_int_equal(
        slew_scenario_set_number(&s, SLEW_LAYER_FILE, slew_key_find("rotation.search"), 0),
        SLEW_ERROR_INPUT);
    assert_int_equal(slew_scenario_set_number(&s, SLEW_LAYER_FILE, -1, 1), SLEW_ERROR_INPUT);
    assert_int_equal(slew_scenario_set_number(&s, SLEW_LAYER_FILE, slew_key_count(), 1),
                     SLEW_ERROR_INPUT);
}

static void what_is_printed_is_read_back(void **state)
{
    (void)state;
    slew_scenario s, back;
    slew_scenario_init(&s);
    for (int i = 0; i < slew_key_count(); i++) {
        const slew_key *key = slew_key_at(i);
        char text[128];
        if (key->kind != SLEW_KEY_NUMBER || slew_key_row_at(i)->bounds_only)
            continue;
        double value = strcmp(key->quantity, "wire gauge") == 0 ? -3 : inside(key);
        slew_scenario_set_number(&s, SLEW_LAYER_FILE, i, value);
        int length = slew_key_format(&s, i, text, sizeof text);
        assert_int_equal(length, (int)strlen(text));
        slew_scenario_init(&back);
        assert_int_equal(
            slew_scenario_set(&back, SLEW_LAYER_FILE, key->path, text, (slew_error_sink){0}),
            SLEW_OK);
        /* ten digits are printed; a temperature loses some to its zero point */
        assert_true(fabs(slew_scenario_get_number(&back, i) - value) <=
                    1e-9 * (fabs(value) + 1e-9));
    }
}

static void format_needs_no_room_to_tell_its_length(void **state)
{
    (void)state;
    static outcome o;
    read_text(&o, FULL);
    for (int i = 0; i < slew_key_count(); i++) {
        char whole[512], small[4] = "xxx";
        int length = slew_key_format(&o.scenario, i, whole, sizeof whole);
        assert_int_equal(slew_key_format(&o.scenario, i, NULL, 0), length);
        assert_int_equal(slew_key_format(&o.scenario, i, small, sizeof small), length);
        assert_true(strlen(small) < sizeof small);
        assert_memory_equal(small, whole, strlen(small));
    }
    assert_int_equal(slew_key_format(&o.scenario, -1, NULL, 0), 0);
}

static void prints_what_people_write(void **state)
{
    (void)state;
    static const char *const cases[][2] = {
        {"supply.feed.gauge", "8 AWG"},
        {"supply.feed.length", "9 m"},
        {"supply.feed.stranding", "2 %"},
        {"nozzle.flow", "1000 gpm"},
        {"environment.temperature", "20 degC"},
        {"rotation.start", "-30 deg"},
        {"rotation.motor.inertia", "4.5e-05 kg.m2"},
        {"rotation.search", "right"},
        {"rotation.home.present", "yes"},
        {"stow.order", "rotation, elevation"},
        {"stow.cancel_at", "never"},
        {"deploy.choices.elevation", "[1.5 s, 3 s, 4.5 s, 6 s, 7.5 s, 9 s]"},
        {"rotation.gear.backward_efficiency", ""},
        {"format", "1"},
    };
    static outcome o;
    read_text(&o, FULL);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char text[128];
        slew_key_format(&o.scenario, slew_key_find(cases[i][0]), text, sizeof text);
        assert_string_equal(text, cases[i][1]);
    }
}

/* as the scenario that holds it is printed; what is no number prints as nothing */
static void a_number_prints_without_a_scenario(void **state)
{
    (void)state;
    static outcome o;
    read_text(&o, FULL);
    for (int i = 0; i < slew_key_count(); i++) {
        const slew_key_kind kind = slew_key_at(i)->kind;
        char held[512], alone[512];
        bool is_number =
            kind == SLEW_KEY_NUMBER || kind == SLEW_KEY_YES_NO || kind == SLEW_KEY_CHOICE;
        slew_key_format(&o.scenario, i, held, sizeof held);
        int length = slew_key_format_number(i, slew_scenario_get_number(&o.scenario, i), alone,
                                            sizeof alone);
        assert_string_equal(alone, is_number ? held : "");
        assert_int_equal(length, (int)strlen(alone));
    }
    assert_int_equal(slew_key_format_number(-1, 1.0, NULL, 0), 0);
}

/* ---- the nearest key ---- */

static void a_misspelt_path_finds_its_key(void **state)
{
    (void)state;
    static const char *const cases[][2] = {
        {"supply.feed.lenght", "supply.feed.length"},
        {"supply.feed.guage", "supply.feed.gauge"},
        {"suply.feed.length", "supply.feed.length"},
        {"rotation.moter.no_load_speed", "rotation.motor.no_load_speed"},
        {"supply.length", "supply.feed.length"},
        {"elevation.gear.eficiency", "elevation.gear.efficiency"},
        {"titel", "title"},
        {"stow.cancel", "stow.cancel_at"},
        {"main.voltage", "supply.main.voltage"},
        {"motor.inertia", "rotation.motor.inertia"},
        {"supply.main.volts", "supply.main.voltage"},
        {"center_of_mass", NULL},
        {"supply.feed.xyz", NULL},
        {"", NULL},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        int key = slew_key_nearest(cases[i][0]);
        if (cases[i][1] == NULL)
            assert_int_equal(key, -1);
        else
            assert_string_equal(key < 0 ? "none" : slew_key_at(key)->path, cases[i][1]);
    }
    char endless[4096];
    memset(endless, 'a', sizeof endless - 1);
    endless[sizeof endless - 1] = '\0';
    assert_int_equal(slew_key_nearest(endless), -1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_path_is_found_at_its_own_index),
        cmocka_unit_test(no_key_is_a_group_and_groups_stand_together),
        cmocka_unit_test(every_number_has_a_quantity_and_a_unit_of_it),
        cmocka_unit_test(a_choice_has_a_value_for_each_word),
        cmocka_unit_test(conditions_are_layered_and_the_rest_is_not),
        cmocka_unit_test(defaults_are_what_a_reader_makes_of_their_text),
        cmocka_unit_test(a_fresh_scenario_holds_zero_for_none_and_nan_for_required),
        cmocka_unit_test(the_defaults_are_those_of_the_format),
        cmocka_unit_test(every_example_is_accepted),
        cmocka_unit_test(examples_of_structures_are_read_in_a_file),
        cmocka_unit_test(set_number_reaches_every_field_and_only_it),
        cmocka_unit_test(set_number_refuses_what_is_out_of_range),
        cmocka_unit_test(what_is_printed_is_read_back),
        cmocka_unit_test(format_needs_no_room_to_tell_its_length),
        cmocka_unit_test(prints_what_people_write),
        cmocka_unit_test(a_number_prints_without_a_scenario),
        cmocka_unit_test(a_misspelt_path_finds_its_key),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
