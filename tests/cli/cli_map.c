/*
 * cli_map.c - `slewtime map` as text, JSON, CSV and picture, and what it refuses.
 */
#include "document.h"

#define VOLTS "today.supply.main.voltage=9V:15V:20"
#define POINT "stow.point.elevation=-20deg:-10deg:10"

static void line_tells_from_to_and_outcome(void **state)
{
    (void)state;
    outcome o = TOOL("map", "truck.yaml", "--vary", VOLTS);
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    assert_int_equal(strncmp(o.out, "Trouble-free from ", 18), 0);
    has(o.out, "\n  over        battery voltage today, V: 9 to 15\n");
    has(o.out, "today.supply.main.voltage  9 to 15 V in 20 steps");
    has(o.out, "boundaries  to 0.0006 V");
    has(o.out, "all is well");
    char *end = strstr(o.out, "Simulated: it does not replace a test on the truck.\n\n  varies  ");
    assert_non_null(end);
    *end = '\0';
    has_not(o.out, "supply.");
    free_outcome(&o);
}

static void map_tells_shares_and_reasons(void **state)
{
    (void)state;
    outcome o = TOOL("map", "truck.yaml", "--vary", POINT, "--vary", VOLTS);
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    has(o.out, "share, %");
    has(o.out, "can't be taught");
    has(o.out, "because: stow point, elevation: ");
    has(o.out, "% of this map is trouble-free (area of the map, not a probability)");
    has(o.out, "Looked into ");
    has(o.out, " cells whose corners agree: ");
    free_outcome(&o);
}

static void trouble_on_the_map_comes_with_a_caution(void **state)
{
    (void)state;
    outcome o = TOOL("map", "truck.yaml", "--vary", VOLTS, "--today", "elevation.home.present=no");
    has(o.out, "Caution: some runs fault, jam or enter a keep-out zone");
    free_outcome(&o);
    o = TOOL("map", "truck.yaml", "--vary", "today.supply.main.voltage=12.9V:13.1V:2");
    has_not(o.out, "Caution:");
    free_outcome(&o);
}

static void json_of_a_map_has_the_grid_and_its_legend(void **state)
{
    (void)state;
    outcome o = TOOL("map", "truck.yaml", "--vary", POINT, "--vary", VOLTS, "--json");
    json_t *whole = json_of(&o);
    double sum = 0;
    assert_non_null(whole);
    json_t *grid = json_object_get(whole, "grid"), *legend = json_object_get(whole, "legend");
    assert_int_equal(json_array_size(grid), 21);
    assert_true(json_integer_value(json_object_get(whole, "looked_into")) > 0);
    assert_true(json_is_real(json_object_get(json_object_get(whole, "found_different"), "share")));
    assert_int_equal(json_array_size(json_array_get(grid, 0)), 11);
    for (size_t i = 0; i < json_array_size(legend); i++) {
        json_t *row = json_array_get(legend, i);
        assert_int_equal(json_integer_value(json_object_get(row, "code")), i);
        sum += json_real_value(json_object_get(row, "share"));
    }
    assert_true(sum > 0.999 && sum < 1.001);
    json_t *second = json_array_get(json_object_get(whole, "axes"), 1);
    assert_string_equal(json_string_value(json_object_get(second, "unit")), "V");
    assert_string_equal(json_string_value(json_object_get(second, "key")),
                        "today.supply.main.voltage");
    json_decref(whole);
    free_outcome(&o);
}

static void json_of_a_line_has_its_intervals(void **state)
{
    (void)state;
    outcome o = TOOL("map", "truck.yaml", "--vary", VOLTS, "--json");
    json_t *whole = json_of(&o);
    json_t *first = json_array_get(json_object_get(whole, "intervals"), 0);
    assert_true(json_real_value(json_object_get(first, "from")) == 9.0);
    assert_true(json_is_string(json_object_get(first, "outcome")));
    assert_int_equal(json_array_size(json_object_get(whole, "grid")), 21);
    json_decref(whole);
    free_outcome(&o);
}

static void csv_has_a_row_for_each_point(void **state)
{
    (void)state;
    outcome line = TOOL("map", "truck.yaml", "--vary", VOLTS, "--csv");
    outcome map = TOOL("map", "truck.yaml", "--vary", POINT, "--vary", VOLTS, "--csv");
    assert_int_equal(lines_of(line.out), 1 + 21);
    assert_int_equal(lines_of(map.out), 1 + 11 * 21);
    has(map.out, "stow.point.elevation_deg,today.supply.main.voltage_V,outcome,axis,rotation_deg,"
                 "elevation_deg,stowed_rotation_deg,stowed_elevation_deg,off_deg,past,scenario\n"
                 "-20,9,untaught,");
    free_outcome(&line);
    free_outcome(&map);
}

static void temperature_is_absolute(void **state)
{
    (void)state;
    outcome o =
        TOOL("map", "truck.yaml", "--vary", "today.environment.temperature=273.15K:40degC:4");
    assert_int_equal(o.code, 0);
    has(o.out, "0 to 40 degC in 4 steps");
    free_outcome(&o);
}

static void same_numbers_for_any_number_of_threads(void **state)
{
    (void)state;
    outcome one =
        TOOL("map", "truck.yaml", "--vary", POINT, "--vary", VOLTS, "--threads", "1", "--csv");
    outcome two =
        TOOL("map", "truck.yaml", "--vary", POINT, "--vary", VOLTS, "--threads", "2", "--csv");
    assert_string_equal(one.out, two.out);
    free_outcome(&one);
    free_outcome(&two);
}

static void pictures_are_drawn(void **state)
{
    (void)state;
    outcome o = TOOL("map", "truck.yaml", "--vary", POINT, "--vary", VOLTS, "--plot", "map.png");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    is_png("map.png");
    free_outcome(&o);
    o = TOOL("map", "truck.yaml", "--vary", VOLTS, "--plot", "line.png");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    is_png("line.png");
    free_outcome(&o);
    o = TOOL("map", "truck.yaml", "--vary", POINT, "--vary", VOLTS, "--plot", "-");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    free_outcome(&o);
}

static void hidden_key_is_warned_about(void **state)
{
    (void)state;
    outcome o = TOOL("map", "truck.yaml", "--vary", "supply.main.voltage=9V:15V:4", "--today",
                     "supply.main.voltage=13V");
    assert_int_equal(o.code, 0);
    has(o.err, "today says supply.main.voltage again");
    free_outcome(&o);
}

static void what_it_refuses(void **state)
{
    (void)state;
    REFUSES(2, SAYS("what to vary", "--vary"), "map", "truck.yaml");
    REFUSES(2, SAYS("given 3 times"), "map", "truck.yaml", "--vary", VOLTS, "--vary", POINT,
            "--vary", "elevation.start=0deg:10deg");
    REFUSES(2, SAYS("varied twice"), "map", "truck.yaml", "--vary", VOLTS, "--vary", VOLTS);
    REFUSES(2, SAYS("--json and --csv"), "map", "truck.yaml", "--vary", VOLTS, "--json", "--csv");
    REFUSES(2, SAYS("unknown", "supply.main.voltage"), "map", "truck.yaml", "--vary",
            "today.supply.main.voltag=9V:15V");
    REFUSES(2, SAYS("stow.point.elevation"), "map", "truck.yaml", "--vary",
            "today.stow.point.elevation=-20deg:-10deg");
    REFUSES(2, SAYS("not a number"), "map", "truck.yaml", "--vary",
            "today.rotation.home.present=no:yes");
    REFUSES(2, SAYS("not a number"), "map", "truck.yaml", "--vary", "title=a:b");
    REFUSES(2, SAYS("wrong way round"), "map", "truck.yaml", "--vary",
            "today.supply.main.voltage=15V:9V");
    REFUSES(2, SAYS("empty"), "map", "truck.yaml", "--vary", "today.supply.main.voltage=9V:9V");
    REFUSES(2, SAYS("supply.main.voltage", "9 mm2"), "map", "truck.yaml", "--vary",
            "today.supply.main.voltage=9 mm2:15V");
    REFUSES(2, SAYS("out of range"), "map", "truck.yaml", "--vary",
            "today.elevation.gear.efficiency=20%:200%");
    REFUSES(2, SAYS("finite"), "map", "truck.yaml", "--vary", "today.stow.cancel_at=1s:never");
    REFUSES(2, SAYS("2 to 2000"), "map", "truck.yaml", "--vary",
            "today.supply.main.voltage=9V:15V:1");
    REFUSES(2, SAYS("2 to 2000"), "map", "truck.yaml", "--vary",
            "today.supply.main.voltage=9V:15V:2001");
    REFUSES(2, SAYS("PATH=FROM:TO"), "map", "truck.yaml", "--vary",
            "today.supply.main.voltage=9V:15V:6:7");
    REFUSES(2, SAYS("PATH=FROM:TO"), "map", "truck.yaml", "--vary", "today.supply.main.voltage");
    REFUSES(2, SAYS("PATH=FROM:TO"), "map", "truck.yaml", "--vary", "supply.main.voltage=9V");
    REFUSES(2, SAYS("in between"), "map", "truck.yaml", "--vary", "supply.system=12V:24V");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(line_tells_from_to_and_outcome),
        cmocka_unit_test(map_tells_shares_and_reasons),
        cmocka_unit_test(trouble_on_the_map_comes_with_a_caution),
        cmocka_unit_test(json_of_a_map_has_the_grid_and_its_legend),
        cmocka_unit_test(json_of_a_line_has_its_intervals),
        cmocka_unit_test(csv_has_a_row_for_each_point),
        cmocka_unit_test(temperature_is_absolute),
        cmocka_unit_test(same_numbers_for_any_number_of_threads),
        cmocka_unit_test(pictures_are_drawn),
        cmocka_unit_test(hidden_key_is_warned_about),
        cmocka_unit_test(what_it_refuses),
    };
    return cmocka_run_group_tests(tests, enter_directory, leave_directory);
}
