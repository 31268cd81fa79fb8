/*
 * cli_fit.c - `slewtime fit` as text, JSON, CSV, picture and calibrated scenario, and what it
 * refuses.
 */
#include "document.h"

#include <math.h>

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

static char daily[1024]; /* the example */

static int enter(void **state)
{
    from_here("examples/daily.yaml", daily, sizeof daily);
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
    outcome o = TOOL(FIT, "--key", SPEED, "--bias", "--all");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    has(o.out, "Bench monitor, \"invented\" for these tests\n  readings    times.csv: 6 rows, 5 "
               "times, 5 voltages, 5 currents\n");
    has(o.out, "readings with what was known before\n");
    has(o.out, "asked       scenario ");
    has(o.out, " 1  elevation motor no-load speed              3000 rpm ");
    has(o.out, " 2  stopwatch bias                                  0 s ");
    has(o.out, "   3  elevation up, lower stop to upper stop, 13 V");
    has(o.out, "   8  elevation down, held on the lower stop, 13 V");
    has(o.out, "    with them, not asked for:\n 3  elevation motor no load current ");
    has(o.out, "  supply meter offset ");
    has(o.out, "Scatter over the standard deviations taken: stopwatch ");
    has(o.out, "Chi-square ");
    has(o.out, "No standard deviations are given: 0.15 s, 0.05 V, 0.3 A are taken, and 0.05 V of "
               "the battery voltage.");
    has(o.out, "\nNext: ");
    has(o.out, " helps most: ");
    has(o.out, "does not replace a test on the truck");
    free_outcome(&o);
    /* a share known to so many points, not to so many percent of itself */
    o = TOOL(FIT, "--key", SPEED, "--key", EFFICIENCY);
    has(o.out, "All 2 values determined; least certain: elevation gear efficiency, to ");
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
    assert_int_equal(json_array_size(figures), 9);
    assert_true(json_is_true(json_object_get(json_array_get(figures, 2), "asked")));
    assert_true(json_is_false(json_object_get(json_array_get(figures, 3), "asked")));
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
    assert_true(number_of(whole, "degrees_of_freedom") == 15);
    assert_true(number_of(speed, "told") > 0.9 && number_of(speed, "before_sd") == 300);
    assert_true(json_is_false(json_object_get(speed, "assumed")));
    json_t *next = json_object_get(whole, "next"), *row = json_object_get(next, "row");
    assert_true(number_of(next, "largest_sd_left_after") < number_of(next, "largest_sd_left"));
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
    has(o.out, "line,row,measure,unit,measured,sd,total_sd,simulated,off_sd,weight,scenario\n");
    has(o.out, "\n3,\"elevation up, lower stop to upper stop, 13 V\",seconds,s,7.86,0.15,");
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
    has(svg, "seconds: measured (up) against simulated (across)");
    has(svg, "<title>Elevation motor no-load speed is known to");
    has_not(svg, "no_load_speed");
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
    has(o.out, "robust (Huber");
    has(o.out, "   0.00  far off");
    free_outcome(&plain);
    free_outcome(&o);
}

static void what_cannot_be_told_apart_is_named(void **state)
{
    (void)state;
    outcome o = TOOL(FIT, "--key", SPEED, "--key", "elevation.gear.ratio");
    assert_int_equal(o.code, 0);
    has(o.out,
        "Elevation motor no-load speed and elevation gear ratio can't be told apart:\n  only "
        "their quotient counts");
    free_outcome(&o);
    o = TOOL(FIT, "--key", "supply.main.resistance+-100 mohm", "--key",
             "supply.feed.length +- 20 m", "--bias");
    has(o.out, "Battery resistance and feed cable length can't be told apart: only a");
    free_outcome(&o);
}

/* more at the controller than at the source: joints of less than nothing would explain it */
static void a_figure_at_its_edge_is_the_finding(void **state)
{
    (void)state;
    write_file("more.csv", "axis,direction,from,to,supply_V,controller_V\n"
                           "elevation,up,low_stop,high_stop,13,13.15\n"
                           "elevation,down,high_stop,low_stop,13,13.1\n");
    outcome o = TOOL("fit", "truck.yaml", "more.csv", "--key", "supply.feed.joint_resistance",
                     "--set", "supply.feed.joints=8", "--set",
                     "supply.feed.joint_resistance=1 mohm", "--write", "edge.yaml");
    assert_int_equal(o.code, 0);
    has(o.out, "Resistance of each connection is at the low end of its range: the");
    free_outcome(&o);
    char *text = contents("edge.yaml");
    has(text, "joint_resistance: 0 mohm");
    has(text, "supply.feed.joint_resistance: {normal: {mean: 0 mohm, sd: ");
    has(text, ", low: 0 mohm}}");
    free(text);
}

/* a page with one line filled in is an answer: what is not told is assumed, and said to be */
static void one_reading_is_an_answer(void **state)
{
    (void)state;
    write_file("one.csv",
               "axis,direction,from,to,seconds_s\nelevation,up,low_stop,high_stop,7.9\n");
    outcome o = TOOL("fit", "truck.yaml", "one.csv", "--key", SPEED, "--key", EFFICIENCY, "--write",
                     "one.yaml");
    assert_int_equal(o.code, 0);
    has(o.out, "  assumed  ");
    has(o.out, "An assumed value is what\nthe truck's spread, or what is usual, gives.");
    free_outcome(&o);
    o = TOOL("offset", "one.yaml", "--samples", "64");
    assert_int_equal(o.code, 0);
    free_outcome(&o);
}

/* how well a key is known before is stated with it */
static void what_is_known_before_can_be_stated(void **state)
{
    (void)state;
    json_t *whole = document(TOOL(FIT, "--key", SPEED " +- 10 rpm", "--json"));
    json_t *speed = json_array_get(json_object_get(whole, "figures"), 0);
    assert_true(fabs(number_of(speed, "before_sd") - 10) < 1e-9);
    assert_string_equal(json_string_value(json_object_get(speed, "before_from")), "stated");
    assert_true(number_of(speed, "sd") < 10);
    json_decref(whole);
    REFUSES(2, SAYS("--key " SPEED " +- 0 rpm: error", "0 rpm"), FIT, "--key", SPEED " +- 0 rpm");
    REFUSES(2, SAYS("--key", "10 kg"), FIT, "--key", SPEED " +- 10 kg");
}

static json_t *first_figure(const char *key)
{
    json_t *whole =
        document(TOOL(FIT, "--key", key, "--set", "environment.temperature=0 degC", "--json"));
    json_t *figure = json_incref(json_array_get(json_object_get(whole, "figures"), 0));
    json_decref(whole);
    return figure;
}

/* 273.15 K less 273.15 K leaves 5.68e-14; a friction of 7 +- 14 N.m is not below 0 N.m,
 * of which 2.5 % of the posterior may leave a little */
static void figures_and_intervals_are_what_a_key_allows(void **state)
{
    (void)state;
    json_t *temperature = first_figure("environment.temperature");
    json_t *friction = first_figure("elevation.load.friction +- 30 N.m");
    assert_true(number_of(temperature, "scenario") == 0);
    assert_true(number_of(friction, "low") >= 0);
    assert_true(number_of(friction, "low") < number_of(friction, "fitted"));
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

static void what_is_drawn_every_day_is_not_written(void **state)
{
    (void)state;
    char text[4000];
    snprintf(text, sizeof text,
             "%sspread.day: {supply.main.resistance: {uniform: {low: 10 mohm, "
             "high: 14 mohm}}}\n",
             TRUCK);
    write_file("days.yaml", text);
    outcome o = TOOL("fit", "days.yaml", "times.csv", "--key", "supply.main.resistance", "--write",
                     "no.yaml");
    reports_but_does_not_write(&o, 2, "is drawn anew every day by spread.day");
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

/* a gauge on the barrel: in degrees, with an offset of its own, and what it makes of the next
 * deploy
 */
static void where_a_deploy_rests_is_told(void **state)
{
    (void)state;
    write_file("rests.csv", "axis,direction,from,to,seconds_s,rests_deg\n"
                            "elevation,up,low_stop,high_stop,13.4,\n"
                            "elevation,down,home,stow_point,2.31,-17.2\n"
                            "elevation,up,stow_point,deployed,7.5,42.5\n");
    outcome o = TOOL("fit", daily, "rests.csv", "--key", SPEED);
    assert_int_equal(o.code, 0);
    has(o.out, "3 rows, 2 times, 2 angles\n");
    has(o.out, "elevation up, deployed for 7.5 s");
    has(o.out, "   42.50 deg");
    has(o.out, "angle gauge offset");
    has(o.out, ", 0.5° are taken");
    has(o.out, "Deploy: elevation would rest at 4");
    free_outcome(&o);
    json_t *whole = document(TOOL("fit", daily, "rests.csv", "--key", SPEED, "--json"));
    const json_t *aim = json_object_get(json_object_get(whole, "deploys_at"), "elevation");
    const json_t *next = json_object_get(aim, "next");
    assert_true(fabs(number_of(aim, "angle_deg") - 42.5) < 1);
    assert_true(number_of(next, "sd_after_deg") < number_of(aim, "sd_deg"));
    assert_string_equal(json_string_value(json_object_get(next, "unit")), "deg");
    json_decref(whole);
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
    refuses_rows("elevation,down,low_stop,stow_point,2.9\n",
                 SAYS("wrong.csv:2:1: error: from: a stored time counts from home"));
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
        cmocka_unit_test(where_a_deploy_rests_is_told),
        cmocka_unit_test(text_says_what_was_found),
        cmocka_unit_test(json_has_figures_readings_and_the_next_one),
        cmocka_unit_test(a_ratio_has_an_empty_unit),
        cmocka_unit_test(drives_to_a_stop_come_with_a_caution),
        cmocka_unit_test(csv_has_a_row_for_each_reading),
        cmocka_unit_test(picture_is_drawn),
        cmocka_unit_test(robust_takes_no_notice_of_a_bad_reading),
        cmocka_unit_test(what_cannot_be_told_apart_is_named),
        cmocka_unit_test(a_figure_at_its_edge_is_the_finding),
        cmocka_unit_test(one_reading_is_an_answer),
        cmocka_unit_test(what_is_known_before_can_be_stated),
        cmocka_unit_test(figures_and_intervals_are_what_a_key_allows),
        cmocka_unit_test(the_calibrated_scenario_runs),
        cmocka_unit_test(what_is_drawn_every_day_is_not_written),
        cmocka_unit_test(keys_it_refuses),
        cmocka_unit_test(rows_it_refuses),
    };
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
