/*
 * cli_offset.c - `slewtime offset` as text, JSON, CSV and picture, and what it refuses.
 */
#include "document.h"

/* the bench truck with something that varies and choices to try; invented data */
static void write_varied(void)
{
    char text[4000];
    const char *target = strstr(TRUCK, "  target:");
    assert_non_null(target);
    snprintf(text, sizeof text,
             "%.*s  choices: {elevation: [1 s, 2 s, 3 s]}\n%s"
             "spread:\n  day:\n    supply.main.voltage: {uniform: {low: 12 V, high: 14 V}}\n",
             (int)(target - TRUCK), TRUCK, target);
    write_file("varied.yaml", text);
}

static char daily[1024]; /* the example */

static int enter(void **state)
{
    from_here("examples/daily.yaml", daily, sizeof daily);
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
    has(o.out, "200 simulated days (evenly spread, 8 shifts), seed 5");
    has(o.out, "varies      day       supply.main.voltage");
    has(o.out, "does not replace a test on the truck");
    free_outcome(&o);
}

/* what is not known about this truck is kept apart from its days */
static void trucks_are_told_apart_from_days(void **state)
{
    (void)state;
    outcome o = TOOL("offset", daily, "--samples", "256");
    outcome days = TOOL("offset", "varied.yaml", "--samples", "64");
    outcome json = TOOL("offset", daily, "--samples", "256", "--json");
    has(o.out, "Truck by truck (for what is not known about this one): 95 % of such trucks");
    has(o.out, "% of their days");
    has_not(days.out, "Truck by truck");
    json_t *whole = json_of(&json);
    json_t *deploy = json_object_get(json_object_get(whole, "by_truck"), "deploy_inside");
    double low = json_real_value(json_object_get(deploy, "missed_low"));
    assert_true(low > 0 && low < json_real_value(json_object_get(deploy, "missed_high")));
    json_decref(whole);
    free_outcome(&o);
    free_outcome(&days);
    free_outcome(&json);
}

static void json_has_each_choice(void **state)
{
    (void)state;
    outcome o = TOOL("offset", "varied.yaml", "--samples", "64", "--random", "--json");
    json_t *whole = json_of(&o);
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

/* the line that begins with it */
/* what today says is not drawn, and it is said; a day of the deploy's own is another */
static void a_known_day_is_not_drawn(void **state)
{
    (void)state;
    outcome o =
        TOOL("offset", "varied.yaml", "--samples", "64", "--today", "supply.main.voltage=13 V");
    assert_int_equal(o.code, 0);
    has(o.out, "  known       battery voltage today 13 V\n");
    has(o.out, "  varies      deploy    supply.main.voltage\n");
    has_not(o.out, "  varies      day       supply.main.voltage\n");
    has(o.err, "known, so not drawn from spread.day: battery voltage today 13 V\n");
    free_outcome(&o);
    o = TOOL("offset", "varied.yaml", "--samples", "64", "--today", "supply.main.voltage=13 V",
             "--deploy-day", "supply.main.voltage=12 V", "--quiet");
    has_not(o.out, "  varies      deploy    supply.main.voltage\n");
    has(o.out, "battery voltage on the deploy day 12 V\n");
    assert_string_equal(o.err, "");
    free_outcome(&o);
}

static void every_command_that_samples_says_what_is_known(void **state)
{
    (void)state;
    static const char *const commands[] = {"offset", "plan", "margin", "card", "causes", "feed"};
    static const char words[] = "known, so not drawn from spread.day: battery voltage today 13 V";
    for (size_t i = 0; i < sizeof commands / sizeof *commands; i++) {
        outcome o = TOOL(commands[i], daily, "--samples", "64", "--json", "--today",
                         "supply.main.voltage=13 V");
        has(o.err, words);
        json_t *whole = document(o);
        json_t *work = json_object_get(whole, "work"); /* of feed */
        json_t *known = json_object_get(work != NULL ? work : whole, "known");
        assert_int_equal(json_array_size(known), 1);
        assert_string_equal(json_string_value(json_array_get(known, 0)),
                            "today.supply.main.voltage");
        json_decref(whole);
    }
    outcome o =
        TOOL("run", daily, "--pose", "-", "--samples", "8", "--today", "supply.main.voltage=13 V");
    has(o.err, words);
    free_outcome(&o);
}

static void the_spread_is_changed_from_the_command_line(void **state)
{
    (void)state;
    outcome o =
        TOOL("offset", "varied.yaml", "--samples", "64", "--spread", "supply.main.voltage=none",
             "--spread", "environment.temperature=normal 15 degC +- 5 K");
    assert_int_equal(o.code, 0);
    has(o.out, "  varies      day       environment.temperature\n");
    has_not(o.out, "  varies      day       supply.main.voltage\n");
    free_outcome(&o);
    REFUSES(2, SAYS("slewtime:--spread: error: supply.main.voltage: \"14 m\""), "offset",
            "varied.yaml", "--spread", "supply.main.voltage=uniform 11 V..14 m");
}

static const char *line_of(const char *text, const char *begin)
{
    const char *at = strstr(text, begin);
    if (at == NULL)
        fail_msg("no line begins with %s", begin);
    return at + 1;
}

/* the word of `line` that stands below the head, or reaches below it */
static double number_below(const char *line, const char *heads, const char *head)
{
    size_t begin = (size_t)(strstr(heads, head) - heads), end = begin + strlen(head) - 1;
    while (line[end] == ' ' && end > begin)
        end--;
    while (end > 0 && line[end - 1] != ' ')
        end--;
    return strtod(line + end, NULL);
}

static void text_has_each_angle_below_its_head(void **state)
{
    (void)state;
    outcome text = TOOL("offset", "varied.yaml", "--samples", "64");
    json_t *whole = document(TOOL("offset", "varied.yaml", "--samples", "64", "--json"));
    json_t *angle =
        json_object_get(json_array_get(json_object_get(whole, "choices"), 1), "elevation");
    const char *heads = line_of(text.out, "\n rotation elevation"),
               *best = line_of(text.out, "\n*");
    static const char *const head[] = {" 5 %", "median", " 95 %"};
    static const char *const name[] = {"p05_deg", "median_deg", "p95_deg"};
    for (int i = 0; i < 3; i++)
        assert_float_equal(number_below(best, heads, head[i]),
                           json_real_value(json_object_get(angle, name[i])), 0.00501);
    json_decref(whole);
    free_outcome(&text);
}

static void csv_has_a_row_for_each_choice(void **state)
{
    (void)state;
    outcome o = TOOL("offset", "varied.yaml", "--samples", "64", "--csv");
    assert_int_equal(lines_of(o.out), 4);
    has(o.out, "seconds_rotation,seconds_elevation,inside,inside_low,inside_high,");
    has(o.out, ",fault,fault_low,fault_high,");
    has(o.out, ",keepout,keepout_low,keepout_high,");
    has(o.out, ",scenario,samples,seed,points\n");
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
}

static void what_it_refuses(void **state)
{
    (void)state;
    REFUSES(2, SAYS("--samples 0", "1 or more"), "offset", "varied.yaml", "--samples", "0");
    REFUSES(2, SAYS("--samples many", "10000"), "offset", "varied.yaml", "--samples", "many");
    REFUSES(2, SAYS("--json and --csv"), "offset", "varied.yaml", "--json", "--csv");
    REFUSES(2, SAYS("rotation, home sensor not found", "varied.yaml:"), "offset", "varied.yaml",
            "--teach", "rotation.home.present=no");
    /* no truck of the spread can be taught */
    char text[4000];
    snprintf(
        text, sizeof text,
        "%sspread:\n  truck:\n    rotation.load.friction: {uniform: {low: 5 N.m, high: 6 N.m}}\n",
        TRUCK);
    write_file("trucks.yaml", text);
    REFUSES(2, SAYS("rotation, home sensor not found", "trucks.yaml:"), "offset", "trucks.yaml",
            "--teach", "rotation.home.present=no", "--samples", "64");
    write_file("stows.yaml", "");
    REFUSES(2, SAYS("stows.yaml", "empty"), "offset", "stows.yaml");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text_names_the_best_choice_and_how_to_repeat_it),
        cmocka_unit_test(a_known_day_is_not_drawn),
        cmocka_unit_test(every_command_that_samples_says_what_is_known),
        cmocka_unit_test(the_spread_is_changed_from_the_command_line),
        cmocka_unit_test(trucks_are_told_apart_from_days),
        cmocka_unit_test(json_has_each_choice),
        cmocka_unit_test(text_has_each_angle_below_its_head),
        cmocka_unit_test(csv_has_a_row_for_each_choice),
        cmocka_unit_test(same_numbers_for_any_number_of_threads),
        cmocka_unit_test(picture_is_drawn),
        cmocka_unit_test(what_it_refuses),
    };
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
