/*
 * motion_stowed.c - deploys that go on from one stow, or from a beginning of their own: the digits
 * of whole runs.
 */
#include "../same_result.h"
#include "machine_steps.h"

#include "motion/stowed.h"

static const double tried[][SLEW_AXES] = {{0.0, 3.0}, {0.0, 9.0}, {2.0, 1.5}, {-4.5, 0.0}};

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

/* ---- deploys that begin alike ---- */

/* one of several, as it is by itself */
static void check_one(slew_deploys *deploys, const double seconds[SLEW_AXES])
{
    slew_scenario trial = *deploys->scenario;
    slew_result whole, one;
    memcpy(trial.deploy.seconds, seconds, sizeof trial.deploy.seconds);
    slew_run_prepared(&trial, deploys->prepared, SLEW_STOW_AND_DEPLOY, NULL, &whole);
    slew_deploys_run(deploys, seconds, &one);
    same_result(&whole, &one);
}

/* growing, shrinking, the same again, other ways, past the move limit and nothing at all */
static void check_in_turn(slew_deploys *deploys)
{
    static const double in_turn[][SLEW_AXES] = {
        {0, 1.5}, {0, 3},     {0, 9}, {0, 8.9}, {0, 0.05}, {0, 0.05},  {0, -1.5},
        {0, 80},  {0, 3},     {2, 3}, {3, 3},   {3, 4},    {1e-9, 30}, {-0.4, 30},
        {-2, -1}, {-2.5, -1}, {0, 0}, {4, 0},   {4.25, 0}, {70, 0}};
    for (size_t i = 0; i < sizeof in_turn / sizeof *in_turn; i++)
        check_one(deploys, in_turn[i]);
}

/* a drive that ends at the very time at which something else is due too */
static void check_ties(slew_deploys *deploys)
{
    const slew_controller_settings *s = &deploys->prepared->deploy_setup.controller;
    const double tied[] = {s->stall_blank, s->stall_blank + s->stall_dwell, s->move_limit};
    for (size_t i = 0; i < sizeof tied / sizeof *tied; i++)
        for (int j = 0; j < SLEW_AXES; j++) {
            double seconds[SLEW_AXES] = {0, 0};
            seconds[j] = tied[i];
            check_one(deploys, seconds);
            seconds[!j] = 2 * tied[i];
            check_one(deploys, seconds);
        }
}

static void check_drawn(slew_deploys *deploys)
{
    for (uint64_t i = 0; i < 40; i++) {
        double seconds[SLEW_AXES];
        for (int j = 0; j < SLEW_AXES; j++)
            seconds[j] = 12 * slew_random_unit(5, i, (uint32_t)j) - 4;
        check_one(deploys, seconds);
    }
}

static void check_alike(const char *name, const bench *b)
{
    slew_scenario ordered = b->scenario;
    slew_stowed stowed;
    slew_deploys deploys;
    (void)name;
    for (int order = SLEW_ROTATION_FIRST; ordered.deploy.given && order <= SLEW_TOGETHER; order++) {
        ordered.deploy.order = (slew_order)order;
        slew_stowed_run(&ordered, &b->prepared, &stowed);
        slew_deploys_begin(&ordered, &b->prepared, &stowed, &deploys);
        check_in_turn(&deploys);
        check_ties(&deploys);
        check_drawn(&deploys);
    }
}

static void deploys_that_begin_alike_are_whole_runs(void **state)
{
    (void)state;
    for_every_example(check_alike);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(deploys_after_one_stow_are_whole_runs),
        cmocka_unit_test(deploys_that_begin_alike_are_whole_runs),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
