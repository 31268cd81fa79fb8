/* motion_left_out.c - what the model leaves out, by the reference's richer truth: the limits that
 * lib/MODEL.md states. The table is printed by tests/bench/left_out.c. */
#include "../support.h"

#include "../reference/ref_rich.h"

enum { E = SLEW_ELEVATION };

/* times neither rounded nor looked at on a grid: the richer truth has no such controller */
static slew_scenario smooth_daily(void)
{
    slew_scenario s = daily_scenario();
    s.setup.controller.clock = 0.0;
    s.setup.controller.sample = 0.0;
    set_key(&s, SLEW_LAYER_TEACH, "supply.main.voltage", 12.6);
    return s;
}

static ref_rich rich(const slew_scenario *s, ref_effect effect, bool pressed)
{
    slew_setup setup[3];
    ref_rich r;
    for (int i = 0; i < 3; i++)
        slew_scenario_resolve(s, (slew_occasion)i, &setup[i]);
    assert_int_equal(ref_rich_run(s, setup, effect, pressed, &r), 0);
    return r;
}

/* Without an effect it is the library's truth, but for friction smoothed over 0.02 rad/s: a few
 * 1e-4 deg in running out, and the times of one crossing. */
static void plain_truth_is_that_of_the_library(void **state)
{
    const slew_scenario s = smooth_daily();
    const ref_rich r = rich(&s, REF_PLAIN, false);
    slew_result ours;
    slew_error error;
    (void)state;
    assert_int_equal(slew_run(&s, SLEW_STOW_AND_DEPLOY, NULL, &ours, &error), SLEW_OK);
    near("stored", r.stored, ours.stored[E], 1e-3);
    near("stow", r.stow, ours.stow.angle[E], degrees(0.01));
    near("deploy", r.deploy, ours.deploy.angle[E], degrees(0.01));
}

static void effects_left_out_are_below_a_tenth_of_a_degree(void **state)
{
    const slew_scenario s = smooth_daily();
    const ref_rich plain = rich(&s, REF_PLAIN, false);
    (void)state;
    for (int i = REF_PLAIN + 1; i < REF_SOFT_STOP; i++) {
        const ref_rich with = rich(&s, (ref_effect)i, false);
        assert_true(with.deploy != plain.deploy);
        near("deploy", with.deploy, plain.deploy, degrees(0.1));
    }
    near("a stop never touched", rich(&s, REF_SOFT_STOP, false).deploy, plain.deploy, 1e-12);
}

/* pressed on it, the deploy starts by what the stop gives */
static void elastic_stop_counts_where_it_is_pressed(void **state)
{
    const slew_scenario s = smooth_daily();
    const ref_rich hard = rich(&s, REF_PLAIN, true), soft = rich(&s, REF_SOFT_STOP, true);
    (void)state;
    assert_true(hard.stow < degrees(-20.0) && soft.stow < hard.stow - degrees(0.1));
    near("deploy", soft.deploy - hard.deploy, soft.stow - hard.stow, degrees(0.05));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plain_truth_is_that_of_the_library),
        cmocka_unit_test(effects_left_out_are_below_a_tenth_of_a_degree),
        cmocka_unit_test(elastic_stop_counts_where_it_is_pressed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
