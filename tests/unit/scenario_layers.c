/* scenario_layers.c - what holds on which occasion, and settings from outside the file. */
#include <math.h>

#include "scenario_text.h"

static outcome o;

static slew_setup on(slew_occasion occasion)
{
    slew_setup setup;
    slew_scenario_resolve(&o.scenario, occasion, &setup);
    return setup;
}

static void read_layers(const char *today, const char *deploy_day)
{
    char layers[1024];
    snprintf(layers, sizeof layers, "today: %s\ndeploy_day: %s\n", today, deploy_day);
    char *text = edit("today: {}\ndeploy_day: {}\n", layers);
    read_text(&o, text);
    free(text);
}

/* ---- occasions ---- */

static void each_occasion_has_its_own_stack(void **state)
{
    (void)state;
    read_layers("{supply.main.voltage: 12 V, environment.temperature: 5 degC}",
                "{environment.temperature: -5 degC, stow.cancel_at: 3 s}");
    assert_int_equal(o.status, SLEW_OK);
    slew_setup teach = on(SLEW_OCCASION_TEACH), stow = on(SLEW_OCCASION_STOW);
    slew_setup deploy = on(SLEW_OCCASION_DEPLOY);
    assert_true(o.scenario.setup.supply.main.voltage == 13.4);
    assert_true(teach.supply.main.voltage == 12.6);
    assert_true(stow.supply.main.voltage == 12 && deploy.supply.main.voltage == 12);
    assert_true(teach.environment.temperature == 293.15);
    assert_true(stow.environment.temperature == 278.15);
    assert_true(deploy.environment.temperature == 268.15);
    assert_true(isinf(teach.stow_cancel_at) && isinf(stow.stow_cancel_at));
    assert_true(deploy.stow_cancel_at == 3);
}

static void layers_hold_words_and_yes_no(void **state)
{
    (void)state;
    read_layers("{rotation: {home: {present: no}, search: left}, controller.stop: coast}", "{}");
    assert_int_equal(o.status, SLEW_OK);
    slew_setup stow = on(SLEW_OCCASION_STOW), teach = on(SLEW_OCCASION_TEACH);
    assert_false(stow.axis[SLEW_ROTATION].home.present);
    assert_int_equal(stow.axis[SLEW_ROTATION].search, -1);
    assert_int_equal(stow.controller.stop, SLEW_COAST);
    assert_true(teach.axis[SLEW_ROTATION].home.present);
    assert_int_equal(teach.axis[SLEW_ROTATION].search, +1);
}

static void a_size_in_a_layer_replaces_the_files(void **state)
{
    (void)state;
    read_layers("{supply.feed.area: 3 mm2}", "{supply.feed.per_length: 5 ohm/km}");
    assert_int_equal(o.status, SLEW_OK);
    slew_feed teach = on(SLEW_OCCASION_TEACH).supply.feed;
    slew_feed stow = on(SLEW_OCCASION_STOW).supply.feed;
    slew_feed deploy = on(SLEW_OCCASION_DEPLOY).supply.feed;
    assert_true(teach.conductor == SLEW_CONDUCTOR_GAUGE && teach.gauge == 8);
    assert_true(stow.conductor == SLEW_CONDUCTOR_AREA && isnan(stow.gauge));
    assert_true(fabs(stow.area - 3e-6) < 1e-20);
    assert_true(deploy.conductor == SLEW_CONDUCTOR_PER_LENGTH && isnan(deploy.area));
    assert_true(deploy.per_length == 0.005);
}

/* ---- defaults that depend on other keys ---- */

static void floor_and_brownout_double_at_24_volts(void **state)
{
    (void)state;
    static const char *const old = "  floor: 10.5 V\n";
    char *text = edit(old, "");
    char *at = strstr(text, "  brownout: {voltage: 9 V, dwell: 50 ms}");
    memset(at, ' ', strlen("  brownout: {voltage: 9 V, dwell: 50 ms}"));
    read_text(&o, text);
    free(text);
    assert_int_equal(o.status, SLEW_OK);
    slew_setup s = on(SLEW_OCCASION_STOW);
    assert_true(s.supply.floor == 10.5 && s.controller.brownout_voltage == 9);
    int system = slew_key_find("supply.system");
    assert_int_equal(slew_scenario_set_number(&o.scenario, SLEW_LAYER_TODAY, system, 24), SLEW_OK);
    s = on(SLEW_OCCASION_STOW);
    assert_true(s.supply.floor == 22 && s.controller.brownout_voltage == 18);
    s = on(SLEW_OCCASION_TEACH);
    assert_true(s.supply.floor == 10.5 && s.controller.brownout_voltage == 9);
}

static void given_ones_stay_as_they_are(void **state)
{
    (void)state;
    read_layers("{supply.system: 24 V}", "{}");
    slew_setup s = on(SLEW_OCCASION_STOW);
    assert_true(s.supply.floor == 10.5 && s.controller.brownout_voltage == 9);
}

static void backward_efficiency_follows_the_forward_one(void **state)
{
    (void)state;
    read_layers("{rotation.gear.efficiency: 80 %, elevation.gear.backward_efficiency: -10 %}",
                "{}");
    slew_setup teach = on(SLEW_OCCASION_TEACH), stow = on(SLEW_OCCASION_STOW);
    /* 2 - 1/0.36 = -0.7777..., 2 - 1/0.8 = 0.75 */
    assert_true(fabs(teach.axis[SLEW_ROTATION].gear.backward_efficiency + 7.0 / 9) < 1e-15);
    assert_true(fabs(stow.axis[SLEW_ROTATION].gear.backward_efficiency - 0.75) < 1e-15);
    assert_true(stow.axis[SLEW_ELEVATION].gear.backward_efficiency == -0.1);
}

/* ---- what goes wrong on one occasion only ---- */

static void an_occasion_can_break_what_the_file_keeps(void **state)
{
    (void)state;
    read_layers("{rotation.start: 175 deg}", "{}");
    assert_int_equal(o.errors.count, 1);
    assert_string_equal(o.errors.error[0].key, "rotation.start");
    assert_string_equal(o.errors.error[0].message,
                        "rotation.start (175 deg) is beyond rotation.stops.high (170 deg) today");
    assert_int_equal(o.errors.error[0].line, 95);
    assert_int_equal(o.errors.error[0].column, 25);
    read_layers("{elevation.stops.high: 40 deg}", "{}");
    assert_int_equal(o.errors.count, 1);
    assert_string_equal(o.errors.error[0].key, "elevation.stops.high");
    read_layers("{elevation.start: 41 deg}", "{elevation.stops.high: 40 deg}");
    assert_int_equal(o.errors.count, 1);
    assert_non_null(strstr(o.errors.error[0].message, "when it deploys"));
}

/* on a stop, and with no hysteresis at all, is still right */
static void the_bounds_themselves_are_allowed(void **state)
{
    (void)state;
    read_layers("{rotation.start: 170 deg, elevation.start: -20 deg, rotation.home.release: 3 deg}",
                "{rotation.start: -170 deg, elevation.start: 90 deg}");
    assert_int_equal(o.status, SLEW_OK);
    static const slew_assignment some[] = {
        {SLEW_LAYER_FILE, "rotation.start=170 deg", "--set", false},
        {SLEW_LAYER_FILE, "elevation.start=90 deg", "--set", false},
        {SLEW_LAYER_FILE, "deploy.target.rotation.low=6 deg", "--set", false},
    };
    read_with(&o, FULL, strlen(FULL), some, 3);
    assert_int_equal(o.status, SLEW_OK);
}

static void one_fault_in_the_file_is_told_once(void **state)
{
    (void)state;
    char *text = edit("  start: -30 deg\n", "  start: -175 deg\n");
    char *today = strstr(text, "today: {}");
    memcpy(today, "today:   ", 9);
    read_text(&o, text);
    free(text);
    assert_int_equal(o.errors.count, 1);
}

/* a point beyond today's stop is a fault of today, not of the teaching */
static void the_point_is_held_against_the_stops_while_teaching(void **state)
{
    (void)state;
    read_layers("{elevation.stops.low: -10 deg}", "{}");
    assert_int_equal(o.errors.count, 0);
    char *text = edit("nozzle.flowing: no}", "nozzle.flowing: no, elevation.stops.low: -10 deg}");
    read_text(&o, text);
    free(text);
    assert_int_equal(o.errors.count, 1);
    assert_string_equal(o.errors.error[0].key, "elevation.stops.low");
    assert_non_null(strstr(o.errors.error[0].message, "while teaching"));
}

/* ---- settings from outside ---- */

static void assign(const slew_assignment *assignments, size_t count)
{
    read_with(&o, FULL, strlen(FULL), assignments, count);
}

static void assignments_write_their_layer(void **state)
{
    (void)state;
    static const slew_assignment some[] = {
        {SLEW_LAYER_FILE, "supply.feed.length=30ft", "--set", false},
        {SLEW_LAYER_FILE, "supply.feed.length = 9.5 m", "--set", false},
        {SLEW_LAYER_TODAY, "rotation.home.present=no", "--today", false},
        {SLEW_LAYER_DEPLOY_DAY, "environment.temperature=-5°C", "--deploy-day", false},
        {SLEW_LAYER_TEACH, "supply.main.voltage=12 V", "--teach", false},
        {SLEW_LAYER_FILE, "title=Another = title", "--set", false},
        {SLEW_LAYER_FILE, "deploy.choices.elevation=[1 s, 2 s]", "--set", false},
        {SLEW_LAYER_FILE, "deploy.choices.rotation=3 s, 4 s, 5 s", "--set", false},
        {SLEW_LAYER_FILE, "stow.order=together", "--set", false},
    };
    assign(some, sizeof some / sizeof some[0]);
    assert_int_equal(o.status, SLEW_OK);
    assert_int_equal(o.warnings.count, 0);
    assert_true(o.scenario.setup.supply.feed.length == 9.5);
    assert_false(on(SLEW_OCCASION_STOW).axis[SLEW_ROTATION].home.present);
    assert_true(on(SLEW_OCCASION_DEPLOY).environment.temperature == 268.15);
    assert_true(on(SLEW_OCCASION_TEACH).supply.main.voltage == 12);
    assert_string_equal(o.scenario.title, "Another = title");
    assert_int_equal(o.scenario.deploy.choice_count[SLEW_ELEVATION], 2);
    assert_true(o.scenario.deploy.choices[SLEW_ELEVATION][1] == 2);
    assert_int_equal(o.scenario.deploy.choice_count[SLEW_ROTATION], 3);
    assert_int_equal(o.scenario.stow.order, SLEW_TOGETHER);
}

static void an_assigned_size_replaces_the_files(void **state)
{
    (void)state;
    static const slew_assignment one[] = {
        {SLEW_LAYER_FILE, "supply.feed.area=10mm2", "--set", false}};
    assign(one, 1);
    assert_int_equal(o.status, SLEW_OK);
    assert_int_equal(o.scenario.setup.supply.feed.conductor, SLEW_CONDUCTOR_AREA);
    assert_true(isnan(o.scenario.setup.supply.feed.gauge));
}

static void an_assignment_can_supply_what_the_file_lacks(void **state)
{
    (void)state;
    static const slew_assignment one[] = {
        {SLEW_LAYER_FILE, "supply.feed.length=9m", "--set", false}};
    char *text = edit("    length: 9 m\n", "");
    read_with(&o, text, strlen(text), one, 1);
    free(text);
    assert_int_equal(o.status, SLEW_OK);
}

static void a_hidden_set_is_warned_of(void **state)
{
    (void)state;
    static const slew_assignment some[] = {
        {SLEW_LAYER_TODAY, "supply.main.voltage=12.2 V", "--today", false},
        {SLEW_LAYER_FILE, "supply.main.voltage=13 V", "--set", false},
        {SLEW_LAYER_DEPLOY_DAY, "supply.feed.area=3 mm2", "--deploy-day", false},
        {SLEW_LAYER_FILE, "supply.feed.gauge=6 AWG", "--set", false},
    };
    assign(some, 4);
    assert_int_equal(o.status, SLEW_OK);
    assert_int_equal(o.warnings.count, 3);
    static const char *const layer[] = {"teach", "today", "deploy_day"};
    for (int i = 0; i < 3; i++) {
        const slew_error *w = &o.warnings.error[i];
        assert_int_equal(w->status, SLEW_OK);
        assert_string_equal(w->source, "--set");
        assert_non_null(strstr(w->message, layer[i]));
        assert_string_equal(w->excerpt, some[i < 2 ? 1 : 3].text);
    }
    assert_int_equal(o.warnings.error[0].column, 21);
}

static void wrong_assignments_are_told_by_their_origin(void **state)
{
    (void)state;
    static const slew_assignment some[] = {
        {SLEW_LAYER_FILE, "supply.feed.length=9 V", "--set", false},
        {SLEW_LAYER_FILE, "supply.feed.lenght=9 m", "--set", false},
        {SLEW_LAYER_FILE, "supply.feed.length 9 m", "--set", false},
        {SLEW_LAYER_TODAY, "stow.tolerance=1 deg", "--today", false},
        {SLEW_LAYER_FILE, "supply.main=12 V", "--set", false},
        {SLEW_LAYER_FILE, "keepout=none", "--set", false},
        {SLEW_LAYER_FILE, "rotation.start=300 deg", "--set", false},
        {SLEW_LAYER_FILE, "deploy.choices.rotation=[1 s, 2 V]", "--set", false},
        {SLEW_LAYER_FILE, "elevation.home.operate=5 deg", "--set", false},
    };
    static const struct {
        int column;
        const char *key, *message;
    } expected[] = {
        {20, "supply.feed.length", "a voltage, not a length"},
        {1, "supply.feed.lenght", "unknown key"},
        {1, "", "no = between"},
        {16, "stow.tolerance", "today can't hold"},
        {1, "supply.main", "a group of keys"},
        {9, "keepout", "has no single value"},
        {16, "rotation.start", "is beyond"},
        {25, "deploy.choices.rotation", "\"2 V\": a voltage, not a time"},
        {24, "elevation.home.operate", "elevation.home.release (4 deg) is less than"},
    };
    assign(some, 9);
    assert_int_equal(o.status, SLEW_ERROR_INPUT);
    assert_int_equal(o.errors.count, 9);
    for (int i = 0; i < 9; i++) {
        const slew_error *e = &o.errors.error[i];
        if (e->column != expected[i].column || strstr(e->message, expected[i].message) == NULL)
            fail_msg("%d: %d [%s] %s", i, e->column, e->key, e->message);
        assert_string_equal(e->key, expected[i].key);
        assert_string_equal(e->source, some[i].origin);
        assert_string_equal(e->excerpt, some[i].text);
        assert_int_equal(e->line, 0);
    }
    assert_string_equal(o.errors.error[1].nearest, "supply.feed.length");
}

static void assigned(const char *text, const char *message)
{
    const slew_assignment one = {SLEW_LAYER_FILE, text, "--set", false};
    assign(&one, 1);
    assert_int_equal(o.errors.count, message != NULL);
    if (message != NULL && strstr(o.errors.error[0].message, message) == NULL)
        fail_msg("%s: %s", text, o.errors.error[0].message);
}

/* a list in brackets or without, a title on one line */
static void lists_and_titles_can_be_assigned(void **state)
{
    (void)state;
    char text[512] = "deploy.choices.rotation=[";
    assigned("deploy.choices.rotation=1 s, 2 s", NULL);
    assert_int_equal(o.scenario.deploy.choice_count[SLEW_ROTATION], 2);
    assigned("deploy.choices.rotation= [1 s,2 s , 3 s ] ", NULL);
    assert_int_equal(o.scenario.deploy.choice_count[SLEW_ROTATION], 3);
    assert_true(o.scenario.deploy.choices[SLEW_ROTATION][2] == 3);
    assigned("deploy.choices.rotation=[]", "no value");
    assigned("deploy.choices.rotation=", "an empty list");
    for (int i = 0; i <= SLEW_CHOICES_MAX; i++)
        strcat(text, "1 s,");
    assigned(text, "more than 64 choices");
    assigned(
        "deploy.choices.rotation=11111111111111111111111111111111111111111111111111111111111111"
        "1111111 s",
        "the unit is missing");
    assigned("title=one\n\ttwo", NULL);
    assert_string_equal(o.scenario.title, "one  two");
    strcpy(text, "title=");
    memset(text + 6, 'x', 256);
    text[262] = '\0';
    assigned(text, "too long a title");
    assigned(NULL, "no = between");
    const slew_assignment nowhere = {(slew_layer_id)99, "title=x", "--set", false};
    assign(&nowhere, 1);
    assert_int_equal(o.errors.count, 1);
}

/* ---- doubtful values ---- */

static int warnings_at(const char *today)
{
    read_layers(today, "{}");
    assert_int_equal(o.status, SLEW_OK);
    return o.warnings.count;
}

static void grease_in_deep_cold_is_warned_of(void **state)
{
    (void)state;
    assert_int_equal(warnings_at("{environment.temperature: -20 degC}"), 0);
    assert_int_equal(warnings_at("{environment.temperature: -20.1 degC}"), 1);
    assert_string_equal(o.warnings.error[0].key, "environment.temperature");
    assert_int_equal(o.warnings.error[0].line, 95);
    assert_int_equal(warnings_at("{environment.temperature: -30 degC, grease.viscosity_40: 50 "
                                 "mm2/s}"),
                     0);
}

/* ---- keys as numbers ---- */

static void layers_take_only_their_keys(void **state)
{
    (void)state;
    slew_scenario_init(&o.scenario);
    int count = 0;
    for (int i = 0; i < slew_key_count(); i++) {
        const slew_key *key = slew_key_at(i);
        double value = key->kind == SLEW_KEY_NUMBER ? key->low : 1;
        if (!isfinite(value))
            value = 0;
        if (key->low_open)
            value += 1;
        slew_status status = slew_scenario_set_number(&o.scenario, SLEW_LAYER_TODAY, i, value);
        assert_int_equal(status, key->layered ? SLEW_OK : SLEW_ERROR_INPUT);
        count += status == SLEW_OK;
    }
    /* the three conductor sizes take one place between them, and the magnets that of the windows */
    assert_int_equal(o.scenario.today.count, count - 2 - 2 * SLEW_AXES);
}

static void setting_again_replaces(void **state)
{
    (void)state;
    int key = slew_key_find("supply.main.voltage");
    slew_scenario_init(&o.scenario);
    for (int i = 1; i <= 1000; i++)
        assert_int_equal(slew_scenario_set_number(&o.scenario, SLEW_LAYER_TEACH, key, i), SLEW_OK);
    assert_int_equal(o.scenario.teach.count, 1);
    assert_true(o.scenario.teach.item[0].value == 1000);
    assert_true(isnan(slew_scenario_get_number(&o.scenario, key)));
}

static void check_needs_no_file(void **state)
{
    (void)state;
    static caught errors;
    slew_error_sink sink = {catch_error, &errors};
    read_text(&o, FULL);
    errors.count = 0;
    assert_int_equal(slew_scenario_check(&o.scenario, sink, (slew_error_sink){0}), SLEW_OK);
    assert_int_equal(errors.count, 0);
    o.scenario.setup.axis[SLEW_ROTATION].start = 4;
    o.scenario.setup.supply.feed.length = SLEW_NOT_GIVEN;
    o.scenario.stow.order = SLEW_ORDER_NOT_GIVEN;
    o.scenario.keepout.box[0].axis[SLEW_ROTATION].low = 3;
    assert_int_equal(slew_scenario_check(&o.scenario, sink, (slew_error_sink){0}),
                     SLEW_ERROR_INPUT);
    assert_int_equal(errors.count, 4);
    assert_string_equal(errors.error[0].key, "supply.feed.length");
    assert_string_equal(errors.error[0].source, "");
    assert_int_equal(errors.error[0].line, 0);
}

static void a_fresh_scenario_lacks_its_groups(void **state)
{
    (void)state;
    static caught errors;
    errors.count = 0;
    slew_scenario_init(&o.scenario);
    assert_int_equal(slew_scenario_check(&o.scenario, (slew_error_sink){catch_error, &errors},
                                         (slew_error_sink){0}),
                     SLEW_ERROR_INPUT);
    assert_int_equal(errors.count, 5);
    assert_string_equal(errors.error[0].key, "supply");
    assert_string_equal(errors.error[4].key, "stow");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_occasion_has_its_own_stack),
        cmocka_unit_test(layers_hold_words_and_yes_no),
        cmocka_unit_test(a_size_in_a_layer_replaces_the_files),
        cmocka_unit_test(floor_and_brownout_double_at_24_volts),
        cmocka_unit_test(given_ones_stay_as_they_are),
        cmocka_unit_test(backward_efficiency_follows_the_forward_one),
        cmocka_unit_test(an_occasion_can_break_what_the_file_keeps),
        cmocka_unit_test(the_bounds_themselves_are_allowed),
        cmocka_unit_test(one_fault_in_the_file_is_told_once),
        cmocka_unit_test(the_point_is_held_against_the_stops_while_teaching),
        cmocka_unit_test(assignments_write_their_layer),
        cmocka_unit_test(an_assigned_size_replaces_the_files),
        cmocka_unit_test(an_assignment_can_supply_what_the_file_lacks),
        cmocka_unit_test(a_hidden_set_is_warned_of),
        cmocka_unit_test(wrong_assignments_are_told_by_their_origin),
        cmocka_unit_test(lists_and_titles_can_be_assigned),
        cmocka_unit_test(grease_in_deep_cold_is_warned_of),
        cmocka_unit_test(layers_take_only_their_keys),
        cmocka_unit_test(setting_again_replaces),
        cmocka_unit_test(check_needs_no_file),
        cmocka_unit_test(a_fresh_scenario_lacks_its_groups),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
