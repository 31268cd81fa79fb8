/*
 * offset_blame.c - what an offset says of faults, of axes that stand still, and of neither.
 */
#include "offset_ask.h"

enum { SAMPLES = 128 };

/* the voltage varies; 6, 7.5 and 9 s of elevation; 7.5 s are inside in nearly all samples */
static slew_scenario varied_scenario(void)
{
    slew_scenario s = daily_scenario();
    vary(&s.day, VOLTAGE, uniform(12.5, 14));
    offer(&s, E, 3, 6, 1.5);
    return s;
}

typedef struct advised {
    slew_offset offset; /* without its choices */
    slew_offset_choice best;
    slew_finer finer;
    int count;
    slew_advice advice[SLEW_ADVICE_MAX];
} advised;

static advised advise(const slew_scenario *s, double wanted)
{
    const slew_sampling how = samples(SAMPLES);
    advised a;
    a.offset = offset_of(s, &how);
    assert_int_equal(slew_finer_run(s, &how, &a.offset, &a.finer, NULL), SLEW_OK);
    a.best = a.offset.choice[a.offset.best];
    a.count = slew_offset_advise(s, &a.offset, &a.finer, wanted, a.advice);
    assert_in_range(a.count, 0, SLEW_ADVICE_MAX);
    slew_offset_free(&a.offset);
    return a;
}

/* NULL: it is not said */
static const slew_advice *seek_advice(const advised *a, slew_advice_kind kind, int axis)
{
    for (int i = 0; i < a->count; i++)
        if (a->advice[i].kind == kind && a->advice[i].axis == axis)
            return &a->advice[i];
    return NULL;
}

static void says(const advised *a, slew_advice_kind kind, int axis)
{
    if (seek_advice(a, kind, axis) != NULL)
        return;
    for (int i = 0; i < a->count; i++)
        print_message("  said: %s, axis %d\n", slew_advice_word(a->advice[i].kind),
                      a->advice[i].axis);
    fail_msg("%s of axis %d is not said", slew_advice_word(kind), axis);
}

/* this and nothing else */
static void says_only(const advised *a, slew_advice_kind kind, int axis)
{
    says(a, kind, axis);
    assert_int_equal(a->count, 1);
}

static void faults_prevail(void **state)
{
    slew_scenario s = varied_scenario();
    (void)state;
    s.setup.stow_cancel_at = 1.0; /* not while teaching */
    advised a = advise(&s, 0.95);
    says_only(&a, SLEW_ADVICE_FAULTS, SLEW_NO_AXIS);
    assert_int_equal(a.best.usual_fault.fault, SLEW_FAULT_CANCELLED);
    assert_int_equal(a.best.usual_fault.axis, SLEW_NO_AXIS);
    assert_true(a.best.usual_fault.in_stow);
    near("share", a.best.usual_fault.share.value, 1, 0);
}

/* one day in ten the supply breaks down: too often with the right seconds, but not what is wrong
 * with the choices */
static void faults_are_what_is_left(void **state)
{
    slew_scenario s = varied_scenario();
    (void)state;
    s.deploy.same_day = true;
    s.day.item[0].distribution = SLEW_TABLE;
    s.day.item[0].count = 2;
    s.day.item[0].value[0] = 9.0;
    s.day.item[0].value[1] = 13.4;
    s.day.item[0].weight[0] = 1;
    s.day.item[0].weight[1] = 9;
    s.deploy.choice_count[E] = 2;
    s.deploy.choices[E][1] = 9.0;
    aim(&s, E, 38, 48);
    advised a = advise(&s, 0.95);
    near("faults", a.best.fault.value, 0.1, 0.03);
    says(&a, SLEW_ADVICE_FAULTS, SLEW_NO_AXIS);
    assert_int_equal(seek_advice(&a, SLEW_ADVICE_FAULTS, SLEW_NO_AXIS)->step, SLEW_FINER_ANY);
    a = advise(&s, 0.8); /* then the right seconds will do */
    assert_null(seek_advice(&a, SLEW_ADVICE_FAULTS, SLEW_NO_AXIS));
    says(&a, SLEW_ADVICE_TOO_COARSE, SLEW_NO_AXIS);
}

/* part of it runs into the stop and faults there; shorter times would not, but end below */
static void spread_too_wide_before_a_stop(void **state)
{
    slew_scenario s = varied_scenario();
    (void)state;
    s.day.item[0].low = 11.0;
    s.day.item[0].high = 15.0;
    s.setup.axis[E].stops.high = degrees(46);
    s.setup.axis[E].start = degrees(20);
    aim(&s, E, 43, 45);
    advised a = advise(&s, 0.95);
    says(&a, SLEW_ADVICE_TOO_WIDE, E);
    assert_null(seek_advice(&a, SLEW_ADVICE_FAULTS, SLEW_NO_AXIS));
    assert_int_equal(a.finer.at[SLEW_FINER_ANY].usual_fault.fault, SLEW_FAULT_HARD_STOP);
}

/* a heavy barrel on a good gear holds while it is steep, not where the stow lowers it to */
static void an_axis_does_not_hold(void **state)
{
    slew_scenario s = varied_scenario();
    (void)state;
    s.setup.axis[E].gear.efficiency = 0.7;
    s.setup.axis[E].load.mass = 60.0;
    s.setup.axis[E].start = s.setup.axis[E].home.angle = degrees(85.0);
    s.stow.has_times = true;
    s.stow.times[R] = 0;
    s.stow.times[E] = -4.0;
    advised a = advise(&s, 0.95);
    says_only(&a, SLEW_ADVICE_NO_VERDICT, SLEW_NO_AXIS);
    near("no verdict", a.best.no_verdict.value, 1, 0);
    near("fault", a.best.fault.value, 0, 0);
}

static void too_stiff_on_deploy_day(void **state)
{
    slew_scenario s = varied_scenario();
    (void)state;
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, "elevation.load.friction", 900.0);
    advised a = advise(&s, 0.95);
    says_only(&a, SLEW_ADVICE_NEVER_MOVES, E);
    assert_int_equal(a.best.usual_fault.fault, SLEW_FAULT_OVERLOAD);
    assert_int_equal(a.best.usual_fault.axis, E);
    assert_false(a.best.usual_fault.in_stow);
    assert_true(a.offset.moves[E]); /* in the stow */
    assert_false(a.offset.deploy_moves[E]);
}

/* the rotation is to be turned after the elevation, whose fault ends the deploy before */
static void never_its_turn(void **state)
{
    slew_scenario s = varied_scenario();
    (void)state;
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, "elevation.load.friction", 900.0);
    s.deploy.choices[R][0] = 0.3;
    advised a = advise(&s, 0.95);
    says(&a, SLEW_ADVICE_NEVER_MOVES, R);
    says(&a, SLEW_ADVICE_NEVER_MOVES, E);
    assert_int_equal(a.count, 2);
}

/* nothing turns: the supply breaks down under the first drive */
static void a_dead_supply(void **state)
{
    slew_scenario s = varied_scenario();
    (void)state;
    set_key(&s, SLEW_LAYER_TODAY, "supply.shared_load", 0);
    set_key(&s, SLEW_LAYER_TODAY, "supply.feed.joint_resistance", 2);
    advised a = advise(&s, 0.95);
    says(&a, SLEW_ADVICE_NEVER_MOVES, R);
    says(&a, SLEW_ADVICE_NEVER_MOVES, E);
    assert_int_equal(a.best.usual_fault.fault, SLEW_FAULT_UNDERVOLTAGE);
    assert_false(a.offset.moves[R] || a.offset.moves[E]);
    assert_null(seek_advice(&a, SLEW_ADVICE_NEVER_INSIDE, E));
}

/* an axis that is not to be driven may stand still in peace */
static void not_driven_is_not_stuck(void **state)
{
    const slew_scenario s = varied_scenario();
    (void)state;
    advised a = advise(&s, 0.95);
    assert_false(a.offset.deploy_moves[R]);
    assert_null(seek_advice(&a, SLEW_ADVICE_NEVER_MOVES, R));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(faults_prevail),
        cmocka_unit_test(faults_are_what_is_left),
        cmocka_unit_test(spread_too_wide_before_a_stop),
        cmocka_unit_test(an_axis_does_not_hold),
        cmocka_unit_test(too_stiff_on_deploy_day),
        cmocka_unit_test(never_its_turn),
        cmocka_unit_test(a_dead_supply),
        cmocka_unit_test(not_driven_is_not_stuck),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
