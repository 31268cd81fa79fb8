/* facts_check.c - what check says follows from a scenario: each axis against what the speed
 * question and a run find, and defaults against runs of their own. Runs from the project's root. */
#include "../support.h"

static slew_scenario daily(void)
{
    slew_scenario s;
    assert_int_equal(slew_scenario_read_file("examples/daily.yaml", NULL, &s), SLEW_OK);
    return s;
}

/* the dry curves of `speed` at the scenario's own voltage */
static void an_axis_does_what_speed_says(void **state)
{
    (void)state;
    slew_scenario s = daily();
    slew_speed speed;
    slew_speed_question question = slew_speed_question_default(&s, SLEW_OCCASION_STOW);
    assert_int_equal(slew_speed_run(&s, &question, &speed, NULL), SLEW_OK);
    int compared = 0;
    for (int i = 0; i < speed.curve_count; i++) {
        const slew_speed_curve *c = &speed.curve[i];
        slew_axis_facts facts;
        if (c->level != 0)
            continue;
        assert_int_equal(slew_axis_facts_run(&s, SLEW_OCCASION_STOW, c->axis, &facts, NULL), 0);
        const slew_axis_way *way = &facts.way[c->direction > 0];
        near("speed", way->slowest.speed, c->own.slowest.speed, 1e-12);
        near("current", way->slowest.current, c->own.slowest.current, 1e-12);
        near("travel", way->travel, c->own.travel.time, 1e-9);
        compared++;
    }
    assert_int_equal(compared, 2 * SLEW_AXES);
    slew_speed_free(&speed);
}

/* M2.5 at standstill: (V - Vd)/(Ra + rd) with V = E - r I, at 20 degC from a sheet at 25 degC */
static void a_stalled_axis_draws_what_ohm_says(void **state)
{
    (void)state;
    slew_scenario s = daily();
    slew_axis_facts facts;
    slew_prepared p;
    assert_int_equal(slew_axis_facts_run(&s, SLEW_OCCASION_STOW, SLEW_ROTATION, &facts, NULL), 0);
    assert_int_equal(slew_prepare(&s, SLEW_STOW_AND_DEPLOY, &p, NULL), SLEW_OK);
    double ra = 12.0 / 20 * slew_copper_factor(293.15) / slew_copper_factor(298.15);
    near("stalled", facts.stalled,
         (p.stow.line_voltage - 0.6) / (ra + 0.020 + p.stow.line_resistance), 1e-9);
    near("locks", facts.backward_efficiency, 2 - 1 / 0.36, 1e-12);
    near("home", facts.home_from_stop[0], degrees(170), 1e-12);
    near("point", facts.point_from_home, 0, 1e-12);
}

/* ---- defaults ---- */

static slew_hangs hangs;
static bool given[256];

static void all_given_but(const char *const *paths)
{
    for (int key = 0; key < slew_key_count(); key++)
        given[key] = true;
    for (; *paths != NULL; paths++)
        given[slew_key_find(*paths)] = false;
}

static double inside_with(slew_scenario s, double share)
{
    slew_judgment judgment;
    slew_sampling how = slew_sampling_default();
    how.samples = 512;
    s.setup.axis[SLEW_ELEVATION].motor.viscous_share = share;
    assert_int_equal(slew_demands_run(&s, SLEW_STOW_AND_DEPLOY, &how, &judgment, NULL), SLEW_OK);
    return 1 - judgment.of[SLEW_DEMAND_DEPLOY].missed.value;
}

static void a_default_moves_what_it_moves_in_a_run_of_its_own(void **state)
{
    (void)state;
    slew_scenario s = daily();
    all_given_but((const char *const[]){"elevation.motor.viscous_share", NULL});
    assert_int_equal(slew_hangs_run(&s, given, &hangs, NULL), SLEW_OK);
    assert_int_equal(hangs.count, 1);
    const slew_hang *h = &hangs.item[0];
    assert_int_equal(h->key, slew_key_find("elevation.motor.viscous_share"));
    assert_int_equal(hangs.samples, 512);
    for (int i = 0; i < SLEW_HANG_VALUES; i++)
        near("inside", h->of[i].share, inside_with(s, h->value[i]), 1e-12);
    assert_true(h->of[0].share > h->of[2].share + 0.01);
    assert_true(h->of[0].moves[1] > degrees(0.5) && h->of[1].moves[1] == 0);
}

/* one case: the distance between the ends of two runs */
static void without_a_spread_one_case_tells(void **state)
{
    (void)state;
    slew_scenario s = daily(), coast;
    slew_result brakes, coasts;
    s.truck.count = s.day.count = 0;
    coast = s;
    coast.setup.controller.stop = SLEW_COAST;
    all_given_but((const char *const[]){"controller.stop", NULL});
    assert_int_equal(slew_hangs_run(&s, given, &hangs, NULL), SLEW_OK);
    assert_int_equal(slew_run(&s, SLEW_STOW_AND_DEPLOY, NULL, &brakes, NULL), SLEW_OK);
    assert_int_equal(slew_run(&coast, SLEW_STOW_AND_DEPLOY, NULL, &coasts, NULL), SLEW_OK);
    assert_int_equal(hangs.count, 1);
    assert_int_equal(hangs.samples, 0);
    double moved = 0;
    for (int axis = 0; axis < SLEW_AXES; axis++)
        moved = fmax(moved, fabs(coasts.deploy.angle[axis] - brakes.deploy.angle[axis]));
    near("deploy", hangs.item[0].of[2].moves[1], moved, 1e-12);
}

static void what_is_given_or_varied_is_no_default(void **state)
{
    (void)state;
    slew_scenario s = daily();
    all_given_but((const char *const[]){NULL});
    assert_int_equal(slew_hangs_run(&s, given, &hangs, NULL), SLEW_OK);
    assert_int_equal(hangs.count, 0);
    all_given_but((const char *const[]){"elevation.motor.viscous_share", NULL});
    s.truck.item[s.truck.count++] =
        (slew_variation){.key = slew_key_find("elevation.motor.viscous_share"),
                         .distribution = SLEW_UNIFORM,
                         .low = 0.1,
                         .high = 0.5};
    assert_int_equal(slew_hangs_run(&s, given, &hangs, NULL), SLEW_OK);
    assert_int_equal(hangs.count, 0);
}

/* a reading tells what it found: in the file, in a layer, in an assignment */
static void a_reading_says_what_is_given(void **state)
{
    (void)state;
    slew_scenario s;
    const slew_assignment set[] = {
        {.layer = SLEW_LAYER_TODAY, .text = "rotation.gear.backward_efficiency=-50 %"}};
    const slew_reading reading = {.assignments = set, .assignment_count = 1, .given = given};
    assert_int_equal(slew_scenario_read_file("examples/daily.yaml", &reading, &s), SLEW_OK);
    assert_true(given[slew_key_find("rotation.motor.viscous_share")]);
    assert_true(given[slew_key_find("rotation.gear.backward_efficiency")]);
    assert_false(given[slew_key_find("elevation.gear.backward_efficiency")]);
    assert_false(given[slew_key_find("supply.feed.area")]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_axis_does_what_speed_says),
        cmocka_unit_test(a_stalled_axis_draws_what_ohm_says),
        cmocka_unit_test(a_default_moves_what_it_moves_in_a_run_of_its_own),
        cmocka_unit_test(without_a_spread_one_case_tells),
        cmocka_unit_test(what_is_given_or_varied_is_no_default),
        cmocka_unit_test(a_reading_says_what_is_given),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
