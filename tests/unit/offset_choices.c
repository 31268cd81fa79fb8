/*
 * offset_choices.c - the shares and angles of `offset` are those of the runs they are made of.
 */
#include "../support.h"

#include "slewtime/study.h"

/* what varies: the voltage of the day, 11 to 15 V */
static slew_scenario varied_scenario(void)
{
    slew_scenario s = daily_scenario();
    s.truck.count = 0;
    s.day.count = 1;
    s.day.item[0] = (slew_variation){.key = slew_key_find("supply.main.voltage"),
                                     .distribution = SLEW_UNIFORM,
                                     .low = 11.0,
                                     .high = 15.0};
    s.deploy.choice_count[SLEW_ROTATION] = 2;
    s.deploy.choices[SLEW_ROTATION][0] = 0.0;
    s.deploy.choices[SLEW_ROTATION][1] = 2.0;
    s.deploy.choice_count[SLEW_ELEVATION] = 2;
    s.deploy.choices[SLEW_ELEVATION][0] = 6.0;
    s.deploy.choices[SLEW_ELEVATION][1] = 7.5;
    return s;
}

static slew_sampling few_samples(void)
{
    slew_sampling how = slew_sampling_default();
    how.samples = 64;
    how.threads = 2;
    return how;
}

static slew_offset offset_of(const slew_scenario *s, const slew_sampling *how)
{
    slew_offset offset;
    assert_int_equal(slew_offset_run(s, how, &offset, NULL), SLEW_OK);
    return offset;
}

static void keep_deploy(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                        double *figures)
{
    slew_result r;
    (void)context;
    slew_run_prepared(drawn, prepared, SLEW_STOW_AND_DEPLOY, NULL, &r);
    figures[0] = r.deploy.angle[SLEW_ELEVATION];
    figures[1] = r.deploy.says == SLEW_DEPLOYED && r.deploy.on_target;
}

/* each choice against an ensemble with its seconds in the scenario */
static void each_choice_is_an_ensemble_of_its_own(void **state)
{
    slew_scenario s = varied_scenario();
    slew_sampling how = few_samples();
    slew_offset offset = offset_of(&s, &how);
    (void)state;
    assert_int_equal(offset.count, 4);
    for (int i = 0; i < offset.count; i++) {
        slew_ensemble e;
        const slew_offset_choice *c = &offset.choice[i];
        double lowest = INFINITY, highest = -INFINITY, inside = 0.0;
        memcpy(s.deploy.seconds, c->seconds, sizeof c->seconds);
        assert_int_equal(
            slew_ensemble_run(&s, SLEW_STOW_AND_DEPLOY, &how, keep_deploy, NULL, 2, &e, NULL),
            SLEW_OK);
        for (int64_t k = 0; k < e.done; k++) {
            lowest = fmin(lowest, e.figure[2 * k]);
            highest = fmax(highest, e.figure[2 * k]);
            inside += e.figure[2 * k + 1] / (double)e.done;
        }
        near("lowest", c->angle[SLEW_ELEVATION].lowest, lowest, 0.0);
        near("highest", c->angle[SLEW_ELEVATION].highest, highest, 0.0);
        near("inside", c->inside.value, inside, 1e-12);
        assert_true(c->inside.low <= inside && inside <= c->inside.high);
        slew_ensemble_free(&e);
    }
    slew_offset_free(&offset);
}

static void pairs_are_in_order_rotation_outermost(void **state)
{
    const slew_scenario s = varied_scenario();
    const slew_sampling how = few_samples();
    const double expected[4][2] = {{0.0, 6.0}, {0.0, 7.5}, {2.0, 6.0}, {2.0, 7.5}};
    slew_offset offset = offset_of(&s, &how);
    (void)state;
    for (int i = 0; i < 4; i++)
        assert_memory_equal(offset.choice[i].seconds, expected[i], sizeof expected[i]);
    slew_offset_free(&offset);
}

/* 2 s of rotation leave the target of 6 deg; 7.5 s of elevation meet it more often than 6 s */
static void best_choice_is_most_often_inside(void **state)
{
    const slew_scenario s = varied_scenario();
    const slew_sampling how = few_samples();
    slew_offset offset = offset_of(&s, &how);
    (void)state;
    assert_int_equal(offset.best, 1);
    for (int i = 0; i < offset.count; i++)
        assert_true(offset.choice[i].inside.value <= offset.choice[1].inside.value);
    near("turned away", offset.choice[3].inside.value, 0.0, 0.0);
    slew_offset_free(&offset);
}

static void faults_are_counted(void **state)
{
    slew_scenario s = varied_scenario();
    const slew_sampling how = few_samples();
    (void)state;
    s.setup.stow_cancel_at = 1.0; /* not while teaching */
    slew_offset offset = offset_of(&s, &how);
    near("cancelled", offset.choice[0].fault.value, 1.0, 0.0);
    near("inside", offset.choice[0].inside.value, 0.0, 0.0);
    slew_offset_free(&offset);
}

static void keepout_visits_are_counted(void **state)
{
    slew_scenario s = varied_scenario();
    const slew_sampling how = few_samples();
    (void)state;
    s.keepout.count = 1;
    s.keepout.box[0] = (slew_keepout_box){.name = "everywhere",
                                          .axis = {{-INFINITY, INFINITY}, {-INFINITY, INFINITY}}};
    slew_offset offset = offset_of(&s, &how);
    near("entered", offset.choice[0].keepout.value, 1.0, 0.0);
    slew_offset_free(&offset);
}

static void threads_do_not_matter(void **state)
{
    const slew_scenario s = varied_scenario();
    slew_sampling how = few_samples();
    (void)state;
    how.threads = 1;
    slew_offset one = offset_of(&s, &how);
    how.threads = 3;
    slew_offset three = offset_of(&s, &how);
    assert_memory_equal(one.choice, three.choice, 4 * sizeof *one.choice);
    slew_offset_free(&one);
    slew_offset_free(&three);
}

static void scenario_without_deploy_is_refused(void **state)
{
    slew_scenario s = varied_scenario();
    const slew_sampling how = few_samples();
    slew_offset offset;
    slew_error error;
    (void)state;
    s.deploy.given = false;
    assert_int_equal(slew_offset_run(&s, &how, &offset, &error), SLEW_ERROR_INPUT);
    assert_string_equal(error.key, "deploy");
    slew_offset_free(&offset);
}

static bool stop_at_once(void *context, int64_t done)
{
    (void)context;
    (void)done;
    return false;
}

static void stopped_offset_tells_what_is_done(void **state)
{
    const slew_scenario s = varied_scenario();
    slew_sampling how = few_samples();
    slew_offset offset;
    (void)state;
    how.samples = 6400;
    how.threads = 1;
    how.progress = stop_at_once;
    assert_int_equal(slew_offset_run(&s, &how, &offset, NULL), SLEW_ERROR_STOPPED);
    assert_true(offset.samples > 0 && offset.samples < 6400);
    assert_true(offset.choice[0].angle[SLEW_ELEVATION].median > 0.0);
    slew_offset_free(&offset);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_choice_is_an_ensemble_of_its_own),
        cmocka_unit_test(pairs_are_in_order_rotation_outermost),
        cmocka_unit_test(best_choice_is_most_often_inside),
        cmocka_unit_test(faults_are_counted),
        cmocka_unit_test(keepout_visits_are_counted),
        cmocka_unit_test(threads_do_not_matter),
        cmocka_unit_test(scenario_without_deploy_is_refused),
        cmocka_unit_test(stopped_offset_tells_what_is_done),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
