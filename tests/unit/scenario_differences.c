/* scenario_differences.c - which keys differ between scenarios, on which occasion, in what words.
 */
#include <math.h>

#include "scenario_text.h"

#include "slewtime/differences.h"

enum { MOST = 8, TEXT = 64 };

static outcome a, b, c;

static void set(outcome *o, slew_layer_id layer, const char *path, const char *value)
{
    const slew_error_sink none = {0};
    assert_int_equal(slew_scenario_set(&o->scenario, layer, path, value, none), SLEW_OK);
}

static int enter(void **state)
{
    (void)state;
    read_text(&a, FULL);
    read_text(&b, FULL);
    read_text(&c, FULL);
    return a.status == SLEW_OK ? 0 : -1;
}

static int compare(slew_difference list[MOST])
{
    const slew_scenario *const scenarios[] = {&a.scenario, &b.scenario, &c.scenario};
    return slew_differences(scenarios, 3, list, MOST);
}

static void is(slew_difference difference, const char *path, slew_layer_id layer)
{
    assert_string_equal(slew_key_at(difference.key)->path, path);
    assert_int_equal(difference.layer, layer);
}

static void reads(const outcome *o, slew_difference difference, const char *expected)
{
    char text[TEXT];
    int length = slew_difference_format(&o->scenario, difference, text, sizeof text);
    assert_string_equal(text, expected);
    assert_int_equal(length, strlen(expected));
}

static void equal_scenarios_do_not_differ(void **state)
{
    (void)state;
    slew_difference list[MOST];
    const slew_scenario *alone = &a.scenario;
    assert_int_equal(compare(list), 0);
    assert_int_equal(slew_differences(&alone, 1, list, MOST), 0);
    assert_int_equal(slew_differences(NULL, 0, list, MOST), 0);
}

static void a_key_of_the_file_is_told_once_with_its_unit(void **state)
{
    (void)state;
    slew_difference list[MOST];
    set(&b, SLEW_LAYER_FILE, "supply.feed.length", "1200 cm");
    set(&c, SLEW_LAYER_FILE, "elevation.search", "up");
    assert_int_equal(compare(list), 2);
    is(list[0], "supply.feed.length", SLEW_LAYER_FILE);
    reads(&a, list[0], "9 m");
    reads(&b, list[0], "12 m");
    is(list[1], "elevation.search", SLEW_LAYER_FILE);
    reads(&a, list[1], "down");
    reads(&c, list[1], "up");
}

/* the third one alone is enough, and of the first it need not be the value that is unlike */
static void every_scenario_counts(void **state)
{
    (void)state;
    slew_difference list[MOST];
    set(&c, SLEW_LAYER_FILE, "stow.tolerance", "3 deg");
    assert_int_equal(compare(list), 1);
    is(list[0], "stow.tolerance", SLEW_LAYER_FILE);
    reads(&c, list[0], "3 deg");
}

static void a_layer_is_told_by_its_occasion(void **state)
{
    (void)state;
    slew_difference list[MOST];
    set(&b, SLEW_LAYER_TODAY, "environment.temperature", "5 degC");
    assert_int_equal(compare(list), 1); /* the deploy has what today has */
    is(list[0], "environment.temperature", SLEW_LAYER_TODAY);
    reads(&a, list[0], "20 degC");
    reads(&b, list[0], "5 degC");
    set(&c, SLEW_LAYER_DEPLOY_DAY, "environment.temperature", "-5 degC");
    set(&c, SLEW_LAYER_TEACH, "environment.temperature", "25 degC");
    assert_int_equal(compare(list), 3);
    is(list[0], "environment.temperature", SLEW_LAYER_TEACH);
    reads(&b, list[0], "20 degC");
    reads(&c, list[0], "25 degC");
    is(list[1], "environment.temperature", SLEW_LAYER_TODAY);
    reads(&c, list[1], "20 degC");
    is(list[2], "environment.temperature", SLEW_LAYER_DEPLOY_DAY);
    reads(&b, list[2], "5 degC");
    reads(&c, list[2], "-5 degC");
}

static void a_layer_that_changes_nothing_is_no_difference(void **state)
{
    (void)state;
    slew_difference list[MOST];
    set(&b, SLEW_LAYER_TODAY, "supply.feed.length", "9 m");
    assert_int_equal(compare(list), 0);
    /* FULL teaches at 12.6 V: what the file has instead counts on the other occasions alone */
    set(&b, SLEW_LAYER_FILE, "supply.main.voltage", "13 V");
    assert_int_equal(compare(list), 1);
    is(list[0], "supply.main.voltage", SLEW_LAYER_TODAY);
    reads(&a, list[0], "13.4 V");
    reads(&b, list[0], "13 V");
}

/* defaults that follow from other keys are values too; a size that is not used is none */
static void derived_defaults_and_missing_values(void **state)
{
    (void)state;
    slew_difference list[MOST];
    set(&b, SLEW_LAYER_FILE, "supply.feed.area", "10 mm2");
    set(&b, SLEW_LAYER_FILE, "elevation.gear.efficiency", "50 %");
    assert_int_equal(compare(list), 4);
    is(list[0], "supply.feed.gauge", SLEW_LAYER_FILE);
    reads(&a, list[0], "8 AWG");
    reads(&b, list[0], "");
    is(list[1], "supply.feed.area", SLEW_LAYER_FILE);
    reads(&a, list[1], "");
    reads(&b, list[1], "10 mm2");
    is(list[2], "elevation.gear.efficiency", SLEW_LAYER_FILE);
    is(list[3], "elevation.gear.backward_efficiency", SLEW_LAYER_FILE);
    reads(&b, list[3], "0 %"); /* 2 - 1/0.5 */
}

/* another unit, or another rounding in its last bits, is no other value */
static void what_prints_alike_is_alike(void **state)
{
    (void)state;
    slew_difference list[MOST];
    set(&b, SLEW_LAYER_FILE, "environment.temperature", "68 degF");
    c.scenario.setup.supply.feed.length *= 1 + 1e-13;
    assert_true(c.scenario.setup.supply.feed.length != a.scenario.setup.supply.feed.length);
    assert_int_equal(compare(list), 0);
}

static void more_than_there_is_room_for_are_counted(void **state)
{
    (void)state;
    slew_difference list[2] = {{.key = -1}, {.key = -1}};
    const slew_scenario *const two[] = {&a.scenario, &b.scenario};
    set(&b, SLEW_LAYER_FILE, "supply.feed.length", "12 m");
    set(&b, SLEW_LAYER_FILE, "stow.tolerance", "3 deg");
    assert_int_equal(slew_differences(two, 2, list, 1), 2);
    is(list[0], "supply.feed.length", SLEW_LAYER_FILE);
    assert_int_equal(list[1].key, -1);
    assert_int_equal(slew_differences(two, 2, NULL, 0), 2);
}

/* ---- keep-out boxes ---- */

static void path_is(slew_difference difference, const char *expected)
{
    char text[TEXT];
    assert_int_equal(slew_difference_path(difference, text, sizeof text), strlen(expected));
    assert_string_equal(text, expected);
}

static slew_keepout_box *add_box(outcome *o, const char *name)
{
    slew_keepout *keepout = &o->scenario.keepout;
    slew_keepout_box *box = &keepout->box[keepout->count++];
    *box = keepout->box[0];
    snprintf(box->name, sizeof box->name, "%s", name);
    return box;
}

static void a_box_is_told_by_name_and_axis(void **state)
{
    (void)state;
    slew_difference list[MOST];
    b.scenario.keepout.box[0].axis[SLEW_ELEVATION].high = 0;
    set(&c, SLEW_LAYER_TODAY, "environment.temperature", "5 degC");
    assert_int_equal(compare(list), 2); /* keys first */
    path_is(list[0], "today.environment.temperature");
    path_is(list[1], "keepout.elevation (light mast)");
    assert_int_equal(list[1].key, -1);
    reads(&a, list[1], "-30 to -19 deg");
    reads(&b, list[1], "-30 to 0 deg");
}

static void a_box_that_only_some_have(void **state)
{
    (void)state;
    slew_difference list[MOST];
    add_box(&c, "crane")->axis[SLEW_ELEVATION] = (slew_range){-INFINITY, INFINITY};
    assert_int_equal(compare(list), 2);
    path_is(list[0], "keepout.rotation (crane)");
    reads(&a, list[0], "");
    reads(&c, list[0], "-25 to 25 deg");
    path_is(list[1], "keepout.elevation (crane)");
    reads(&c, list[1], "all");
}

/* two of one name: the second of each scenario belong together */
static void boxes_of_one_name_keep_their_order(void **state)
{
    (void)state;
    slew_difference list[MOST];
    add_box(&a, "light mast");
    add_box(&b, "light mast");
    add_box(&c, "light mast")->axis[SLEW_ROTATION].low = 0;
    assert_int_equal(compare(list), 1);
    path_is(list[0], "keepout.rotation (light mast)");
    assert_int_equal(list[0].nth, 1);
    reads(&b, list[0], "-25 to 25 deg");
    reads(&c, list[0], "0 to 25 deg");
}

/* the title says nothing to the machine */
static void the_title_is_no_difference(void **state)
{
    (void)state;
    slew_difference list[MOST];
    set(&b, SLEW_LAYER_FILE, "title", "another one");
    assert_int_equal(compare(list), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup(equal_scenarios_do_not_differ, enter),
        cmocka_unit_test_setup(a_key_of_the_file_is_told_once_with_its_unit, enter),
        cmocka_unit_test_setup(every_scenario_counts, enter),
        cmocka_unit_test_setup(a_layer_is_told_by_its_occasion, enter),
        cmocka_unit_test_setup(a_layer_that_changes_nothing_is_no_difference, enter),
        cmocka_unit_test_setup(derived_defaults_and_missing_values, enter),
        cmocka_unit_test_setup(what_prints_alike_is_alike, enter),
        cmocka_unit_test_setup(more_than_there_is_room_for_are_counted, enter),
        cmocka_unit_test_setup(a_box_is_told_by_name_and_axis, enter),
        cmocka_unit_test_setup(a_box_that_only_some_have, enter),
        cmocka_unit_test_setup(boxes_of_one_name_keep_their_order, enter),
        cmocka_unit_test_setup(the_title_is_no_difference, enter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
