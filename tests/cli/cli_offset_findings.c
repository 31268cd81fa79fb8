/*
 * cli_offset_findings.c - what `slewtime offset` says beyond its table: why, what to change, finer
 * seconds, what drives the spread.
 */
#include <math.h>

#include "document.h"

static const char *const DAY = "spread:\n  day:\n    supply.main.voltage: {uniform: {low: 12 V, "
                               "high: 14 V}}\n";

/* the bench truck with these choices of elevation and this at its end; invented data */
static void write_bench(const char *name, const char *choices, const char *end)
{
    char text[6000];
    const char *target = strstr(TRUCK, "  target:");
    assert_non_null(target);
    snprintf(text, sizeof text, "%.*s  choices: {elevation: [%s]}\n%s%s", (int)(target - TRUCK),
             TRUCK, choices, target, end);
    write_file(name, text);
}

static int enter(void **state)
{
    int code = enter_directory(state);
    if (code == 0)
        write_bench("bench.yaml", "1 s, 2 s, 3 s", DAY);
    return code;
}

/* a text with its lines joined: sentences are broken anywhere */
static void says_in_all(char *text, const char *part)
{
    for (char *end; (end = strstr(text, "\n  ")) != NULL;)
        memmove(end, end + 2, strlen(end + 2) + 1);
    for (char *c = text; *c != '\0'; c++)
        *c = *c == '\n' ? ' ' : *c;
    has(text, part);
}

#define BENCH "bench.yaml", "--samples", "200"
#define NARROW                                                                                     \
    "--set", "deploy.target.elevation.low=10deg", "--set", "deploy.target.elevation.high=11deg"

/* the value at names separated by dots; a list takes numbers */
static json_t *at(json_t *value, const char *path)
{
    char copy[200], *rest = NULL;
    snprintf(copy, sizeof copy, "%s", path);
    for (char *name = strtok_r(copy, ".", &rest); name != NULL; name = strtok_r(NULL, ".", &rest)) {
        value = json_is_array(value) ? json_array_get(value, (size_t)atoi(name))
                                     : json_object_get(value, name);
        if (value == NULL)
            fail_msg("no %s in %s", name, path);
    }
    return value;
}

static double number(json_t *whole, const char *path)
{
    return json_number_value(at(whole, path));
}

static const char *word(json_t *whole, const char *path)
{
    return json_string_value(at(whole, path));
}

/* ---- good enough ---- */

static void text_says_why_finer_and_what_drives(void **state)
{
    (void)state;
    outcome o = TOOL("offset", BENCH);
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    has(o.out, "wanted      inside the target in 95 % of the simulated days");
    has_not(o.out, "No choice meets");
    has(o.out, "Inside the target in 100.00 % of the simulated days.");
    has(o.out, "The runner-up, rotation +0.00 s, elevation +3.00 s, is inside in 26.50 %");
    has(o.out, "steps of 0.5 s");
    has(o.out, "any time, to 0.01 s");
    has(o.out, "gone if it  left if only\n% of the variance ");
    has(o.out, " were fixed     it varies\n");
    has(o.out, "battery voltage                      deploy day    ");
    has(o.out, "512 base points in 8 repeats: 2048 runs");
    has_not(o.out, "+- 0"); /* no index is surer than the digits that are told */
    has_not(o.out, "go together");
    has_not(o.out, "The extremes of");
    says_in_all(o.out, "Best: rotation +0.00 s, elevation +2.00 s: too few simulated days to say, "
                       "2995 would do: enters a keep-out zone in 0.00 % (at most 0.1 %);");
    says_in_all(o.out, "200 simulated days tell the two apart");
    says_in_all(o.out, "finer seconds is of 200 fresh ones.");
    free_outcome(&o);
}

/* the answer above the table, no key, seed or hash but at the end, and the best five rows */
static void the_answer_is_first_and_keys_are_last(void **state)
{
    (void)state;
    static const char *const late[] = {"supply.", "environment.", "spread.",
                                       "seed ",   "deploy.",      "samples"};
    write_bench("seven.yaml", "1 s, 1.5 s, 2 s, 2.5 s, 3 s, 3.5 s, 4 s", DAY);
    outcome o = TOOL("offset", "seven.yaml", "--samples", "200");
    outcome all = TOOL("offset", "seven.yaml", "--samples", "200", "--all");
    assert_int_equal(strncmp(o.out, "Best: rotation +0.00 s, elevation +2.00 s, ", 43), 0);
    has(o.out, "\n*   +0.00    +2.00  ");
    has(o.out, "\n  --all adds 2 more.\n");
    has_not(o.out, "+0.00    +4.00");
    has_not(all.out, "--all adds");
    has(all.out, "\n    +0.00    +4.00  ");
    has(all.out, "\n    +0.00    +1.00  ");
    char *end = strstr(o.out, "\n  varies      ");
    assert_non_null(end);
    has(end, "seed 1");
    has(end, "supply.main.voltage");
    has(end, "\n  variance    512 base points");
    *end = '\0';
    for (size_t i = 0; i < sizeof late / sizeof *late; i++)
        has_not(o.out, late[i]);
    free_outcome(&o);
    free_outcome(&all);
}

static void json_has_it_all(void **state)
{
    (void)state;
    outcome o = TOOL("offset", BENCH, "--json");
    json_t *whole = document(o);
    assert_true(json_is_false(at(whole, "good_enough"))); /* not told with 200 */
    assert_string_equal(word(whole, "judged.meets"), "not_told");
    assert_true(number(whole, "judged.keepout_entered.enough") == 2995);
    assert_true(number(whole, "judged.deploy_inside.missed.share") == 0);
    assert_string_equal(word(whole, "judged.stow_on_target.meets"), "meets");
    assert_string_equal(word(whole, "choices.0.judged.deploy_inside.meets"), "meets_not");
    assert_true(number(whole, "told.fresh_samples") == 200);
    assert_true(number(whole, "told.runner_up.seconds.elevation") == 3);
    assert_true(number(whole, "wanted") == 0.95);
    assert_true(number(whole, "runner_up") == 2);
    assert_true(number(whole, "lead.low") > 0);
    assert_string_equal(word(whole, "advice.0.kind"), "enough");
    assert_true(json_is_null(at(whole, "extremes_bound")));
    assert_true(number(whole, "finer.present_step_s.elevation") == 1);
    assert_true(number(whole, "finer.any.inside.share") >= number(whole, "told.best.inside.share"));
    assert_true(number(whole, "drivers.base") == 512);
    assert_true(number(whole, "drivers.runs") == 2048);
    assert_true(json_is_false(at(whole, "drivers.correlated")));
    assert_string_equal(word(whole, "drivers.elevation.indices.0.key"), "supply.main.voltage");
    assert_string_equal(word(whole, "drivers.elevation.indices.0.words"), "battery voltage");
    assert_string_equal(word(whole, "drivers.elevation.indices.0.of"), "deploy day");
    double total = number(whole, "drivers.elevation.indices.0.total.share") +
                   number(whole, "drivers.elevation.indices.1.total.share");
    assert_true(fabs(total - 1) < 0.15);
    json_decref(whole);
}

static void csv_is_the_table_of_choices_alone(void **state)
{
    (void)state;
    outcome o = TOOL("offset", BENCH, "--csv");
    assert_int_equal(lines_of(o.out), 4);
    has_not(o.out, "deploy day");
    free_outcome(&o);
    o = TOOL("offset", "--help");
    has(o.out, "--csv is the table of the choices alone, --json has everything");
    free_outcome(&o);
}

static void picture_has_the_bars(void **state)
{
    (void)state;
    outcome o = TOOL("offset", BENCH, "--plot", "with.svg");
    assert_int_equal(o.code, 0);
    free_outcome(&o);
    char *svg = take_all(fopen("with.svg", "r"));
    has(svg, "What changes the elevation most");
    has(svg, "battery voltage, deploy day");
    has(svg, "spread gone if this were fixed");
    free(svg);
    write_bench("still.yaml", "2 s", "");
    o = TOOL("offset", "still.yaml", "--samples", "8", "--plot", "without.svg");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    has(o.out, "What changes the final angles most is not told: nothing varies");
    has(o.out, "It is the only choice.");
    free_outcome(&o);
    svg = take_all(fopen("without.svg", "r"));
    has_not(svg, "What changes");
    free(svg);
}

/* ---- not good enough ---- */

static void target_too_narrow_names_the_key(void **state)
{
    (void)state;
    outcome o = TOOL("offset", BENCH, NARROW);
    says_in_all(o.out,
                "No choice meets the demands; closest: rotation +0.00 s, elevation +2.00 s, which "
                "deploys inside the target in 22.00 % (at least 95 %).");
    has(o.out, "No seconds reach 95 %");
    says_in_all(o.out, "What changes it most is the battery voltage of the deploy day");
    free_outcome(&o);
    o = TOOL("offset", BENCH, NARROW, "--json");
    json_t *whole = document(o);
    assert_true(json_is_false(at(whole, "good_enough")));
    assert_string_equal(word(whole, "advice.0.kind"), "too_wide");
    assert_string_equal(word(whole, "advice.0.axis"), "elevation");
    has(word(whole, "advice.0.says"), "battery voltage");
    has_not(word(whole, "advice.0.says"), "supply.");
    json_decref(whole);
    o = TOOL("offset", BENCH, NARROW, "--plot", "narrow.svg", "--wanted", "0.01");
    has_not(o.out, "No choice meets");
    free_outcome(&o);
    o = TOOL("offset", BENCH, NARROW, "--wanted", "1%", "--json");
    whole = document(o);
    assert_true(number(whole, "wanted") == 0.01);
    assert_true(number(whole, "judged.deploy_inside.limit") == 0.99);
    assert_string_equal(word(whole, "judged.deploy_inside.meets"), "meets");
    json_decref(whole);
}

static void target_out_of_reach_tells_how_far(void **state)
{
    (void)state;
    outcome o = TOOL("offset", BENCH, "--set", "deploy.target.elevation.low=40deg", "--set",
                     "deploy.target.elevation.high=58deg");
    has(o.out, "Elevation is never inside 40° to 58°");
    says_in_all(o.out, "The nearest, +3.00 s, rests at");
    has(o.out, "below; it would need");
    says_in_all(o.out, "The choices do not reach far enough");
    free_outcome(&o);
}

/* it runs into the stop at 60 deg before enough of it is inside: such seconds are not told of */
static void what_strikes_beyond_is_not_offered(void **state)
{
    (void)state;
    outcome o = TOOL("offset", BENCH, "--set", "deploy.target.elevation.low=57deg", "--set",
                     "deploy.target.elevation.high=59deg");
    has_not(o.out, "0.00 % of the simulated days, most often");
    says_in_all(o.out,
                "No seconds reach 95 % and keep to the other demands: the best of any time is "
                "inside in");
    has_not(o.out, "hard_stop");
    has_not(o.out, "driven into a hard stop");
    has(o.out, "a steadier supply voltage would help, or a wider target.");
    free_outcome(&o);
}

static void fault_and_box_are_named(void **state)
{
    (void)state;
    outcome o = TOOL("offset", BENCH, "--today", "rotation.home.present=no");
    has_not(o.out, "home_not_found");
    says_in_all(o.out, "rotation home sensor not found in the stow, 100.00 %");
    free_outcome(&o);
    o = TOOL("offset", BENCH, "--set", "stow.point.elevation=-18deg");
    says_in_all(o.out, "Most often it is mast, folded: in ");
    has(o.out, "% of the simulated days; so with every other choice.");
    free_outcome(&o);
    o = TOOL("offset", BENCH, "--set", "stow.point.elevation=-18deg", "--json");
    json_t *whole = document(o);
    assert_string_equal(word(whole, "choices.1.most_keepouts.box"), "mast, folded");
    assert_true(number(whole, "choices.1.most_keepouts.share.share") > 0);
    assert_true(json_is_null(at(whole, "choices.1.most_faults")));
    json_decref(whole);
}

/* ---- more and less than usual ---- */

/* 1 - 0.05^(1/n) for one side; both sides by Wilks: 93 samples bound 95 % */
static void extremes_of_independent_samples_bound(void **state)
{
    (void)state;
    outcome o = TOOL("offset", "bench.yaml", "--samples", "93", "--random");
    says_in_all(o.out, "bound at least 95.0");
    free_outcome(&o);
}

static void correlated_keys_are_said_so(void **state)
{
    char end[600];
    (void)state;
    snprintf(end, sizeof end,
             "%s    environment.temperature: {uniform: {low: 0 degC, high: 30 "
             "degC}}\n  correlation:\n    - {between: [supply.main.voltage, "
             "environment.temperature], coefficient: 0.5}\n",
             DAY);
    write_bench("together.yaml", "1 s, 2 s, 3 s", end);
    outcome o = TOOL("offset", "together.yaml", "--samples", "64");
    assert_string_equal(o.err, "");
    has(o.out, "Some of these go together");
    free_outcome(&o);
}

static void more_than_twenty_numbers_go_without(void **state)
{
    static const char *const keys[] = {
        "supply.main.voltage",          "environment.temperature", "controller.drive_drop",
        "controller.drive_resistance",  "supply.main.resistance",  "supply.feed.length",
        "supply.feed.joint_resistance", "rotation.load.friction",  "elevation.load.friction",
        "rotation.load.inertia",        "elevation.load.inertia"};
    static const char *const values[] = {"13 V",   "20 degC", "0.5 V", "20 mohm", "12 mohm",  "6 m",
                                         "1 mohm", "6 N.m",   "5 N.m", "2 kg.m2", "1.5 kg.m2"};
    char end[3000] = "spread:\n  day:\n";
    (void)state;
    for (int i = 0; i < 11; i++)
        snprintf(end + strlen(end), sizeof end - strlen(end), "    %s: {values: [%s]}\n", keys[i],
                 values[i]);
    write_bench("many.yaml", "2 s", end);
    outcome o = TOOL("offset", "many.yaml", "--samples", "16");
    assert_int_equal(o.code, 0);
    has(o.out, "What changes the final angles most is not told: more than 20 numbers");
    has(o.out, "any time, to 0.01 s");
    free_outcome(&o);
    o = TOOL("offset", "many.yaml", "--samples", "16", "--json");
    json_t *whole = document(o);
    has(word(whole, "drivers.not_told"), "20");
    json_decref(whole);
}

static void what_it_refuses(void **state)
{
    (void)state;
    REFUSES(2, SAYS("--wanted 1", "0.95"), "offset", "bench.yaml", "--wanted", "1");
    REFUSES(2, SAYS("--wanted most", "probability"), "offset", "bench.yaml", "--wanted", "most");
    REFUSES(2, SAYS("deploy.target.elevation.low", "beyond the hard stop at 60 deg", "--set"),
            "offset", "bench.yaml", "--set", "deploy.target.elevation.low=61deg", "--set",
            "deploy.target.elevation.high=65deg");
}

static void place_of_a_target_beyond_the_stop_is_told(void **state)
{
    char text[6000];
    (void)state;
    const char *at = strstr(TRUCK, "low: 5 deg, high: 20 deg");
    assert_non_null(at);
    snprintf(text, sizeof text, "%.*slow: 61 deg, high: 65 deg%s", (int)(at - TRUCK), TRUCK,
             at + strlen("low: 5 deg, high: 20 deg"));
    write_file("beyond.yaml", text);
    REFUSES(2, SAYS("beyond.yaml:32:", "deploy.target.elevation.low", "expected"), "offset",
            "beyond.yaml");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text_says_why_finer_and_what_drives),
        cmocka_unit_test(the_answer_is_first_and_keys_are_last),
        cmocka_unit_test(json_has_it_all),
        cmocka_unit_test(csv_is_the_table_of_choices_alone),
        cmocka_unit_test(picture_has_the_bars),
        cmocka_unit_test(target_too_narrow_names_the_key),
        cmocka_unit_test(target_out_of_reach_tells_how_far),
        cmocka_unit_test(what_strikes_beyond_is_not_offered),
        cmocka_unit_test(fault_and_box_are_named),
        cmocka_unit_test(extremes_of_independent_samples_bound),
        cmocka_unit_test(correlated_keys_are_said_so),
        cmocka_unit_test(more_than_twenty_numbers_go_without),
        cmocka_unit_test(what_it_refuses),
        cmocka_unit_test(place_of_a_target_beyond_the_stop_is_told),
    };
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
