/* machine_keys.c - what a stepped machine makes of each key (slew_key_used) is what it does. */
#include "../support.h"

/* invented; the deploy's keys are given too */
static void read_daily(slew_scenario *scenario)
{
    assert_int_equal(slew_scenario_read_file("examples/daily.yaml", NULL, scenario), SLEW_OK);
}

/* the same value, or the next one that a machine could have; false: there is none */
static bool nudge(slew_scenario *s, int key)
{
    const slew_key *own = slew_key_at(key);
    double value = slew_scenario_get_number(s, key);
    if (own->kind == SLEW_KEY_NUMBER && isfinite(value))
        for (int sign = -1; sign <= 1; sign += 2) {
            double next = value != 0 ? value * (1 + sign * 1e-3) : sign * 1e-3;
            if (slew_scenario_set_number(s, SLEW_LAYER_FILE, key, next) == SLEW_OK)
                return true;
        }
    return own->kind == SLEW_KEY_YES_NO &&
           slew_scenario_set_number(s, SLEW_LAYER_FILE, key, value == 0) == SLEW_OK;
}

/* both axes are driven and move */
static void in_motion(const slew_scenario *scenario, slew_machine *m)
{
    static slew_prepared prepared;
    slew_event event;
    assert_int_equal(slew_prepare(scenario, SLEW_STOW_ONLY, &prepared, NULL), SLEW_OK);
    slew_machine_start(scenario, &prepared, SLEW_OCCASION_STOW, m);
    assert_true(slew_machine_jog(m, SLEW_ROTATION, 1) && slew_machine_jog(m, SLEW_ELEVATION, 1));
    while (slew_machine_advance(m, 1.0, &event))
        continue;
    assert_true(m->plant.moving[0] && m->plant.moving[1]);
}

static bool has_end(const char *path, const char *end)
{
    size_t length = strlen(path), own = strlen(end);
    return length >= own && strcmp(path + length - own, end) == 0;
}

static void what_may_change_in_motion_does(void **state)
{
    (void)state;
    static slew_scenario scenario, other;
    static slew_machine moving, m;
    slew_setup setup;
    slew_error error;
    int tried[SLEW_USE_NONE + 1] = {0};
    read_daily(&scenario);
    in_motion(&scenario, &moving);
    for (int key = 0; key < slew_key_count(); key++) {
        slew_key_use use = slew_key_used(key);
        other = scenario;
        if (!slew_key_at(key)->layered || !nudge(&other, key))
            continue;
        m = moving;
        slew_scenario_resolve(&other, SLEW_OCCASION_STOW, &setup);
        slew_status status = slew_machine_change(&m, &setup, &error);
        /* where an axis starts is past */
        bool fixed = use == SLEW_USE_START && !has_end(slew_key_at(key)->path, ".start");
        if (status != (fixed ? SLEW_ERROR_INPUT : SLEW_OK))
            fail_msg("%s: %s", slew_key_at(key)->path, error.message);
        tried[use]++;
    }
    assert_true(tried[SLEW_USE_PLANT] > 30 && tried[SLEW_USE_CONDITION] >= 4);
    assert_true(tried[SLEW_USE_START] >= 6 && tried[SLEW_USE_CONTROLLER] >= 7);
}

static void what_no_machine_has_is_told(void **state)
{
    (void)state;
    assert_int_equal(slew_key_used(-1), SLEW_USE_NONE);
    assert_int_equal(slew_key_used(slew_key_count()), SLEW_USE_NONE);
    assert_int_equal(slew_key_used(slew_key_find("title")), SLEW_USE_NONE);
    assert_int_equal(slew_key_used(slew_key_find("demands.confidence")), SLEW_USE_NONE);
    assert_int_equal(slew_key_used(slew_key_find("rotation.home.magnet.gap")), SLEW_USE_NONE);
    assert_int_equal(slew_key_used(slew_key_find("stow.point.rotation")), SLEW_USE_TEACHING);
    assert_int_equal(slew_key_used(slew_key_find("deploy.seconds.rotation")), SLEW_USE_PROGRAM);
}

/* exact by definition: the inch, the degree Celsius; 1 bar = 1e5 Pa */
static void units_have_their_scale(void **state)
{
    (void)state;
    slew_scale scale;
    assert_true(slew_unit_scale("length", "in", &scale));
    assert_string_equal(scale.si, "m");
    close_to("in", scale.factor, 1 / 0.0254, 1e-15);
    assert_true(slew_unit_scale("temperature", "degC", &scale));
    near("degC", 300 * scale.factor + scale.offset, 26.85, 1e-12);
    assert_true(slew_unit_scale("temperature difference", "K", &scale));
    near("K", scale.offset, 0, 0);
    assert_true(slew_unit_scale("share", "%", &scale));
    assert_string_equal(scale.si, "");
    near("%", scale.factor, 100, 0);
    assert_false(slew_unit_scale("length", "bar", &scale));
    assert_false(slew_unit_scale("wire gauge", "AWG", &scale));
    assert_false(slew_unit_scale("love", "m", &scale));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_may_change_in_motion_does),
        cmocka_unit_test(what_no_machine_has_is_told),
        cmocka_unit_test(units_have_their_scale),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
