/* map_judge.c - what a run of some parts amounts to: only the parts that were run count. */
#include "scenario_text.h"

#include "slewtime/map.h"

static outcome o;

static slew_map_point judge(slew_parts parts)
{
    static slew_prepared prepared;
    static slew_result result;
    assert_int_equal(slew_prepare(&o.scenario, parts, &prepared, NULL), SLEW_OK);
    slew_run_prepared(&o.scenario, &prepared, parts, NULL, &result);
    return slew_map_judge(&o.scenario, parts, &prepared, &result);
}

static void set(slew_layer_id layer, const char *path, const char *value)
{
    const slew_error_sink none = {0};
    assert_int_equal(slew_scenario_set(&o.scenario, layer, path, value, none), SLEW_OK);
}

static int enter(void **state)
{
    (void)state;
    read_text(&o, FULL);
    return o.status == SLEW_OK ? 0 : -1;
}

static void all_is_well(void **state)
{
    (void)state;
    assert_int_equal(judge(SLEW_STOW_AND_DEPLOY).outcome, SLEW_OUTCOME_OK);
    assert_int_equal(judge(SLEW_STOW_ONLY).outcome, SLEW_OUTCOME_OK);
    assert_int_equal(judge(SLEW_STOW_ONLY).axis, SLEW_NO_AXIS);
}

static void a_deploy_that_was_not_asked_for_does_not_count(void **state)
{
    (void)state;
    set(SLEW_LAYER_FILE, "deploy.seconds.elevation", "1 s");
    slew_map_point both = judge(SLEW_STOW_AND_DEPLOY);
    assert_int_equal(both.outcome, SLEW_OUTCOME_OFF_TARGET);
    assert_int_equal(both.axis, SLEW_ELEVATION);
    assert_int_equal(judge(SLEW_STOW_ONLY).outcome, SLEW_OUTCOME_OK);
}

/* a deploy alone begins at the start, which is off the point and on a stop */
static void a_stow_that_was_not_asked_for_does_not_count(void **state)
{
    (void)state;
    set(SLEW_LAYER_FILE, "elevation.start", "-20 deg");
    set(SLEW_LAYER_FILE, "rotation.start", "0 deg");
    o.scenario.keepout.count = 0;
    slew_map_point alone = judge(SLEW_DEPLOY_ONLY);
    assert_int_equal(alone.outcome, SLEW_OUTCOME_OK);
    assert_true(alone.angle[SLEW_ELEVATION] > 0);
}

/* the same as the map says of the same scenario, which is pressed on its stop today */
static void as_the_map_judges(void **state)
{
    (void)state;
    set(SLEW_LAYER_FILE, "stow.point.elevation", "-18.5 deg");
    set(SLEW_LAYER_FILE, "stow.tolerance", "3 deg");
    o.scenario.keepout.count = 0;
    set(SLEW_LAYER_TODAY, "supply.main.voltage", "14.2 V");
    slew_map_point here = judge(SLEW_STOW_AND_DEPLOY);
    slew_map_point there = slew_map_ask(&o.scenario, NULL, 0, NULL, NULL);
    assert_int_equal(here.outcome, SLEW_OUTCOME_PRESSED);
    assert_int_equal(here.axis, SLEW_ELEVATION);
    assert_int_equal(there.outcome, here.outcome);
    assert_memory_equal(there.angle, here.angle, sizeof here.angle);
}

/* one key set in one layer, and what the run amounts to */
static slew_map_point ask(slew_layer_id layer, const char *path, double value, slew_error *error)
{
    const slew_vary one = {
        .layer = layer, .key = slew_key_find(path), .from = value, .to = value + 1, .steps = 2};
    return slew_map_ask(&o.scenario, &one, 1, &value, error);
}

static void every_fault_has_its_outcome(void **state)
{
    (void)state;
    static const struct {
        const char *path;
        double value;
        slew_outcome outcome;
    } today[] = {
        {"supply.main.voltage", 13, SLEW_OUTCOME_OK},
        {"supply.main.voltage", 8.5, SLEW_OUTCOME_UNDERVOLTAGE},
        {"controller.move_limit", 0.5, SLEW_OUTCOME_TIMEOUT},
        {"stow.cancel_at", 1, SLEW_OUTCOME_CANCELLED},
        {"rotation.home.angle", 3.1, SLEW_OUTCOME_HOME_NOT_FOUND}, /* beyond the stop */
        {"supply.floor", 12.9, SLEW_OUTCOME_BELOW_FLOOR},
    };
    for (size_t i = 0; i < sizeof today / sizeof *today; i++) {
        slew_error error = {0};
        slew_map_point p = ask(SLEW_LAYER_TODAY, today[i].path, today[i].value, &error);
        if (p.outcome != today[i].outcome)
            fail_msg("%s = %g: %s: %s", today[i].path, today[i].value, slew_outcome_word(p.outcome),
                     error.message);
        assert_true(p.value[0] == today[i].value);
    }
    set(SLEW_LAYER_TODAY, "elevation.load.mass", "60 kg");
    assert_int_equal(ask(SLEW_LAYER_TODAY, "elevation.gear.backward_efficiency", 0.9, NULL).outcome,
                     SLEW_OUTCOME_DOES_NOT_HOLD);
}

/* what can't be run or taught has its reason, as the run itself would say it */
static void what_can_not_be_run_has_its_reason(void **state)
{
    slew_error error;
    (void)state;
    assert_int_equal(ask(SLEW_LAYER_TODAY, "supply.main.voltage", 0.3, &error).outcome,
                     SLEW_OUTCOME_UNFIT);
    assert_true(error.message[0] != '\0');
    assert_int_equal(ask(SLEW_LAYER_TEACH, "supply.main.voltage", 6, &error).outcome,
                     SLEW_OUTCOME_UNTAUGHT);
    assert_int_equal(error.status, SLEW_ERROR_TEACH);
    assert_int_equal(ask(SLEW_LAYER_TODAY, "supply.main.voltage", -1, &error).outcome,
                     SLEW_OUTCOME_UNFIT); /* out of its range */
    assert_int_equal(ask(SLEW_LAYER_FILE, "rotation.start", 9, &error).outcome,
                     SLEW_OUTCOME_UNFIT); /* beyond the stop */
    assert_int_equal(ask(SLEW_LAYER_FILE, "rotation.start", 9, NULL).outcome, SLEW_OUTCOME_UNFIT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup(all_is_well, enter),
        cmocka_unit_test_setup(a_deploy_that_was_not_asked_for_does_not_count, enter),
        cmocka_unit_test_setup(a_stow_that_was_not_asked_for_does_not_count, enter),
        cmocka_unit_test_setup(as_the_map_judges, enter),
        cmocka_unit_test_setup(every_fault_has_its_outcome, enter),
        cmocka_unit_test_setup(what_can_not_be_run_has_its_reason, enter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
