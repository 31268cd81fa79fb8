/*
 * cli_margin.c - `slewtime margin` as text, JSON, CSV and picture, and what it refuses.
 */
#include "document.h"

/* the bench truck on days of 12 to 14 V; invented data */
static int enter(void **state)
{
    char text[4000];
    int code = enter_directory(state);
    snprintf(text, sizeof text,
             "%sspread:\n  day:\n    supply.main.voltage: {uniform: {low: 12 V, high: 14 V}}\n",
             TRUCK);
    if (code == 0)
        write_file("varied.yaml", text);
    return code;
}

static void text_names_the_clearances_and_how_to_repeat_it(void **state)
{
    (void)state;
    outcome o = TOOL("margin", "varied.yaml", "--samples", "200", "--seed", "5", "--wanted", "0.1");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    assert_int_equal(strncmp(o.out, "Lower stop: the stow point needs ", 33), 0);
    has(o.out, " of clearance, has 8.00°: enough room.\nUpper stop: a stow point needs ");
    has(o.out, "\nLower stop of the elevation, at -20.00°\n");
    has(o.out, "\nUpper stop of the elevation, at 60.00°\n");
    has(o.out, "Enough: ");
    has(o.out, "meets too near  too far  other");
    has(o.out, "stow within 2° of the stow point, 0.00 % too near, ");
    has(o.out, "at least 95 % wanted");
    has(o.out, "The scenario's own stow point has 8.00°: enough room to the stop.");
    has(o.out, "as it is: brakes, homes from above, taught at 13 V");
    has(o.out, "\n  coasts to a stop  ");
    has(o.out, "\n  homes from below  ");
    has(o.out, "taught at 0.5 V less");
    has_not(o.out, "not asked");
    has(o.out, "does not replace a test on the truck");
    char *end = strstr(o.out, "\n  varies      day       supply.main.voltage");
    assert_non_null(end);
    has(end, "200 independent simulated days, seed 5");
    *end = '\0';
    has_not(o.out, "supply.");
    has_not(o.out, "hard_stop");
    has_not(o.out, "samples");
    free_outcome(&o);
}

/* as in `teach` and everywhere else, keys may stand within their groups */
static void a_spread_may_be_nested(void **state)
{
    char text[4000];
    (void)state;
    snprintf(text, sizeof text,
             "%sspread: {day: {supply: {main: {voltage: {uniform: {low: 12 V, high: 14 V}}}}}}\n",
             TRUCK);
    write_file("nested.yaml", text);
    outcome o = TOOL("margin", "nested.yaml", "--samples", "64", "--wanted", "0.1");
    outcome flat = TOOL("margin", "varied.yaml", "--samples", "64", "--wanted", "0.1");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.out, flat.out);
    has(o.out, "Caution: some stows fault, jam");
    has(o.out, "clear overhead, nobody near, ready to release");
    free_outcome(&o);
    free_outcome(&flat);
}

static void too_few_samples_say_how_many(void **state)
{
    (void)state;
    outcome o = TOOL("margin", "varied.yaml", "--samples", "4");
    assert_int_equal(o.code, 0);
    has(o.out, "Too few simulated days (4) to state a clearance; --samples 16 would do.");
    has(o.out, "° on no stow jammed or faulted on the stop.");
    has(o.out, "too few");
    free_outcome(&o);
}

/* that which nobody has measured is called so */
static void rare_limits_measure_assumed_tails(void **state)
{
    (void)state;
    outcome o = TOOL("margin", "varied.yaml", "--samples", "256", "--wanted", "0.00001");
    outcome usual = TOOL("margin", "varied.yaml", "--samples", "256", "--wanted", "0.001");
    assert_int_equal(o.code, 0);
    has(o.out, "below 1e-05 the answer measures the tails that the spread assumes");
    has_not(usual.out, "the tails that the spread assumes");
    free_outcome(&o);
    free_outcome(&usual);
}

/* a stow that never gets to the stop says nothing about the clearance */
static void stows_that_end_otherwise_are_said(void **state)
{
    (void)state;
    outcome o = TOOL("margin", "varied.yaml", "--samples", "64", "--wanted", "0.1", "--today",
                     "elevation.home.present=no");
    assert_int_equal(o.code, 0);
    has(o.out, "Enough: 0.25°.");
    has(o.out, "But up to 100.00 % of the stows end in another fault or without a verdict");
    free_outcome(&o);
    o = TOOL("margin", "varied.yaml", "--samples", "64", "--wanted", "0.1");
    has_not(o.out, "end in another fault");
    free_outcome(&o);
}

static void what_cannot_be_taught_is_said(void **state)
{
    (void)state;
    outcome o = TOOL("margin", "varied.yaml", "--samples", "64", "--wanted", "0.1", "--teach",
                     "rotation.home.present=no");
    assert_int_equal(o.code, 0);
    has(o.out, "can't be taught on 32 of 32 simulated days");
    has_not(o.out, "nan");
    has_not(o.out, "home_not_found");
    has(o.out, "rotation, home sensor not found");
    has(o.out, "The point can't be taught at any clearance");
    has(o.out, "not taught");
    free_outcome(&o);
}

static void json_has_both_sides(void **state)
{
    (void)state;
    outcome o = TOOL("margin", "varied.yaml", "--samples", "64", "--random", "--json", "--axis",
                     "rotation", "--wanted", "0.1");
    json_t *whole = json_of(&o);
    assert_int_equal(json_integer_value(json_object_get(whole, "samples")), 64);
    assert_true(json_is_false(json_object_get(whole, "tails_assumed")));
    assert_string_equal(json_string_value(json_object_get(whole, "axis")), "rotation");
    static const char *const sides[] = {"low", "high"};
    for (int k = 0; k < 2; k++) {
        json_t *side = json_object_get(whole, sides[k]);
        json_t *ladder = json_object_get(side, "ladder");
        assert_int_equal(json_array_size(ladder), 12);
        json_t *either = json_object_get(json_array_get(ladder, 0), "either");
        double share = json_real_value(json_object_get(either, "share"));
        assert_true(share > 0.0 && json_real_value(json_object_get(either, "low")) <= share);
        json_t *need = json_object_get(side, "need");
        assert_true(json_real_value(json_object_get(need, "enough_deg")) > 0.25);
        assert_true(json_real_value(json_object_get(json_object_get(need, "beyond"), "share")) <
                    0.1);
    }
    assert_int_equal(json_array_size(json_object_get(whole, "changes")), 6);
    json_decref(whole);
    free_outcome(&o);
}

static void csv_has_a_row_for_each_clearance(void **state)
{
    (void)state;
    outcome o = TOOL("margin", "varied.yaml", "--samples", "64", "--csv");
    assert_int_equal(lines_of(o.out), 25);
    has(o.out, "side,clearance_deg,point_deg,asked,untaught,hard_stop,");
    has(o.out, "low,0.25,-19.75,32,0,");
    has(o.out, "high,0.25,59.75,32,0,");
    free_outcome(&o);
}

static void same_numbers_for_any_number_of_threads(void **state)
{
    (void)state;
    outcome one = TOOL("margin", "varied.yaml", "--samples", "200", "--threads", "1", "--json");
    outcome two = TOOL("margin", "varied.yaml", "--samples", "200", "--threads", "2", "--json");
    assert_string_equal(one.out, two.out);
    free_outcome(&one);
    free_outcome(&two);
}

static void draws(const char *teach)
{
    outcome o = TOOL("margin", "varied.yaml", "--samples", "64", "--wanted", "0.1", "--plot",
                     "margin.png", "--teach", teach);
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    is_png("margin.png");
    assert_int_equal(remove("margin.png"), 0);
    free_outcome(&o);
}

/* also where one side has no rows, and where nothing can be taught */
static void picture_is_drawn(void **state)
{
    (void)state;
    draws("supply.main.voltage=13 V");
    draws("rotation.home.present=no");
    draws("elevation.home.angle=-19.9 deg");
    draws("elevation.home.angle=59.9 deg");
}

/* the drives drop more than the battery has left beside so much other equipment */
static void csv_is_empty_where_no_sample_can_run(void **state)
{
    (void)state;
    outcome o = TOOL("margin", "varied.yaml", "--samples", "8", "--csv", "--today",
                     "supply.shared_load=500 A");
    assert_int_equal(o.code, 0);
    has(o.err, "8 simulated days can't run");
    has(o.out, ",,,,,");
    has_not(o.out, "nan");
    free_outcome(&o);
}

static void what_it_refuses(void **state)
{
    (void)state;
    REFUSES(2, SAYS("--wanted 2", "0.001"), "margin", "varied.yaml", "--wanted", "2");
    REFUSES(2, SAYS("--wanted often", "0.001"), "margin", "varied.yaml", "--wanted", "often");
    REFUSES(2, SAYS("--axis roll", "elevation|rotation"), "margin", "varied.yaml", "--axis",
            "roll");
    REFUSES(2, SAYS("--json and --csv"), "margin", "varied.yaml", "--json", "--csv");
    REFUSES(2, SAYS("spread", "nothing varies", "uniform"), "margin", "truck.yaml");
    REFUSES(2, SAYS("run takes no option --wanted"), "run", "truck.yaml", "--wanted", "0.1");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text_names_the_clearances_and_how_to_repeat_it),
        cmocka_unit_test(a_spread_may_be_nested),
        cmocka_unit_test(too_few_samples_say_how_many),
        cmocka_unit_test(rare_limits_measure_assumed_tails),
        cmocka_unit_test(stows_that_end_otherwise_are_said),
        cmocka_unit_test(what_cannot_be_taught_is_said),
        cmocka_unit_test(json_has_both_sides),
        cmocka_unit_test(csv_has_a_row_for_each_clearance),
        cmocka_unit_test(same_numbers_for_any_number_of_threads),
        cmocka_unit_test(picture_is_drawn),
        cmocka_unit_test(csv_is_empty_where_no_sample_can_run),
        cmocka_unit_test(what_it_refuses),
    };
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
