/*
 * cli_offset_demands.c - `slewtime offset` against the demands: what it heads its answer with, on
 * trucks whose deploy can strike something. Their data are invented.
 */
#include "document.h"

/* the bench truck with other lines for some of its own */
static void write_truck(const char *name, const char *const *from_to, const char *end)
{
    char text[8000], next[8000];
    snprintf(text, sizeof text, "%s", TRUCK);
    for (; *from_to != NULL; from_to += 2) {
        const char *at = strstr(text, from_to[0]);
        if (at == NULL)
            fail_msg("the bench truck has no %s", from_to[0]);
        snprintf(next, sizeof next, "%.*s%s%s", (int)(at - text), text, from_to[1],
                 at + strlen(from_to[0]));
        snprintf(text, sizeof text, "%s", next);
    }
    snprintf(next, sizeof next, "%s%s", text, end);
    write_file(name, next);
}

#define WITH(...) ((const char *const[]){__VA_ARGS__, NULL})

static const char *const ZONE = "  - {name: \"mast, folded\", elevation: {low: -20 deg, high: -17 "
                                "deg}}\n";
static const char *const DAY =
    "spread:\n  day:\n    supply.main.voltage: {uniform: {low: 12.6 V, high: 13.6 V}}\n";

/* It starts to the right, where the light mast stands, and homes its elevation first: the barrel
 * goes down beside it whatever the deploy is. */
static void write_beside(void)
{
    write_truck("beside.yaml",
                WITH("  start: -20 deg\n", "  start: 40 deg\n", "  search: right\n",
                     "  search: left\n",
                     "  target:", "  choices: {elevation: [1 s, 2 s, 3 s]}\n  target:", ZONE,
                     "  - {name: light mast, rotation: {low: 25 deg, high: 60 deg}, "
                     "elevation: {low: -20 deg, high: 15 deg}}\n"),
                DAY);
}

/* It deploys its rotation first, low: what turns to the middle of the target is below the mast's
 * head on strong days. */
static void write_turning(void)
{
    write_truck("turning.yaml",
                WITH("  order: elevation, rotation\n",
                     "  order: rotation, elevation\n  choices: {rotation: [1 s, 1.1 s, 1.2 s], "
                     "elevation: [1.9 s, 2 s]}\n",
                     "rotation: {low: 0 deg, high: 10 deg}",
                     "rotation: {low: 16 deg, high: 21 deg}", ZONE,
                     "  - {name: mast, rotation: {low: 18.5 deg, high: 40 deg}, elevation: {low: "
                     "-20 deg, high: 0 deg}}\n"),
                DAY);
}

static int enter(void **state)
{
    int code = enter_directory(state);
    if (code == 0) {
        write_beside();
        write_turning();
    }
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

static json_t *member(json_t *value, const char *one, const char *other)
{
    json_t *found = json_object_get(json_object_get(value, one), other);
    if (found == NULL)
        fail_msg("no %s with %s", one, other);
    return found;
}

static const char *meets(json_t *whole, const char *demand)
{
    return json_string_value(json_object_get(member(whole, "judged", demand), "meets"));
}

/* ---- a zone on the way, whatever the seconds ---- */

static void a_zone_that_every_choice_enters_heads_the_answer(void **state)
{
    (void)state;
    outcome o = TOOL("offset", "beside.yaml", "--samples", "400");
    assert_int_equal(o.code, 0);
    says_in_all(o.out, "No choice meets the demands; closest: rotation +0.00 s, elevation +2.00 s, "
                       "which enters a keep-out zone in 100.00 % (at most 0.1 %)");
    says_in_all(o.out, "No deploy seconds cure all of it: `slewtime plan` tries what else could.");
    has(o.out, "Caution: before a try clear overhead, nobody near, ready to release.");
    has(o.out, "Most often it is light mast: in 100.00 % of the simulated days; so with every "
               "other choice.");
    free_outcome(&o);
}

/* all that fail, what hurts most first */
static void every_demand_that_fails_is_named_the_strike_first(void **state)
{
    (void)state;
    outcome o = TOOL("offset", "beside.yaml", "--samples", "400", "--set",
                     "deploy.target.elevation.high=6deg", "--set", "stow.tolerance=0.01deg");
    says_in_all(o.out, "");
    const char *head = strstr(o.out, "No choice meets the demands"),
               *end = strstr(o.out, "The runner-up");
    assert_true(head != NULL && end != NULL);
    const char *strike = strstr(head, "enters a keep-out zone"),
               *deploy = strstr(head, "deploys inside the target"),
               *stow = strstr(head, "stows within tolerance");
    assert_true(strike != NULL && deploy != NULL && stow != NULL);
    assert_true(strike < deploy && deploy < stow && stow < end);
    free_outcome(&o);
}

/* the headline says it; what follows does not say it again */
static void a_zone_is_named_once(void **state)
{
    (void)state;
    outcome o = TOOL("offset", "beside.yaml", "--samples", "400");
    const char *head = strstr(o.out, "No choice meets"), *end = strstr(o.out, "\n\n");
    int named = 0;
    assert_true(head != NULL && end != NULL);
    for (const char *at = head; (at = strstr(at, "keep-out")) != NULL && at < end; at++)
        named++;
    assert_int_equal(named, 1);
    free_outcome(&o);
}

static void another_home_order_cures_it(void **state)
{
    (void)state;
    outcome o = TOOL("offset", "beside.yaml", "--samples", "400", "--set",
                     "stow.home_order=rotation,elevation");
    has(o.out, "Best: rotation +0.00 s, elevation +2.00 s");
    has_not(o.out, "Caution");
    has_not(o.out, "No deploy seconds");
    free_outcome(&o);
}

static void its_picture_is_titled_with_the_strike(void **state)
{
    (void)state;
    outcome o = TOOL("offset", "beside.yaml", "--samples", "64", "--plot", "beside.svg");
    assert_int_equal(o.code, 0);
    assert_string_equal(o.err, "");
    free_outcome(&o);
    char *svg = take_all(fopen("beside.svg", "r"));
    has(svg, "<title>Strike risk: the best choice, elevation 2.00 s, enters a keep-out zone in ");
    has(svg, "deploy seconds set, elevation, s");
    free(svg);
}

/* ---- a zone that some choices enter ---- */

static void the_choice_that_never_strikes_is_the_best(void **state)
{
    (void)state;
    outcome o = TOOL("offset", "turning.yaml", "--samples", "3200");
    says_in_all(o.out, "Best: rotation +1.00 s, elevation +2.00 s: meets all demands.");
    has_not(o.out, "Caution");
    free_outcome(&o);
    o = TOOL("offset", "turning.yaml", "--samples", "3200", "--json");
    json_t *whole = document(o);
    assert_true(json_is_true(json_object_get(whole, "good_enough")));
    assert_string_equal(meets(whole, "keepout_entered"), "meets");
    json_t *choices = json_object_get(whole, "choices");
    assert_string_equal(meets(json_array_get(choices, 3), "keepout_entered"), "meets_not");
    json_decref(whole);
}

static void its_picture_shows_the_rotation(void **state)
{
    (void)state;
    outcome o = TOOL("offset", "turning.yaml", "--samples", "3200", "--plot", "turning.svg");
    assert_string_equal(o.err, "");
    free_outcome(&o);
    char *svg = take_all(fopen("turning.svg", "r"));
    has(svg, "<title>Set rotation 1.00 s, elevation 2.00 s: lands inside the target in ");
    has(svg, "deploy seconds set, rotation, s");
    free(svg);
}

/* ---- other demands ---- */

static void the_stow_is_not_for_the_seconds_to_cure(void **state)
{
    (void)state;
    outcome o =
        TOOL("offset", "turning.yaml", "--samples", "400", "--set", "stow.tolerance=0.01deg");
    says_in_all(o.out, "which stows within tolerance in ");
    has(o.out, "No deploy seconds cure that: all choices are alike in it.");
    free_outcome(&o);
}

static void a_demand_is_set_like_any_key(void **state)
{
    (void)state;
    outcome o =
        TOOL("offset", "beside.yaml", "--samples", "400", "--set", "demands.keepout_entered=1");
    has(o.out, "Best: rotation +0.00 s, elevation +2.00 s");
    has(o.out, "Caution: enters a keep-out zone in 100.00 % of the simulated days.");
    free_outcome(&o);
    o = TOOL("offset", "beside.yaml", "--samples", "64", "--wanted", "99%");
    has(o.out, "wanted      inside the target in 99 % of the simulated days");
    free_outcome(&o);
    REFUSES(2, SAYS("--wanted 100%", "95%"), "offset", "beside.yaml", "--wanted", "100%");
}

static void misses_have_columns(void **state)
{
    (void)state;
    outcome o = TOOL("offset", "turning.yaml", "--samples", "64", "--csv");
    has(o.out, ",room_deg,judged_meets,judged_keepout_entered_missed,");
    has(o.out, ",judged_hard_stop_missed,");
    has(o.out, ",judged_other_fault_missed,");
    has(o.out, ",judged_deploy_inside_missed,");
    has(o.out, ",judged_stow_on_target_missed,");
    has(o.out, ",judged_below_floor_missed,");
    free_outcome(&o);
    o = TOOL("offset", "turning.yaml", "--samples", "64");
    has(o.out, "keep-  hard   other");
    has(o.out, "out % stop % fault %");
    free_outcome(&o);
}

/* ---- nothing varies ---- */

static void without_a_spread_shares_are_sure(void **state)
{
    (void)state;
    write_truck("still.yaml",
                WITH("  target:", "  choices: {elevation: [1.6 s, 2 s, 2.4 s]}\n  target:"), "");
    outcome o = TOOL("offset", "still.yaml", "--samples", "8");
    assert_string_equal(o.err, "");
    says_in_all(o.out, "Best: rotation +0.00 s, elevation +2.40 s: meets all demands.");
    has(o.out, "100.00   (nothing varies)");
    has_not(o.out, "95 % interval ");
    has_not(o.out, "fresh");
    free_outcome(&o);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_zone_that_every_choice_enters_heads_the_answer),
        cmocka_unit_test(every_demand_that_fails_is_named_the_strike_first),
        cmocka_unit_test(a_zone_is_named_once),
        cmocka_unit_test(another_home_order_cures_it),
        cmocka_unit_test(its_picture_is_titled_with_the_strike),
        cmocka_unit_test(the_choice_that_never_strikes_is_the_best),
        cmocka_unit_test(its_picture_shows_the_rotation),
        cmocka_unit_test(the_stow_is_not_for_the_seconds_to_cure),
        cmocka_unit_test(a_demand_is_set_like_any_key),
        cmocka_unit_test(misses_have_columns),
        cmocka_unit_test(without_a_spread_shares_are_sure),
    };
    return cmocka_run_group_tests(tests, enter, leave_directory);
}
