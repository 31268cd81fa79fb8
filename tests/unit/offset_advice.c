/*
 * offset_advice.c - what an offset says should be changed, one scenario for each piece of advice.
 */
#include "offset_ask.h"

enum { SAMPLES = 128 };

/* truck and day vary a little; 7.5 s of elevation meet the target of 30 to 50 deg */
static slew_scenario common_scenario(void)
{
    slew_scenario s = daily_scenario();
    vary(&s.truck, "elevation.motor.no_load_speed", normal(rpm(3200), rpm(60)));
    vary(&s.day, VOLTAGE, uniform(12.8, 13.8));
    offer(&s, E, 6, 1.5, 1.5);
    return s;
}

typedef struct advised {
    slew_offset offset;
    slew_finer finer;
    slew_advice advice[SLEW_ADVICE_MAX];
    int count;
} advised;

static void advise(const slew_scenario *s, double wanted, advised *a)
{
    const slew_sampling how = samples(SAMPLES);
    a->offset = offset_of(s, &how);
    assert_int_equal(slew_finer_run(s, &how, &a->offset, &a->finer, NULL), SLEW_OK);
    a->count = slew_offset_advise(s, &a->offset, &a->finer, wanted, a->advice);
    assert_in_range(a->count, 0, SLEW_ADVICE_MAX);
}

static const slew_offset_choice *best_of(const advised *a)
{
    return &a->offset.choice[a->offset.best];
}

/* exactly these, in order */
typedef struct expected {
    slew_advice_kind kind;
    int axis;
} expected;

static void says(const advised *a, int count, const expected *e)
{
    for (int i = 0; i < a->count; i++)
        print_message("  %s of %d\n", slew_advice_word(a->advice[i].kind), a->advice[i].axis);
    assert_int_equal(a->count, count);
    for (int i = 0; i < count; i++) {
        assert_int_equal(a->advice[i].kind, e[i].kind);
        assert_int_equal(a->advice[i].axis, e[i].axis);
    }
}

#define SAYS(a, ...)                                                                               \
    says(a, sizeof((const expected[]){__VA_ARGS__}) / sizeof(expected),                            \
         (const expected[]){__VA_ARGS__})

static void enough(void **state)
{
    const slew_scenario s = common_scenario();
    advised a;
    (void)state;
    advise(&s, 0.95, &a);
    SAYS(&a, {SLEW_ADVICE_ENOUGH, SLEW_NO_AXIS});
    near("best", best_of(&a)->seconds[E], 7.5, 0);
    assert_int_equal(a.offset.runner_up, 3);
    near("lead", a.offset.lead.value, best_of(&a)->inside.value - a.offset.choice[3].inside.value,
         1e-12);
    assert_true(a.offset.lead.low > 0 && a.offset.lead.low <= a.offset.lead.value);
    slew_offset_free(&a.offset);
}

static void choices_too_coarse(void **state)
{
    slew_scenario s = common_scenario();
    advised a;
    (void)state;
    aim(&s, E, 36, 46);
    offer(&s, E, 3, 3, 3); /* 6 s are too little, 9 s too much */
    advise(&s, 0.95, &a);
    assert_true(best_of(&a)->inside.value < 0.95);
    SAYS(&a, {SLEW_ADVICE_TOO_COARSE, SLEW_NO_AXIS});
    const slew_offset_choice *will_do = &a.finer.at[a.advice[0].step];
    assert_true(will_do->inside.value >= 0.95);
    assert_true(a.advice[0].step == 0 || a.finer.at[a.advice[0].step - 1].inside.value < 0.95);
    assert_true(will_do->seconds[E] > 6 && will_do->seconds[E] < 9);
    slew_offset_free(&a.offset);
}

static void target_too_narrow_for_the_spread(void **state)
{
    slew_scenario s = common_scenario();
    advised a;
    (void)state;
    aim(&s, E, 41, 43);
    advise(&s, 0.95, &a);
    SAYS(&a, {SLEW_ADVICE_TOO_WIDE, E});
    const slew_summary *angle = &best_of(&a)->angle[E];
    assert_true(angle->p95 - angle->p05 > degrees(2));
    slew_offset_free(&a.offset);
}

static void target_beyond_the_choices(void **state)
{
    slew_scenario s = common_scenario();
    advised a;
    (void)state;
    aim(&s, E, 65, 88);
    offer(&s, E, 3, 1.5, 1.5);
    advise(&s, 0.95, &a);
    SAYS(&a, {SLEW_ADVICE_NEVER_INSIDE, E}, {SLEW_ADVICE_OTHER_SECONDS, SLEW_NO_AXIS});
    assert_int_equal(slew_offset_nearest(&s, &a.offset, E), 2);
    assert_true(slew_target_miss(&s, E, a.offset.choice[2].angle[E].median) < degrees(-40));
    assert_false(a.offset.ever_inside[E]);
    assert_true(a.offset.ever_inside[R]);
    slew_offset_free(&a.offset);
}

static void rotation_stowed_off_its_target(void **state)
{
    slew_scenario s = common_scenario();
    advised a;
    (void)state;
    aim(&s, R, 10, 20);
    advise(&s, 0.95, &a);
    SAYS(&a, {SLEW_ADVICE_NEVER_INSIDE, R}, {SLEW_ADVICE_NOT_DRIVEN, R},
         {SLEW_ADVICE_OTHER_SECONDS, SLEW_NO_AXIS});
    near("outside", best_of(&a)->outside[R].value, 1, 0);
    slew_offset_free(&a.offset);
}

static void faults_dominate(void **state)
{
    slew_scenario s = common_scenario();
    advised a;
    (void)state;
    set_key(&s, SLEW_LAYER_TODAY, "rotation.home.present", 0);
    advise(&s, 0.95, &a);
    SAYS(&a, {SLEW_ADVICE_FAULTS, SLEW_NO_AXIS});
    const slew_usual_fault *f = &best_of(&a)->usual_fault;
    assert_int_equal(f->fault, SLEW_FAULT_HOME_NOT_FOUND);
    assert_int_equal(f->axis, R);
    assert_true(f->in_stow);
    near("all of them", f->share.value, 1, 0);
    slew_offset_free(&a.offset);
}

static void fault_of_the_deploy_is_named(void **state)
{
    slew_scenario s = common_scenario();
    advised a;
    (void)state;
    s.setup.axis[E].stops.high = degrees(60);
    offer(&s, E, 1, 14, 0);
    advise(&s, 0.95, &a);
    const slew_usual_fault *f = &best_of(&a)->usual_fault;
    assert_int_equal(a.advice[0].kind, SLEW_ADVICE_FAULTS);
    assert_int_equal(f->fault, SLEW_FAULT_HARD_STOP);
    assert_int_equal(f->axis, E);
    assert_false(f->in_stow);
    slew_offset_free(&a.offset);
}

static void axis_never_moves(void **state)
{
    slew_scenario s = common_scenario();
    advised a;
    (void)state;
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, "elevation.load.friction", 600);
    advise(&s, 0.95, &a);
    SAYS(&a, {SLEW_ADVICE_NEVER_MOVES, E});
    assert_false(a.offset.deploy_moves[E]);
    assert_true(a.offset.moves[E]);
    slew_offset_free(&a.offset);
}

/* a worn gear and a heavy barrel sink in the deploy of most samples */
static void barrel_does_not_hold(void **state)
{
    slew_scenario s = common_scenario();
    advised a;
    (void)state;
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, "elevation.gear.backward_efficiency", 0.95);
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, "elevation.load.friction", 0.5);
    vary(&s.day, "elevation.load.mass", uniform(5, 60));
    advise(&s, 0.95, &a);
    assert_true(a.count > 0);
    assert_int_equal(a.advice[0].kind, SLEW_ADVICE_NO_VERDICT);
    assert_true(best_of(&a)->no_verdict.value > 0.3);
    slew_offset_free(&a.offset);
}

static void box_entered_most_often_is_named(void **state)
{
    slew_scenario s = common_scenario();
    advised a;
    (void)state;
    s.keepout.count = 2;
    s.keepout.box[0] = (slew_keepout_box){.name = "higher",
                                          .axis = {{-INFINITY, INFINITY}, {degrees(44), INFINITY}}};
    s.keepout.box[1] = (slew_keepout_box){.name = "high",
                                          .axis = {{-INFINITY, INFINITY}, {degrees(38), INFINITY}}};
    advise(&s, 0.95, &a);
    SAYS(&a, {SLEW_ADVICE_ENOUGH, SLEW_NO_AXIS}, {SLEW_ADVICE_KEEPOUT, SLEW_NO_AXIS});
    assert_int_equal(best_of(&a)->usual_box.box, 1);
    assert_true(best_of(&a)->usual_box.share.value > 0.5);
    near("share", best_of(&a)->usual_box.share.value, best_of(&a)->keepout.value, 1e-12);
    slew_offset_free(&a.offset);
}

static void target_beyond_the_stops_is_refused(void **state)
{
    slew_scenario s = common_scenario();
    const slew_sampling how = samples(SAMPLES);
    slew_offset offset;
    slew_error error;
    (void)state;
    aim(&s, E, 91, 95);
    assert_int_equal(slew_offset_run(&s, &how, &offset, &error), SLEW_ERROR_INPUT);
    assert_string_equal(error.key, "deploy.target.elevation.low");
    assert_non_null(strstr(error.message, "90 deg"));
    aim(&s, E, 30, 50);
    aim(&s, R, -180, -171);
    assert_int_equal(slew_offset_run(&s, &how, &offset, &error), SLEW_ERROR_INPUT);
    assert_string_equal(error.key, "deploy.target.rotation.high");
    /* a stop that varies may let it in */
    vary(&s.truck, "rotation.stops.low", uniform(degrees(-172), degrees(-168)));
    offset = offset_of(&s, &how);
    slew_offset_free(&offset);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(enough),
        cmocka_unit_test(choices_too_coarse),
        cmocka_unit_test(target_too_narrow_for_the_spread),
        cmocka_unit_test(target_beyond_the_choices),
        cmocka_unit_test(rotation_stowed_off_its_target),
        cmocka_unit_test(faults_dominate),
        cmocka_unit_test(fault_of_the_deploy_is_named),
        cmocka_unit_test(axis_never_moves),
        cmocka_unit_test(barrel_does_not_hold),
        cmocka_unit_test(box_entered_most_often_is_named),
        cmocka_unit_test(target_beyond_the_stops_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
