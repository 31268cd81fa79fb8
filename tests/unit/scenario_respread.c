/* scenario_respread.c - the spread changed from outside the file, and a wrong one that nobody
 * needs.
 */
#include "scenario_text.h"

static outcome o;

static void respread(const char *text)
{
    const slew_assignment one = {.text = text, .origin = "--spread", .is_spread = true};
    read_with(&o, FULL, strlen(FULL), &one, 1);
}

static const slew_variation *find(const slew_spread *spread, const char *path)
{
    for (int i = 0; i < spread->count; i++)
        if (spread->item[i].key == slew_key_find(path))
            return &spread->item[i];
    return NULL;
}

static const slew_variation *of_day(const char *text, const char *path)
{
    respread(text);
    assert_int_equal(o.status, SLEW_OK);
    const slew_variation *v = find(&o.scenario.day, path);
    assert_non_null(v);
    return v;
}

static const char VOLTAGE[] = "supply.main.voltage";

static void short_forms_and_those_of_a_file_are_the_same(void **state)
{
    (void)state;
    const slew_variation *v = of_day("supply.main.voltage=uniform 11 V..12.5V", VOLTAGE);
    assert_true(v->distribution == SLEW_UNIFORM && v->low == 11 && v->high == 12.5);
    v = of_day("supply.main.voltage = {uniform: {low: 11 V, high: 12.5 V}}", VOLTAGE);
    assert_true(v->distribution == SLEW_UNIFORM && v->low == 11 && v->high == 12.5);
    v = of_day("supply.main.voltage=normal 13 V +- 0.2 V", VOLTAGE);
    assert_true(v->distribution == SLEW_NORMAL && v->mean == 13 && v->sd == 0.2);
    v = of_day("supply.main.voltage=triangular 11 V..13 V..14 V", VOLTAGE);
    assert_true(v->distribution == SLEW_TRIANGULAR);
    assert_true(v->low == 11 && v->mode == 13 && v->high == 14);
    v = of_day("supply.main.voltage=values 11 V, 12 V, 13 V", VOLTAGE);
    assert_true(v->distribution == SLEW_TABLE && v->count == 3 && v->value[2] == 13);
}

/* truck or day where the key stands, day if it is new */
static void a_key_stays_where_it_is(void **state)
{
    (void)state;
    read_text(&o, FULL);
    const int truck = o.scenario.truck.count, day = o.scenario.day.count;
    const char *path = slew_key_at(o.scenario.truck.item[1].key)->path;
    char text[160];
    snprintf(text, sizeof text, "%s=uniform 30 %%..35 %%", path);
    respread(text);
    assert_int_equal(o.status, SLEW_OK);
    assert_true(o.scenario.truck.count == truck && o.scenario.day.count == day);
    assert_true(find(&o.scenario.truck, path)->distribution == SLEW_UNIFORM);
    respread("supply.feed.joint_resistance=uniform 1 mohm..5 mohm");
    assert_true(o.scenario.truck.count == truck && o.scenario.day.count == day + 1);
}

static void none_takes_it_out(void **state)
{
    (void)state;
    static const char end[] =
        "  correlation:\n"
        "    - {between: [supply.main.voltage, environment.temperature], coefficient: 0.5}\n"
        "    - {between: [rotation.start, supply.main.voltage], coefficient: 0.1}\n"
        "    - {between: [environment.temperature, rotation.start], coefficient: 0.25}\n";
    const slew_assignment one = {
        .text = "supply.main.voltage=none", .origin = "--spread", .is_spread = true};
    char text[8000];
    snprintf(text, sizeof text, "%s%s", FULL, end);
    read_text(&o, text);
    assert_int_equal(o.status, SLEW_OK);
    assert_int_equal(o.scenario.correlation.count, 3);
    const int day = o.scenario.day.count;
    read_with(&o, text, strlen(text), &one, 1);
    assert_int_equal(o.status, SLEW_OK);
    assert_int_equal(o.scenario.day.count, day - 1);
    assert_null(find(&o.scenario.day, VOLTAGE));
    assert_int_equal(o.scenario.correlation.count, 1); /* the one that it has no part in */
    assert_true(o.scenario.correlation.item[0].coefficient == 0.25);
}

static void refused(const char *text, const char *message, int column)
{
    respread(text);
    assert_int_equal(o.status, SLEW_ERROR_INPUT);
    assert_int_equal(o.errors.count, 1);
    const slew_error *e = &o.errors.error[0];
    assert_string_equal(e->source, "--spread");
    assert_string_equal(e->excerpt, text);
    assert_int_equal(e->column, column);
    if (strstr(e->message, message) == NULL)
        fail_msg("\"%s\" is not in: %s", message, e->message);
}

static void what_is_wrong_is_told_by_the_options_text(void **state)
{
    (void)state;
    refused("supply.main.voltage=uniform 11 V", "can be read", 21);
    refused("supply.main.voltage=uniform 11 V..12 V..13 V", "can be read", 21);
    refused("supply.main.voltage=13 V", "can be read", 21);
    refused("supply.main.voltage=uniformly 11 V..14 V", "can be read", 21);
    char longer[600] = "supply.main.voltage=values 13 V";
    while (strlen(longer) < sizeof longer - 10)
        strcat(longer, ", 13 V");
    respread(longer);
    assert_int_equal(o.errors.count, 1);
    assert_non_null(strstr(o.errors.error[0].message, "can be read"));
    refused("supply.shared_load=none", "does not vary", 1);
    refused("supply.main.voltage=", "can be read", 21);
    refused("supply.main.voltage={uniform: [", "can be read", 21);
    refused("supply.main.voltage={gauss: {mean: 13 V}}", "unknown key", 21);
    refused("supply.main.voltage=uniform 14 V..11 V", "low is not below high", 21);
    refused("supply.main.voltage=uniform 11 V..14 m", "not a voltage", 21);
    refused("supply.mian.voltage=none", "unknown key", 1);
    refused("supply.feed.length=none", "does not vary", 1);
    refused("stow.point.elevation=uniform 1 deg..2 deg", "from day to day", 1);
    refused("rotation.home.present=none", "only numbers", 1);
}

/* ---- a spread that is not used ---- */

static void read_unused(const char *text, bool unused)
{
    const slew_reading reading = {.errors = {catch_error, &o.errors},
                                  .warnings = {catch_error, &o.warnings},
                                  .spread_unused = unused};
    o.errors.count = o.warnings.count = 0;
    o.status =
        slew_scenario_read_memory(text, strlen(text), "scenario.yaml", &reading, &o.scenario);
}

static void a_spread_that_nobody_draws_is_warned_of(void **state)
{
    (void)state;
    static const char *const wrong[] = {
        "    supply.feed.joint_resistance: {uniform: {low: 5 mohm, high: 1 mohm}}\n",
        "    supply.feed.joint_resistance: {uniform: {low: 5 mohm}}\n",
        "    supply.feed.joint_resistanse: {uniform: {low: 1 mohm, high: 2 mohm}}\n"};
    for (int i = 0; i < 3; i++) {
        char text[8000];
        snprintf(text, sizeof text, "%s%s", FULL, wrong[i]);
        read_unused(text, false);
        assert_int_equal(o.status, SLEW_ERROR_INPUT);
        assert_int_equal(o.errors.count, 1);
        read_unused(text, true);
        assert_int_equal(o.status, SLEW_OK);
        assert_int_equal(o.errors.count, 0);
        assert_int_equal(o.warnings.count, 1);
        assert_int_equal(o.warnings.error[0].status, SLEW_OK);
        assert_true(o.warnings.error[0].line > 100);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(short_forms_and_those_of_a_file_are_the_same),
        cmocka_unit_test(a_key_stays_where_it_is),
        cmocka_unit_test(none_takes_it_out),
        cmocka_unit_test(what_is_wrong_is_told_by_the_options_text),
        cmocka_unit_test(a_spread_that_nobody_draws_is_warned_of),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
