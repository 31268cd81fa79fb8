/*
 * cli_offset.c - `slewtime offset` as text, JSON, CSV and picture, and what it refuses.
 */
#include <jansson.h>

#include "tool.h"

/* the bench truck with choices to try and a spread; invented data */
static void write_truck(const char *path, const char *choices, const char *spread)
{
    char text[6000];
    const char *target = strstr(TRUCK, "  target:");
    assert_non_null(target);
    snprintf(text, sizeof text, "%.*s  choices: {%s}\n%sspread:\n%s", (int)(target - TRUCK), TRUCK,
             choices, target, spread);
    write_file(path, text);
}

static void write_varied(void)
{
    static const char efficiency[] =
        "  truck:\n    elevation.gear.efficiency: {uniform: {low: 34 %, high: 38 %}}\n";
    static const char *const fields[] = {
        "supply.main.voltage",         "supply.main.resistance",   "supply.feed.length",
        "supply.feed.joints",          "environment.temperature",  "rotation.load.inertia",
        "rotation.load.friction",      "elevation.load.inertia",   "elevation.load.friction",
        "controller.drive_resistance", "controller.stall.current",
    };
    static const char *const units[] = {"V",   "ohm",   "m",   "",    "degC", "kg.m2",
                                        "N.m", "kg.m2", "N.m", "ohm", "A"};
    static const double low[] = {12, 0.01, 5, 0, 10, 1, 5, 1, 4, 0.01, 11};
    char many[3000] = "  day:\n";
    for (size_t i = 0; i < sizeof fields / sizeof *fields; i++)
        snprintf(many + strlen(many), sizeof many - strlen(many),
                 "    %s: {uniform: {low: %g %s, high: %g %s}}\n", fields[i], low[i], units[i],
                 1.1 * low[i] + 0.1, units[i]);
    write_truck("varied.yaml", "elevation: [1 s, 2 s, 3 s]",
                "  day:\n    supply.main.voltage: {uniform: {low: 12 V, high: 14 V}}\n");
    write_truck("geared.yaml", "elevation: [1 s, 2 s, 3 s]", efficiency);
    write_truck("many.yaml", "elevation: [1 s, 2 s]", many);
}

static int enter(void **state)
{
    int code = enter_directory(state);
    if (code == 0)
        write_varied();
    return code;
}

static void text_names_the_best_choice_and_how_to_repeat_it(void **state)
{
    (void)state;
    outcome o = TOOL("offset", "varied.yaml", "--samples", "200", "--seed", "5");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    has(o.out, "Best: rotation +0.00 s, elevation +2.00 s");
    has(o.out, "200 samples (Sobol points in 8 shifts), seed 5");
    has(o.out, "varies      day       supply.main.voltage");
    has(o.out, "does not replace a test on the truck");
    free_outcome(&o);
}

static void json_has_each_choice(void **state)
{
    (void)state;
    outcome o = TOOL("offset", "varied.yaml", "--samples", "64", "--random", "--json");
    json_t *whole = json_loads(o.out, 0, NULL);
    assert_non_null(whole);
    assert_int_equal(json_integer_value(json_object_get(whole, "samples")), 64);
    assert_int_equal(json_integer_value(json_object_get(whole, "best")), 1);
    json_t *choices = json_object_get(whole, "choices");
    assert_int_equal(json_array_size(choices), 3);
    json_t *second = json_array_get(choices, 1);
    json_t *seconds = json_object_get(second, "seconds");
    assert_true(json_real_value(json_object_get(seconds, "elevation")) == 2.0);
    json_t *inside = json_object_get(second, "inside");
    double share = json_real_value(json_object_get(inside, "share"));
    assert_true(json_real_value(json_object_get(inside, "low")) <= share && share <= 1.0);
    assert_true(json_is_real(json_object_get(json_object_get(second, "elevation"), "median_deg")));
    json_decref(whole);
    free_outcome(&o);
}

/* ---- why, and what else ---- */

static void the_runner_up_is_told(void **state)
{
    (void)state;
    outcome o = TOOL("offset", "varied.yaml", "--samples", "200");
    has(o.out, "It is most often inside; the runner-up, rotation +0.00 s, elevation +");
    has(o.out, "points less (");
    free_outcome(&o);
    o = TOOL("offset", "truck.yaml", "--samples", "8");
    has(o.out, "It is the only choice.");
    has(o.out, "What drives the spread is not told: nothing varies.");
    free_outcome(&o);
}

static void other_times_are_told(void **state)
{
    (void)state;
    outcome o = TOOL("offset", "varied.yaml", "--samples", "200");
    has(o.out, "With other times");
    has(o.out, "  half the steps ");
    has(o.out, "  a tenth of the steps ");
    has(o.out, "  any time ");
    free_outcome(&o);
    o = TOOL("offset", "truck.yaml", "--samples", "8"); /* no steps to halve */
    has_not(o.out, "half the steps");
    has(o.out, "  any time ");
    free_outcome(&o);
}

static void drivers_are_told_with_their_names(void **state)
{
    (void)state;
    outcome o = TOOL("offset", "varied.yaml", "--samples", "400");
    has(o.out, "What drives where the elevation rests (best choice;");
    has(o.out, "supply.main.voltage, day of the stow\n");
    has(o.out, "supply.main.voltage, day of the deploy\n");
    has(o.out, "From 8 times 64 base points, 2048 runs; +- at 95 % confidence.");
    free_outcome(&o);
    o = TOOL("offset", "varied.yaml", "--samples", "400", "--set", "deploy.same_day=yes");
    has(o.out, "supply.main.voltage, day\n");
    has(o.out, "From 8 times 64 base points, 1536 runs");
    free_outcome(&o);
    o = TOOL("offset", "geared.yaml", "--samples", "80");
    has(o.out, "elevation.gear.efficiency, truck\n");
    has(o.out, "Where the rotation rests does not vary.");
    free_outcome(&o);
}

static void too_many_numbers_are_said_and_the_rest_is_told(void **state)
{
    (void)state;
    outcome o = TOOL("offset", "many.yaml", "--samples", "16");
    assert_int_equal(o.code, 0);
    has(o.out, "What drives the spread is not told: 22 numbers are drawn for each sample, more "
               "than 20.");
    has(o.out, "With other times");
    free_outcome(&o);
    o = TOOL("offset", "many.yaml", "--samples", "16", "--set", "deploy.same_day=yes");
    has(o.out, "What drives where the elevation rests");
    free_outcome(&o);
    o = TOOL("offset", "many.yaml", "--samples", "16", "--json");
    has(o.out, "\"not_told_because\": \"22 numbers");
    free_outcome(&o);
}

/* ---- advice ---- */

/* these words are in the answer to varied.yaml with one thing set */
static void advises(const char *option, const char *setting, const char *words)
{
    outcome o = TOOL("offset", "varied.yaml", "--samples", "120", option, setting);
    assert_int_equal(o.code, 0);
    for (char *c = o.out; *c != '\0'; c++) /* lines are broken anywhere */
        if (c[0] == '\n' && c[1] == ' ')
            while (c[1] == ' ')
                memmove(c, c + 1, strlen(c));
    has(o.out, words);
    free_outcome(&o);
}

static void advice_is_what_was_found(void **state)
{
    (void)state;
    advises("--wanted", "0.9", "That is good enough: 90 % are wanted.");
    advises("--set", "deploy.choices.elevation=[1 s, 3 s]",
            "The choices are too coarse. Half the present steps would do: rotation +0.00 s, "
            "elevation +2.00 s, inside in 100.00 %");
    advises("--set", "deploy.choices.elevation=[1 s, 1.2 s]",
            "The choices do not reach the right seconds.");
    advises("--set", "deploy.target.elevation.high=7 deg",
            "No choice of seconds reaches 95 %: with "
            "any time it is");
    advises("--set", "deploy.target.elevation.high=7 deg",
            "What drives it most is supply.main.voltage, day of the deploy (");
    advises("--set", "deploy.target.elevation.high=7 deg",
            "a steadier supply voltage at the controller, or a wider target.");
    advises("--set", "deploy.choices.elevation=[0.5 s]",
            "No choice lands the elevation inside its target of 5 to 20 deg, in any sample. The "
            "nearest, +0.50 s, has its median at");
    advises("--set", "deploy.choices.elevation=[0.5 s]", "s would be needed.");
    advises("--set", "deploy.target.rotation.low=8 deg",
            "No choice drives the rotation in the deploy: it rests where it was stowed");
    advises("--today", "stow.cancel_at=1 s",
            "The controller faults in 100.00 % of the cases, mostly cancelled in the stow (100.00 "
            "%: cancelled); no choice of seconds changes the stow.");
    advises("--set", "deploy.choices.elevation=[0.5 s, 2 s]", "That is good enough");
    advises("--deploy-day", "elevation.load.friction=2000 N.m",
            "The elevation never moves in the deploy, in any sample of any choice: the controller "
            "says overload on elevation in the deploy in 100.00 %; it is driven and does not break "
            "away");
}

static void the_keep_out_is_named(void **state)
{
    (void)state;
    advises("--set", "stow.point.elevation=-18 deg", "It enters the keep-out \"mast, folded\" in ");
    advises("--set", "stow.point.elevation=-18 deg",
            " % of the cases; so does every choice: other seconds do not change it.");
    outcome o = TOOL("offset", "varied.yaml", "--samples", "64", "--json", "--set",
                     "stow.point.elevation=-18 deg");
    has(o.out, "\"name\": \"mast, folded\"");
    free_outcome(&o);
    o = TOOL("offset", "varied.yaml", "--samples", "64", "--csv", "--set",
             "stow.point.elevation=-18 deg");
    has(o.out, ",,\"mast, folded\",");
    free_outcome(&o);
}

static void the_fault_is_named(void **state)
{
    (void)state;
    outcome o = TOOL("offset", "varied.yaml", "--samples", "64", "--deploy-day",
                     "elevation.load.friction=2000 N.m");
    has(o.out, "  fault, mostly\n");
    has(o.out, "  overload on elevation in the deploy\n");
    free_outcome(&o);
    o = TOOL("offset", "varied.yaml", "--samples", "64", "--json", "--deploy-day",
             "elevation.load.friction=2000 N.m");
    has(o.out, "\"fault\": \"overload\"");
    has(o.out, "\"part\": \"deploy\"");
    has(o.out, "\"kind\": \"never_moves\"");
    free_outcome(&o);
    o = TOOL("offset", "varied.yaml", "--samples", "64", "--csv", "--deploy-day",
             "elevation.load.friction=2000 N.m");
    has(o.out, ",overload,,");
    free_outcome(&o);
}

/* ---- forms ---- */

static double share_of(json_t *object, const char *name)
{
    return json_real_value(json_object_get(json_object_get(object, name), "share"));
}

static void json_has_the_findings(void **state)
{
    (void)state;
    outcome o = TOOL("offset", "varied.yaml", "--samples", "400", "--json");
    json_t *whole = json_loads(o.out, 0, NULL);
    assert_non_null(whole);
    assert_true(json_is_true(json_object_get(whole, "good_enough")));
    assert_true(json_real_value(json_object_get(whole, "wanted")) == 0.95);
    assert_true(share_of(whole, "lead") > 0);
    json_t *finer = json_object_get(whole, "finer");
    json_t *any = json_object_get(finer, "any_time");
    assert_true(share_of(any, "inside") >= 0.95);
    assert_true(json_real_value(json_object_get(json_object_get(finer, "step_s"), "elevation")) ==
                1.0);
    json_t *drivers = json_object_get(whole, "drivers");
    assert_int_equal(json_integer_value(json_object_get(drivers, "base")), 64);
    json_t *first =
        json_array_get(json_object_get(json_object_get(drivers, "elevation"), "by_total"), 0);
    assert_string_equal(json_string_value(json_object_get(first, "key")), "supply.main.voltage");
    assert_string_equal(json_string_value(json_object_get(first, "of")), "deploy_day");
    assert_true(share_of(first, "total") > 0.5);
    json_t *advice = json_array_get(json_object_get(whole, "advice"), 0);
    assert_string_equal(json_string_value(json_object_get(advice, "kind")), "enough");
    json_decref(whole);
    free_outcome(&o);
}

static void csv_has_a_row_for_each_choice(void **state)
{
    (void)state;
    outcome o = TOOL("offset", "varied.yaml", "--samples", "64", "--csv");
    assert_int_equal(lines_of(o.out), 4);
    has(o.out, "rotation_s,elevation_s,inside,inside_low,inside_high,fault,keepout,");
    has(o.out, ",fault_most_often,keepout_most_often,");
    has_not(o.out, "supply.main.voltage"); /* the drivers have no place in this table */
    free_outcome(&o);
}

static void same_numbers_for_any_number_of_threads(void **state)
{
    (void)state;
    outcome one = TOOL("offset", "varied.yaml", "--samples", "500", "--threads", "1", "--csv");
    outcome two = TOOL("offset", "varied.yaml", "--samples", "500", "--threads", "2", "--csv");
    assert_string_equal(one.out, two.out);
    free_outcome(&one);
    free_outcome(&two);
}

static void picture_is_drawn(void **state)
{
    (void)state;
    outcome o = TOOL("offset", "varied.yaml", "--samples", "64", "--plot", "offset.png");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    is_png("offset.png");
    free_outcome(&o);
    o = TOOL("offset", "varied.yaml", "--samples", "64", "--plot", "offset.svg");
    assert_int_equal(o.code, 0);
    free_outcome(&o);
    FILE *file = fopen("offset.svg", "r");
    assert_non_null(file);
    char *svg = take_all(file);
    has(svg, "What drives where it rests");
    has(svg, "supply.main.voltage, day of the deploy");
    has(svg, "with others");
    free(svg);
    o = TOOL("offset", "truck.yaml", "--samples", "8", "--plot", "still.svg"); /* nothing varies */
    assert_int_equal(o.code, 0);
    free_outcome(&o);
    file = fopen("still.svg", "r");
    assert_non_null(file);
    svg = take_all(file);
    has_not(svg, "What drives");
    free(svg);
}

static void what_it_refuses(void **state)
{
    (void)state;
    REFUSES(2, SAYS("--samples 0", "1 or more"), "offset", "varied.yaml", "--samples", "0");
    REFUSES(2, SAYS("--samples many", "10000"), "offset", "varied.yaml", "--samples", "many");
    REFUSES(2, SAYS("--json and --csv"), "offset", "varied.yaml", "--json", "--csv");
    REFUSES(2, SAYS("home_not_found on rotation", "varied.yaml:"), "offset", "varied.yaml",
            "--teach", "rotation.home.present=no");
    REFUSES(2, SAYS("--wanted 95", "0.95"), "offset", "varied.yaml", "--wanted", "95");
    REFUSES(2, SAYS("--wanted likely", "0.95"), "offset", "varied.yaml", "--wanted", "likely");
    REFUSES(2,
            SAYS("varied.yaml:33:67", "deploy.target.elevation.low",
                 "5 to 20 deg lies beyond the hard stop at 4 deg", "-20 to 4 deg"),
            "offset", "varied.yaml", "--set", "elevation.stops.high=4 deg", "--set",
            "elevation.start=0 deg");
    write_file("stows.yaml", "");
    REFUSES(2, SAYS("stows.yaml", "empty"), "offset", "stows.yaml");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text_names_the_best_choice_and_how_to_repeat_it),
        cmocka_unit_test(json_has_each_choice),
        cmocka_unit_test(the_runner_up_is_told),
        cmocka_unit_test(other_times_are_told),
        cmocka_unit_test(drivers_are_told_with_their_names),
        cmocka_unit_test(too_many_numbers_are_said_and_the_rest_is_told),
        cmocka_unit_test(advice_is_what_was_found),
        cmocka_unit_test(the_keep_out_is_named),
        cmocka_unit_test(the_fault_is_named),
        cmocka_unit_test(json_has_the_findings),
        cmocka_unit_test(csv_has_a_row_for_each_choice),
        cmocka_unit_test(same_numbers_for_any_number_of_threads),
        cmocka_unit_test(picture_is_drawn),
        cmocka_unit_test(what_it_refuses),
    };
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
