/* motion_stowed.c - deploys that go on from one stow: the digits of whole runs. */
#include "machine_steps.h"

#include "motion/stowed.h"

static const double tried[][SLEW_AXES] = {{0.0, 3.0}, {0.0, 9.0}, {2.0, 1.5}, {-4.5, 0.0}};

static void same_part(const slew_part *a, const slew_part *b)
{
    assert_true(a->says == b->says && a->fault == b->fault && a->axis == b->axis);
    assert_true(a->holds == b->holds && a->on_target == b->on_target);
    assert_memory_equal(a->angle, b->angle, sizeof a->angle);
    assert_true(a->duration == b->duration || (isnan(a->duration) && isnan(b->duration)));
}

static void same_result(const slew_result *a, const slew_result *b)
{
    same_part(&a->stow, &b->stow);
    same_part(&a->deploy, &b->deploy);
    assert_memory_equal(a->stored, b->stored, sizeof a->stored);
    assert_true(a->end == b->end && a->charge == b->charge && a->below_floor == b->below_floor);
    assert_true(a->lowest_voltage == b->lowest_voltage && a->peak_current == b->peak_current);
    assert_true(a->lowest_loaded_voltage == b->lowest_loaded_voltage);
    assert_int_equal(a->visit_count, b->visit_count);
    for (int i = 0; i < a->visit_count && i < SLEW_KEEPOUT_VISITS_MAX; i++)
        assert_true(a->visit[i].box == b->visit[i].box && a->visit[i].left == b->visit[i].left &&
                    a->visit[i].entered == b->visit[i].entered);
}

static void check_example(const char *name, const bench *b)
{
    slew_scenario trial = b->scenario;
    slew_stowed stowed;
    (void)name;
    if (!trial.deploy.given)
        return;
    slew_stowed_run(&b->scenario, &b->prepared, &stowed);
    for (size_t i = 0; i < sizeof tried / sizeof *tried; i++) {
        slew_result whole, after;
        memcpy(trial.deploy.seconds, tried[i], sizeof trial.deploy.seconds);
        slew_run_prepared(&trial, &b->prepared, SLEW_STOW_AND_DEPLOY, NULL, &whole);
        slew_stowed_deploy(&b->scenario, &b->prepared, &stowed, tried[i], &after);
        same_result(&whole, &after);
    }
}

static void deploys_after_one_stow_are_whole_runs(void **state)
{
    (void)state;
    for_every_example(check_example);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(deploys_after_one_stow_are_whole_runs)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
