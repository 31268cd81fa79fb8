/*
 * plan_changes.c - what a plan may change: each change is one, and takes hold wherever a layer says
 * its key too; a point that moves takes along what is not known of it.
 */
#include "../support.h"

#include "slewtime/plan.h"
#include "study/plan/plan_change.h"

enum { E = SLEW_ELEVATION, R = SLEW_ROTATION };

static slew_plan_change change[SLEW_PLAN_CHANGES_MAX];

static slew_plan_change of_key(const char *path, double value)
{
    return (slew_plan_change){SLEW_PLAN_KEY, slew_key_find(path), value, SLEW_PLAN_COST_SETTING};
}

static void give_choices(slew_scenario *s, int axis, int count, double first, double step)
{
    s->deploy.choice_count[axis] = count;
    for (int i = 0; i < count; i++)
        s->deploy.choices[axis][i] = first + i * step;
}

/* values of a key among the changes, in their order */
static int values_of(const slew_scenario *s, const char *path, double value[4])
{
    int found = 0, count = slew_plan_changes(s, change);
    for (int i = 0; i < count && found < 4; i++)
        if (change[i].key >= 0 && change[i].key == slew_key_find(path))
            value[found++] = change[i].value;
    return found;
}

static void each_changes_something_once(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    give_choices(&s, E, 3, 6, 1.5);
    int count = slew_plan_changes(&s, change);
    assert_in_range(count, 10, SLEW_PLAN_CHANGES_MAX);
    for (int i = 0; i < count; i++) {
        slew_scenario changed = s;
        assert_true(slew_plan_apply(&changed, &change[i]));
        assert_true(slew_scenario_hash(&changed) != slew_scenario_hash(&s));
        if (change[i].kind == SLEW_PLAN_KEY)
            assert_false(slew_plan_apply(&changed, &change[i])); /* it is like that already */
    }
    assert_true(slew_plan_apply(&s, &(slew_plan_change){.kind = SLEW_PLAN_NONE}));
    assert_false(slew_plan_apply(NULL, &change[0]) || slew_plan_apply(&s, NULL));
}

/* a layer that has its own word for the key says the new one; the others stay silent */
static void layers_that_say_the_key_follow(void **state)
{
    slew_scenario s = daily_scenario();
    const slew_plan_change c = of_key("elevation.approach", SLEW_APPROACH_RISING);
    (void)state;
    set_key(&s, SLEW_LAYER_TODAY, "elevation.approach", SLEW_APPROACH_EITHER);
    const int teach = s.teach.count, deploy = s.deploy_day.count;
    assert_true(slew_plan_apply(&s, &c));
    for (slew_occasion o = SLEW_OCCASION_TEACH; o <= SLEW_OCCASION_DEPLOY; o++) {
        slew_setup setup;
        slew_scenario_resolve(&s, o, &setup);
        assert_int_equal(setup.axis[E].approach, SLEW_APPROACH_RISING);
    }
    assert_true(s.teach.count == teach && s.deploy_day.count == deploy);
    set_key(&s, SLEW_LAYER_TEACH, "supply.floor", 9);
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, "supply.floor", 9);
    const slew_plan_change unfit = of_key("supply.floor", -1); /* out of its range */
    assert_false(slew_plan_apply(&s, &unfit));
}

static void conductors_are_the_next_two_thicker(void **state)
{
    slew_scenario s = daily_scenario();
    double value[4];
    (void)state;
    set_key(&s, SLEW_LAYER_FILE, "supply.feed.gauge", 8);
    assert_int_equal(values_of(&s, "supply.feed.gauge", value), 2);
    assert_true(value[0] == 6 && value[1] == 4);
    set_key(&s, SLEW_LAYER_FILE, "supply.feed.area", 10e-6);
    assert_int_equal(values_of(&s, "supply.feed.area", value), 2);
    close_to("next", value[0], 16e-6, 1e-12);
    close_to("and next", value[1], 25e-6, 1e-12);
    set_key(&s, SLEW_LAYER_FILE, "supply.feed.per_length", 1.83e-3); /* IEC 60228, 10 mm2 */
    assert_int_equal(values_of(&s, "supply.feed.per_length", value), 2);
    close_to("next", value[0], 1.15e-3, 0.03); /* the same standard, 16 mm2; with its stranding */
    assert_true(value[1] < value[0]);
    set_key(&s, SLEW_LAYER_FILE, "supply.feed.gauge", -3); /* 4/0 is the thickest */
    assert_int_equal(values_of(&s, "supply.feed.gauge", value), 0);
}

static void a_battery_of_another_system_is_none(void **state)
{
    slew_scenario s = daily_scenario();
    double value[4];
    (void)state;
    set_key(&s, SLEW_LAYER_FILE, "supply.auxiliary.voltage", 12.7);
    assert_int_equal(values_of(&s, "supply.auxiliary.fitted", value), 1);
    set_key(&s, SLEW_LAYER_FILE, "supply.auxiliary.voltage", 6.2);
    assert_int_equal(values_of(&s, "supply.auxiliary.fitted", value), 0);
}

/* the middle of the supply's spread, unless it is where the teaching is already */
static void teaching_moves_to_the_middle_of_the_days(void **state)
{
    slew_scenario s = daily_scenario();
    double value[4];
    (void)state;
    s.day.count = 1;
    s.day.item[0] = (slew_variation){.key = slew_key_find("supply.main.voltage"),
                                     .distribution = SLEW_UNIFORM,
                                     .low = 12,
                                     .high = 14};
    set_key(&s, SLEW_LAYER_TEACH, "supply.main.voltage", 12.6);
    assert_int_equal(values_of(&s, "supply.main.voltage", value), 1);
    close_to("middle", value[0], 13, 1e-12);
    set_key(&s, SLEW_LAYER_TEACH, "supply.main.voltage", 13.02);
    assert_int_equal(values_of(&s, "supply.main.voltage", value), 0);
    set_key(&s, SLEW_LAYER_TEACH, "supply.main.voltage", 12.6);
    s.stow.has_times = true; /* stored times do not come from there */
    assert_int_equal(values_of(&s, "supply.main.voltage", value), 0);
}

/* ---- choices ---- */

static void finer_choices_lie_between_the_ends(void **state)
{
    slew_scenario s = daily_scenario();
    const slew_plan_change finer = {.kind = SLEW_PLAN_FINER, .key = -1};
    (void)state;
    give_choices(&s, R, 1, 0, 0);
    give_choices(&s, E, 2, 6, 1.5);
    assert_true(slew_plan_apply(&s, &finer));
    assert_int_equal(s.deploy.choice_count[R], 1);
    assert_int_equal(s.deploy.choice_count[E], 4);
    close_to("second", s.deploy.choices[E][1], 6.5, 1e-12);
    assert_false(slew_plan_apply(&s, &finer));
    give_choices(&s, E, 2, 1, 40); /* would be 81 */
    assert_false(slew_plan_apply(&s, &finer));
}

/* as wide again on both sides, and never to the other side of 0 */
static void choices_beyond_the_ends(void **state)
{
    slew_scenario s = daily_scenario();
    const slew_plan_change beyond = {.kind = SLEW_PLAN_BEYOND, .key = -1};
    (void)state;
    give_choices(&s, R, 3, -3, 1); /* -3, -2, -1: to -5 below, to 0 above */
    give_choices(&s, E, 3, 1, 1);  /* 1, 2, 3: to 0 below, to 5 above */
    assert_true(slew_plan_apply(&s, &beyond));
    double low[SLEW_AXES] = {0, 0}, high[SLEW_AXES] = {0, 0};
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        assert_int_equal(s.deploy.choice_count[axis], 6);
        for (int i = 0; i < 6; i++) {
            low[axis] = fmin(low[axis], s.deploy.choices[axis][i]);
            high[axis] = fmax(high[axis], s.deploy.choices[axis][i]);
        }
    }
    assert_true(low[R] == -5 && high[R] == 0 && low[E] == 0 && high[E] == 5);
    give_choices(&s, R, 1, 0, 0);
    give_choices(&s, E, 2, 6, 0); /* the same twice is no step */
    assert_false(slew_plan_apply(&s, &beyond));
    give_choices(&s, E, 63, 6, 0.5); /* there is no room for two more */
    assert_false(slew_plan_apply(&s, &beyond));
}

/* ---- the point ---- */

static void what_is_not_known_of_the_point_moves_along(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.truck.count = 3;
    s.truck.item[0] = (slew_variation){.key = slew_key_find("stow.point.elevation"),
                                       .distribution = SLEW_TABLE,
                                       .count = 2,
                                       .value = {s.stow.point[E] - 0.01, s.stow.point[E] + 0.02},
                                       .weight = {1, 1}};
    s.truck.item[1] = (slew_variation){.key = slew_key_find("elevation.motor.no_load_speed"),
                                       .distribution = SLEW_UNIFORM,
                                       .low = 300,
                                       .high = 340};
    s.truck.item[2] = (slew_variation){.key = slew_key_find("stow.point.rotation"),
                                       .distribution = SLEW_UNIFORM,
                                       .low = s.stow.point[R] - 0.1,
                                       .high = s.stow.point[R] + 0.1};
    const double point[SLEW_AXES] = {s.stow.point[R], s.stow.point[E] + 0.05};
    const double lower = s.truck.item[0].value[0], rotation = s.truck.item[2].low;
    slew_plan_setting setting = {.seconds = {0, 8}};
    memcpy(setting.point, point, sizeof point);
    slew_plan_set(&s, &setting);
    assert_true(s.stow.point[E] == point[E] && s.deploy.seconds[E] == 8);
    close_to("lower", s.truck.item[0].value[0] - lower, 0.05, 1e-12);
    assert_true(s.truck.item[1].low == 300 && s.truck.item[2].low == rotation);
    slew_plan_set(NULL, &setting);
    slew_plan_set(&s, NULL);
    assert_true(s.deploy.seconds[E] == 8);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_changes_something_once),
        cmocka_unit_test(layers_that_say_the_key_follow),
        cmocka_unit_test(conductors_are_the_next_two_thicker),
        cmocka_unit_test(a_battery_of_another_system_is_none),
        cmocka_unit_test(teaching_moves_to_the_middle_of_the_days),
        cmocka_unit_test(finer_choices_lie_between_the_ends),
        cmocka_unit_test(choices_beyond_the_ends),
        cmocka_unit_test(what_is_not_known_of_the_point_moves_along),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
