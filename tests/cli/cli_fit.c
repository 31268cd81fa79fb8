/*
 * cli_fit.c - `slewtime fit` as text, JSON, CSV, picture and calibrated scenario, and what it
 * refuses.
 */
#include "document.h"

/* invented readings of the bench truck: about what it shows, with a later hand on the stopwatch */
static const char TIMES[] = "# invented\n"
                            "axis,direction,from,to,supply_V,seconds_s,controller_V,current_A\n"
                            "elevation,up,low_stop,high_stop,13,7.86,12.92,2.5\n"
                            "elevation,down,high_stop,low_stop,13,7.34,12.96,1.4\n"
                            "elevation,up,low_stop,high_stop,11.5,8.97,11.42,2.3\n"
                            "elevation,down,high_stop,low_stop,11.5,8.41,11.46,1.2\n"
                            "elevation,up,low_stop,home,13,2.35,,\n"
                            "elevation,down,low_stop,,13,,12.34,17.3\n";

#define SPEED      "elevation.motor.no_load_speed"
#define EFFICIENCY "elevation.gear.efficiency"
#define FIT        "fit", "truck.yaml", "times.csv"

static int enter(void **state)
{
    int code = enter_directory(state);
    if (code == 0)
        write_file("times.csv", TIMES);
    return code;
}

/* the report is there, the file and the line about it are not */
static void reports_but_does_not_write(const outcome *o, int code, const char *reason)
{
    assert_int_equal(o->code, code);
    has(o->err, reason);
    has(o->out, "Simulated: it does not replace a test on the truck.");
    assert_null(strstr(o->out, "  written "));
    assert_int_not_equal(access("no.yaml", F_OK), 0);
}

static char *contents(const char *path)
{
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    return take_all(file);
}

/* ---- answers ---- */

static void text_says_what_was_found(void **state)
{
    (void)state;
    outcome o = TOOL(FIT, "--key", SPEED, "--bias");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    has(o.out, "Bench monitor, \"invented\" for these tests\n  readings    times.csv: 6 rows, 5 "
               "times, 5 voltages, 5 currents\n");
    has(o.out, "weighted least squares");
    has(o.out, "asked       scenario ");
    has(o.out, " 1  elevation.motor.no_load_speed              3000 rpm ");
    has(o.out, " 2  stopwatch bias                                  0 s ");
    has(o.out, "   3  elevation up, low stop to high stop, 13 V");
    has(o.out, "   8  elevation down, pressed on the low stop, 13 V");
    has(o.out, "Reduced chi-square");
    has(o.out, "No standard deviations are given: 0.15 s, 0.05 V, 0.3 A are taken");
    has(o.out, "\nNext: ");
    has(o.out, ", as shares of their values.");
    has(o.out, "does not replace a test on the truck");
    free_outcome(&o);
    /* a share known to so many points, not to so many percent of itself */
    o = TOOL(FIT, "--key", SPEED, "--key", EFFICIENCY);
    has(o.out, "The 2 figures are told; the least known, elevation.gear.efficiency, to ");
    has(o.out, " points.\n");
    free_outcome(&o);
}

static double number_of(const json_t *object, const char *name)
{
    const json_t *value = json_object_get(object, name);
    assert_true(json_is_number(value));
    return json_number_value(value);
}

static void json_has_figures_readings_and_the_next_one(void **state)
{
    (void)state;
    outcome o = TOOL(FIT, "--key", SPEED, "--key", EFFICIENCY, "--bias", "--json");
    json_t *whole = json_of(&o);
    json_t *figures = json_object_get(whole, "figures");
    assert_int_equal(json_array_size(figures), 3);
    json_t *speed = json_array_get(figures, 0);
    assert_string_equal(json_string_value(json_object_get(speed, "key")), SPEED);
    assert_string_equal(json_string_value(json_object_get(speed, "unit")), "rpm");
    assert_true(number_of(speed, "scenario") == 3000);
    double value = number_of(speed, "fitted"), sd = number_of(speed, "sd");
    assert_true(value > 2000 && value < 4000 && sd > 1 && sd < 300);
    assert_true(number_of(speed, "low") < value && value < number_of(speed, "high"));
    json_t *correlation = json_object_get(whole, "correlation");
    double ab = json_number_value(json_array_get(json_array_get(correlation, 0), 1));
    assert_true(ab == json_number_value(json_array_get(json_array_get(correlation, 1), 0)));
    assert_true(ab > -1 && ab < 1);
    json_t *readings = json_object_get(whole, "readings");
    assert_int_equal(json_array_size(readings), 15);
    json_t *first = json_array_get(readings, 0);
    assert_int_equal(json_integer_value(json_object_get(first, "line")), 3);
    assert_true(number_of(first, "measured") == 7.86 && number_of(first, "sd") == 0.15);
    assert_true(number_of(whole, "degrees_of_freedom") == 12);
    json_t *next = json_object_get(whole, "next"), *row = json_object_get(next, "row");
    assert_true(number_of(next, "largest_sd_share_after") < number_of(next, "largest_sd_share"));
    assert_non_null(json_object_get(row, "supply_V"));
    json_decref(whole);
    free_outcome(&o);
}

static void drives_to_a_stop_come_with_a_caution(void **state)
{
    (void)state;
    outcome o = TOOL(FIT, "--key", SPEED);
    has(o.out, "Caution: these readings drive to a hard stop: release there. Before a try");
    free_outcome(&o);
}

static void a_ratio_has_an_empty_unit(void **state)
{
    (void)state;
    json_t *whole = document(TOOL(FIT, "--key", "elevation.gear.ratio", "--json"));
    json_t *ratio = json_array_get(json_object_get(whole, "figures"), 0);
    assert_string_equal(json_string_value(json_object_get(ratio, "unit")), "");
    assert_string_equal(json_string_value(json_object_get(ratio, "sd_unit")), "");
    json_decref(whole);
}

static void csv_has_a_row_for_each_reading(void **state)
{
    (void)state;
    outcome o = TOOL(FIT, "--key", SPEED, "--csv");
    assert_int_equal(lines_of(o.out), 16);
    has(o.out, "line,row,measure,unit,measured,sd,simulated,off_sd,weight,scenario\n");
    has(o.out, "\n3,\"elevation up, low stop to high stop, 13 V\",seconds,s,7.86,0.15,");
    free_outcome(&o);
}

static void picture_is_drawn(void **state)
{
    (void)state;
    outcome o = TOOL(FIT, "--key", SPEED, "--robust", "--plot", "fit.png");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    is_png("fit.png");
    free_outcome(&o);
    o = TOOL(FIT, "--key", SPEED, "--plot", "fit.svg");
    char *svg = contents("fit.svg");
    has(svg, "measured seconds against simulated");
    has(svg, "scenario ");
    free(svg);
    free_outcome(&o);
}

static void robust_takes_no_notice_of_a_bad_reading(void **state)
{
    (void)state;
    char bad[sizeof TIMES];
    memcpy(bad, TIMES, sizeof TIMES);
    memcpy(strstr(bad, "8.41"), "9.41", 4);
    write_file("bad.csv", bad);
    outcome plain = TOOL("fit", "truck.yaml", "bad.csv", "--key", SPEED, "--bias");
    has(plain.out, "far off");
    has(plain.out, "--robust");
    outcome o = TOOL("fit", "truck.yaml", "bad.csv", "--key", SPEED, "--bias", "--robust");
    has(o.out, "robust least squares");
    has(o.out, "   0.00  far off");
    free_outcome(&plain);
    free_outcome(&o);
}

static void what_cannot_be_told_apart_is_named(void **state)
{
    (void)state;
    outcome o = TOOL(FIT, "--key", SPEED, "--key", "elevation.gear.ratio");
    assert_int_equal(o.code, 0);
    has(o.out, "elevation.motor.no_load_speed and elevation.gear.ratio can't be told apart: only "
               "their quotient counts");
    free_outcome(&o);
    o = TOOL(FIT, "--key", "supply.main.resistance", "--key", "supply.feed.length", "--bias");
    has(o.out, "supply.main.resistance and supply.feed.length can't be told apart: only a "
               "combination of them counts");
    has(o.out, "not told");
    free_outcome(&o);
}

/* up as fast as down: friction alone can't do it, whatever the motor */
static void a_held_figure_is_the_finding(void **state)
{
    (void)state;
    write_file("light.csv", "axis,direction,from,to,supply_V,seconds_s\n"
                            "elevation,up,low_stop,high_stop,13,6.9\n"
                            "elevation,down,high_stop,low_stop,13,7.34\n"
                            "elevation,down,high_stop,low_stop,12,8.2\n");
    outcome o =
        TOOL("fit", "truck.yaml", "light.csv", "--key", "elevation.load.friction", "--key", SPEED);
    assert_int_equal(o.code, 0);
    has(o.out, "elevation.load.friction is held at the low end of its range");
    has(o.out, "held  at the edge of its range");
    free_outcome(&o);
    o = TOOL("fit", "truck.yaml", "light.csv", "--key", "elevation.load.friction", "--key", SPEED,
             "--write", "no.yaml");
    reports_but_does_not_write(&o, 2, "elevation.load.friction: is held at the edge of its range");
    has(o.out, "elevation.load.friction is held at the low end of its range");
    free_outcome(&o);
}

static json_t *first_figure(const char *key)
{
    json_t *whole =
        document(TOOL(FIT, "--key", key, "--set", "environment.temperature=0 degC", "--json"));
    json_t *figure = json_incref(json_array_get(json_object_get(whole, "figures"), 0));
    json_decref(whole);
    return figure;
}

/* 273.15 K less 273.15 K leaves 5.68e-14; a friction of 7 +- 14 N.m is not below 0 N.m */
static void figures_and_intervals_are_what_a_key_allows(void **state)
{
    (void)state;
    json_t *temperature = first_figure("environment.temperature");
    json_t *friction = first_figure("elevation.load.friction");
    assert_true(number_of(temperature, "scenario") == 0);
    assert_true(number_of(friction, "low") == 0);
    assert_true(number_of(friction, "fitted") - 1.9 * number_of(friction, "sd") < 0);
    json_decref(temperature);
    json_decref(friction);
}

/* ---- the calibrated scenario ---- */

static void the_calibrated_scenario_runs(void **state)
{
    (void)state;
    outcome o = TOOL(FIT, "--key", SPEED, "--key", EFFICIENCY, "--set", "supply.feed.length=7 m",
                     "--write", "calibrated.yaml");
    assert_int_equal(o.code, 0);
    has(o.out, "  written     calibrated.yaml\n");
    free_outcome(&o);
    char *text = contents("calibrated.yaml");
    has(text, "# Fitted to times.csv by slewtime fit: " SPEED " " EFFICIENCY "\n");
    has(text, "feed: {gauge: 8 AWG, length: 7 m}");
    has(text, "spread.truck: {" SPEED ": {normal: {mean: ");
    has(text, "spread.correlation: [{between: [" SPEED ", " EFFICIENCY "], coefficient: ");
    free(text);
    o = TOOL("offset", "calibrated.yaml", "--samples", "64");
    assert_int_equal(o.code, 0);
    has(o.out, "varies      truck     " SPEED);
    free_outcome(&o);
}

static void nothing_is_written_that_is_not_told(void **state)
{
    (void)state;
    outcome o = TOOL(FIT, "--key", SPEED, "--key", "elevation.gear.ratio", "--write", "no.yaml");
    reports_but_does_not_write(&o, 2, "is not told by the readings");
    free_outcome(&o);
    o = TOOL(FIT, "--key", SPEED, "--write", "nowhere/no.yaml");
    reports_but_does_not_write(&o, 3, "cannot write nowhere/no.yaml");
    free_outcome(&o);
}

/* ---- what is refused ---- */

static void keys_it_refuses(void **state)
{
    (void)state;
    REFUSES(2, SAYS("no --key", "try slewtime fit --help"), FIT);
    REFUSES(2, SAYS("--key elevation.motor.noload_speed: unknown key", "did you mean " SPEED), FIT,
            "--key", "elevation.motor.noload_speed");
    REFUSES(2, SAYS("--key elevation.motor: a group of keys, such as elevation.motor."), FIT,
            "--key", "elevation.motor");
    REFUSES(2, SAYS("truck.yaml:", "elevation.search: is no number"), FIT, "--key",
            "elevation.search");
    REFUSES(2, SAYS("truck.yaml:", "rotation.gear.ratio: has no influence on any of the rows"), FIT,
            "--key", "rotation.gear.ratio");
    REFUSES(2, SAYS("truck.yaml:", SPEED ": is hidden by today"), FIT, "--key", SPEED, "--today",
            SPEED "=2900 rpm");
    REFUSES(2, SAYS("--json and --csv"), FIT, "--key", SPEED, "--json", "--csv");
    REFUSES(2, SAYS("fit needs SCENARIO TIMES.csv"), "fit", "truck.yaml", "--key", SPEED);
    REFUSES(3, SAYS("nowhere.csv: error: can't be opened", "a CSV file"), "fit", "truck.yaml",
            "nowhere.csv", "--key", SPEED);
}

static void refuses_rows(const char *rows, const char *const *parts)
{
    char text[600];
    snprintf(text, sizeof text, "axis,direction,from,to,seconds_s\n%s", rows);
    write_file("wrong.csv", text);
    refuses(2, parts, SAYS("fit", "truck.yaml", "wrong.csv", "--key", SPEED, "--bias"));
}

static void rows_it_refuses(void **state)
{
    (void)state;
    refuses_rows("elevation,up,low_stop,high_stop,7.9 s\n",
                 SAYS("wrong.csv:2:33: error: seconds_s: \"7.9 s\"",
                      "    elevation,up,low_stop,high_stop,7.9 s\n", "unit is in the header"));
    refuses_rows("elevation,up,low_stop,high_stop,7.9\n", SAYS("wrong.csv: error: 1 reading can't "
                                                               "tell 2 figures"));
    refuses_rows("elevation,up,low_stop,high_stop,7.9\nelevation,up,low_stop,high_stop,7.8\n",
                 SAYS("wrong.csv: error: all 2 readings are alike"));
    refuses_rows("elevation,up,low_stop,high_stop,7.9\n\nelevation,down,high_stop,low_stop,2\n",
                 SAYS("wrong.csv:4:1: error: seconds_s: 80 deg in 2 s is 40.0 deg/s, but at 13 V",
                      "times too fast", "    elevation,down,high_stop,low_stop,2\n"));
    refuses_rows("elevation,up,high_stop,low_stop,7.9\n",
                 SAYS("wrong.csv:2:1: error: direction: from 60 to -20 deg is against the "
                      "direction"));
    refuses_rows("elevation,up,home,home,7.9\n",
                 SAYS("wrong.csv:2:1: error: to: ", "closed already"));
    refuses_rows("tilt,up,low_stop,home,7.9\n", SAYS("wrong.csv:2:1: error: axis: \"tilt\""));
    write_file("wrong.csv", "axis,direction,from,to,seconds_min\n");
    REFUSES(2, SAYS("wrong.csv:1:24: error: unknown column \"seconds_min\"", "it in s: seconds_s"),
            "fit", "truck.yaml", "wrong.csv", "--key", SPEED);
    write_file("wrong.csv", "");
    REFUSES(2, SAYS("wrong.csv:1:1: error: the file is empty"), "fit", "truck.yaml", "wrong.csv",
            "--key", SPEED);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text_says_what_was_found),
        cmocka_unit_test(json_has_figures_readings_and_the_next_one),
        cmocka_unit_test(a_ratio_has_an_empty_unit),
        cmocka_unit_test(drives_to_a_stop_come_with_a_caution),
        cmocka_unit_test(csv_has_a_row_for_each_reading),
        cmocka_unit_test(picture_is_drawn),
        cmocka_unit_test(robust_takes_no_notice_of_a_bad_reading),
        cmocka_unit_test(what_cannot_be_told_apart_is_named),
        cmocka_unit_test(a_held_figure_is_the_finding),
        cmocka_unit_test(figures_and_intervals_are_what_a_key_allows),
        cmocka_unit_test(the_calibrated_scenario_runs),
        cmocka_unit_test(nothing_is_written_that_is_not_told),
        cmocka_unit_test(keys_it_refuses),
        cmocka_unit_test(rows_it_refuses),
    };
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
