/* sensor_doubts.c - home sensors whose magnet is too weak or too strong: which, when, by which key.
 */
#include "../support.h"

#include "slewtime/magnet.h"

enum { R = SLEW_ROTATION, E = SLEW_ELEVATION };

static slew_sensor_doubt list[SLEW_SENSOR_DOUBTS_MAX];

/* invented: a rotation whose home window follows from a magnet */
static slew_scenario with_magnet(void)
{
    slew_scenario s = daily_scenario();
    s.setup.axis[R].home.magnet = daily_magnet();
    return s;
}

static void gap(slew_scenario *s, slew_layer_id layer, double metres)
{
    set_key(s, layer, "rotation.home.magnet.gap", metres);
}

static void is(slew_sensor_doubt d, slew_occasion occasion, const char *key, slew_layer_id layer)
{
    assert_int_equal(d.axis, R);
    assert_int_equal(d.occasion, occasion);
    assert_int_equal(d.key, key != NULL ? slew_key_find(key) : -1);
    assert_int_equal(d.layer, layer);
}

static void a_sensor_that_works_is_not_doubted(void **state)
{
    (void)state;
    slew_scenario s = daily_scenario();
    assert_int_equal(slew_sensor_doubts(&s, list), 0); /* no magnet at all */
    s = with_magnet();
    assert_int_equal(slew_sensor_doubts(&s, list), 0);
}

static void too_weak_in_the_file_is_found_once(void **state)
{
    (void)state;
    slew_scenario s = with_magnet();
    s.setup.axis[R].home.magnet.operate_flux = 0.1;
    assert_int_equal(slew_sensor_doubts(&s, list), 1);
    is(list[0], SLEW_OCCASION_TEACH, NULL, SLEW_LAYER_FILE);
    assert_int_equal(list[0].sight, SLEW_SIGHT_TOO_WEAK);
    assert_true(list[0].operate_flux == 0.1);
    assert_true(list[0].flux == slew_home_flux(&s.setup.axis[R].home.magnet, 0));
    assert_true(list[0].flux < 0.1);
}

static void a_layer_is_at_fault_on_its_own_occasion(void **state)
{
    (void)state;
    slew_scenario s = with_magnet();
    gap(&s, SLEW_LAYER_TODAY, 0.020);
    assert_int_equal(slew_sensor_doubts(&s, list), 1); /* the deploy has what today has */
    is(list[0], SLEW_OCCASION_STOW, "rotation.home.magnet.gap", SLEW_LAYER_TODAY);
    gap(&s, SLEW_LAYER_DEPLOY_DAY, 0.025);
    assert_int_equal(slew_sensor_doubts(&s, list), 2);
    is(list[1], SLEW_OCCASION_DEPLOY, "rotation.home.magnet.gap", SLEW_LAYER_DEPLOY_DAY);
    assert_true(list[1].flux < list[0].flux);
    gap(&s, SLEW_LAYER_TEACH, 0.030);
    assert_int_equal(slew_sensor_doubts(&s, list), 3);
    is(list[0], SLEW_OCCASION_TEACH, "rotation.home.magnet.gap", SLEW_LAYER_TEACH);
    s.deploy.given = false;
    assert_int_equal(slew_sensor_doubts(&s, list), 2);
}

/* the deploy day leaves it alone: what today says of it is still at fault */
static void the_uppermost_layer_that_speaks_of_it_is_named(void **state)
{
    (void)state;
    slew_scenario s = with_magnet();
    gap(&s, SLEW_LAYER_TEACH, 0.025);
    gap(&s, SLEW_LAYER_TODAY, 0.009);
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, "rotation.home.magnet.operate_flux", 0.2);
    assert_int_equal(slew_sensor_doubts(&s, list), 2);
    is(list[0], SLEW_OCCASION_TEACH, "rotation.home.magnet.gap", SLEW_LAYER_TEACH);
    is(list[1], SLEW_OCCASION_DEPLOY, "rotation.home.magnet.operate_flux", SLEW_LAYER_DEPLOY_DAY);
}

/* so near to the axis that half a turn away it is still felt */
static void one_that_never_opens(void **state)
{
    (void)state;
    slew_scenario s = with_magnet();
    s.setup.axis[R].home.magnet.radius = 0.002;
    s.setup.axis[R].home.magnet.release_flux = 0.001;
    s.setup.axis[R].home.magnet.operate_flux = 0.002;
    assert_int_equal(slew_sensor_doubts(&s, list), 1);
    assert_int_equal(list[0].sight, SLEW_SIGHT_NEVER_OPENS);
    assert_true(list[0].flux ==
                slew_home_flux(&s.setup.axis[R].home.magnet, 3.14159265358979323846));
    assert_true(list[0].flux > 0.001);
    assert_false(slew_sensor_is_blind(&s.setup, R));
}

static void stuck_and_absent_sensors_are_another_matter(void **state)
{
    (void)state;
    slew_scenario s = with_magnet();
    s.setup.axis[R].home.magnet.operate_flux = 0.1;
    assert_true(slew_sensor_is_blind(&s.setup, R));
    assert_false(slew_sensor_is_blind(&s.setup, E));
    s.setup.axis[R].home.stuck = true;
    assert_false(slew_sensor_is_blind(&s.setup, R));
    assert_int_equal(slew_sensor_doubts(&s, list), 0);
    s.setup.axis[R].home.stuck = false;
    s.setup.axis[R].home.present = false;
    assert_false(slew_sensor_is_blind(&s.setup, R));
    assert_int_equal(slew_sensor_doubts(&s, list), 0);
}

static void both_axes_have_room(void **state)
{
    (void)state;
    slew_scenario s = with_magnet();
    s.setup.axis[E].home.magnet = daily_magnet();
    static const char *const path[] = {"rotation.home.magnet.gap", "elevation.home.magnet.gap"};
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        set_key(&s, SLEW_LAYER_TEACH, path[axis], 0.020);
        set_key(&s, SLEW_LAYER_TODAY, path[axis], 0.025);
        set_key(&s, SLEW_LAYER_DEPLOY_DAY, path[axis], 0.030);
    }
    assert_int_equal(slew_sensor_doubts(&s, list), SLEW_SENSOR_DOUBTS_MAX);
    assert_int_equal(list[2].axis, R);
    assert_int_equal(list[3].axis, E);
    assert_int_equal(list[5].occasion, SLEW_OCCASION_DEPLOY);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_sensor_that_works_is_not_doubted),
        cmocka_unit_test(too_weak_in_the_file_is_found_once),
        cmocka_unit_test(a_layer_is_at_fault_on_its_own_occasion),
        cmocka_unit_test(the_uppermost_layer_that_speaks_of_it_is_named),
        cmocka_unit_test(one_that_never_opens),
        cmocka_unit_test(stuck_and_absent_sensors_are_another_matter),
        cmocka_unit_test(both_axes_have_room),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
