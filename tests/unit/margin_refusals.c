/*
 * margin_refusals.c - what `margin` can't answer, and says so.
 */
#include "../support.h"

#include "slewtime/margin.h"
#include "study/margin/margin_change.h"

enum { LOW, HIGH };

static const slew_margin_question question = {SLEW_ELEVATION, 0.1};

/* taught at 12.6 V; what varies: the voltage of the day, 11.8 to 14.2 V */
static slew_scenario varied_scenario(void)
{
    slew_scenario s = daily_scenario();
    set_key(&s, SLEW_LAYER_TEACH, "supply.main.voltage", 12.6);
    s.truck.count = 0;
    s.day.count = 1;
    s.day.item[0] = (slew_variation){.key = slew_key_find("supply.main.voltage"),
                                     .distribution = SLEW_UNIFORM,
                                     .low = 11.8,
                                     .high = 14.2};
    return s;
}

static slew_sampling samples(int64_t count)
{
    slew_sampling how = slew_sampling_default();
    how.samples = count;
    how.threads = 2;
    return how;
}

static void refuses(const slew_scenario *s, const slew_margin_question *q, const char *key)
{
    static slew_margin m;
    slew_error error;
    const slew_sampling how = samples(64);
    assert_int_equal(slew_margin_run(s, q, &how, &m, &error), SLEW_ERROR_INPUT);
    assert_string_equal(error.key, key);
    assert_true(error.message[0] != '\0');
    assert_int_equal(slew_margin_run(s, q, &how, &m, NULL), SLEW_ERROR_INPUT);
}

static void stored_times_do_not_move(void **state)
{
    slew_scenario s = varied_scenario();
    (void)state;
    s.stow.has_times = true;
    refuses(&s, &question, "stow.times");
    s.stow.has_times = false;
    s.stow.has_point = false;
    refuses(&s, &question, "stow.point");
}

static void nothing_varies(void **state)
{
    slew_scenario s = varied_scenario();
    (void)state;
    s.day.count = 0;
    refuses(&s, &question, "spread");
}

static void wanted_is_a_probability(void **state)
{
    const slew_scenario s = varied_scenario();
    const slew_margin_question none = {SLEW_ELEVATION, 0.0}, all = {SLEW_ELEVATION, 1.0},
                               no_number = {SLEW_ELEVATION, (double)NAN};
    (void)state;
    refuses(&s, &none, "");
    refuses(&s, &all, "");
    refuses(&s, &no_number, "");
}

static void too_few_samples_are_said(void **state)
{
    static slew_margin few, more;
    const slew_scenario s = varied_scenario();
    slew_sampling how = samples(2);
    (void)state;
    assert_int_equal(slew_margin_run(&s, &question, &how, &few, NULL), SLEW_OK);
    assert_true(isnan(few.side[LOW].need.enough));
    assert_true(few.side[LOW].need.unseen > 0.0 && isfinite(few.side[LOW].need.unseen));
    how.samples = 200;
    assert_int_equal(slew_margin_run(&s, &question, &how, &more, NULL), SLEW_OK);
    assert_true(more.side[LOW].need.enough <= more.side[LOW].need.unseen);
}

/* a short move limit while teaching: the points near the stop are out of its reach */
static void check_untaught(const slew_scenario *s)
{
    static slew_margin m;
    const slew_sampling how = samples(64);
    assert_int_equal(slew_margin_run(s, &question, &how, &m, NULL), SLEW_OK);
    const slew_margin_side *low = &m.side[LOW];
    assert_true(low->step[0].samples > 0);
    assert_int_equal(low->step[0].untaught, low->step[0].samples);
    assert_true(isnan(low->step[0].unsafe.value));
    assert_int_equal(low->step[low->step_count - 1].untaught, 0);
    assert_non_null(strstr(low->untaught.message, "move limit"));
    assert_int_equal(low->need.untaught, 0);
    assert_true(low->need.enough > degrees(2.0));
    slew_scenario near_stop = *s;
    near_stop.stow.point[SLEW_ELEVATION] = degrees(-20.0) + low->need.enough - degrees(0.05);
    double stored[SLEW_AXES];
    assert_int_equal(slew_teach(&near_stop, stored, NULL), SLEW_ERROR_TEACH);
}

static void clearances_that_cannot_be_taught_are_counted(void **state)
{
    slew_scenario s = varied_scenario();
    (void)state;
    s.day.item[0] = (slew_variation){.key = slew_key_find("environment.temperature"),
                                     .distribution = SLEW_UNIFORM,
                                     .low = celsius(20.0),
                                     .high = celsius(21.0)};
    set_key(&s, SLEW_LAYER_TODAY, "supply.main.voltage", 12.6);
    s.setup.axis[SLEW_ELEVATION].start = degrees(8.0); /* the search is within the limit too */
    s.setup.axis[SLEW_ROTATION].start = degrees(-8.0);
    set_key(&s, SLEW_LAYER_TEACH, "controller.move_limit", 1.7);
    check_untaught(&s);
    s.truck.count = 1;
    s.truck.item[0] = (slew_variation){.key = slew_key_find("rotation.gear.efficiency"),
                                       .distribution = SLEW_UNIFORM,
                                       .low = 0.35,
                                       .high = 0.37};
    check_untaught(&s);
}

/* a truck that never homes while teaching has no clearance at all */
static void nothing_can_be_taught(void **state)
{
    static slew_margin m;
    slew_scenario s = varied_scenario();
    const slew_sampling how = samples(64);
    (void)state;
    set_key(&s, SLEW_LAYER_TEACH, "rotation.home.present", 0.0);
    assert_int_equal(slew_margin_run(&s, &question, &how, &m, NULL), SLEW_OK);
    for (int side = LOW; side <= HIGH; side++) {
        assert_int_equal(m.side[side].need.samples, 0);
        assert_int_equal(m.side[side].need.untaught, 64);
        assert_non_null(strstr(m.side[side].untaught.message, "home sensor not found"));
    }
}

/* another fault says nothing about the clearance, and is shown as such */
static void other_faults_are_kept_apart(void **state)
{
    static slew_margin m;
    slew_scenario s = varied_scenario();
    const slew_sampling how = samples(64);
    (void)state;
    set_key(&s, SLEW_LAYER_TODAY, "rotation.home.present", 0.0);
    assert_int_equal(slew_margin_run(&s, &question, &how, &m, NULL), SLEW_OK);
    near("other", m.side[LOW].step[0].other.value, 1.0, 0.0);
    near("either", m.side[LOW].step[0].unsafe.value, 0.0, 0.0);
}

/* a wide window is met 20 deg above the stop, and the home sensor, where clearances end, is 1 deg
 * above it: days of 14 V and more carry the barrel too far from everywhere */
static void none_is_enough(void **state)
{
    static slew_margin m;
    slew_scenario s = varied_scenario();
    const slew_sampling how = samples(64);
    slew_home *home = &s.setup.axis[SLEW_ELEVATION].home;
    (void)state;
    home->angle = degrees(-19.0);
    home->operate = degrees(19.0);
    home->release = degrees(20.0);
    s.setup.axis[SLEW_ELEVATION].approach = SLEW_APPROACH_FALLING;
    s.day.item[0].low = 14.0;
    s.day.item[0].high = 15.0;
    assert_int_equal(slew_margin_run(&s, &question, &how, &m, NULL), SLEW_OK);
    const slew_margin_side *low = &m.side[LOW];
    near("limit", low->need.limit, degrees(1.0), 1e-9);
    assert_true(isinf(low->need.enough) && isinf(low->need.unseen));
    assert_true(low->step[low->step_count - 1].clearance <= low->need.limit + 1e-9);
    near("either", low->step[low->step_count - 1].unsafe.value, 1.0, 0.0);
}

/* no room between the home sensor and the low stop: the high side is still answered */
static void side_of_the_home_sensor_is_not_asked(void **state)
{
    static slew_margin m;
    slew_scenario s = varied_scenario();
    const slew_sampling how = samples(64);
    (void)state;
    s.setup.axis[SLEW_ELEVATION].home.angle = degrees(-19.9);
    assert_int_equal(slew_margin_run(&s, &question, &how, &m, NULL), SLEW_OK);
    assert_int_equal(m.side[LOW].need.status, SLEW_ERROR_INPUT);
    assert_int_equal(m.side[LOW].step_count, 0);
    assert_true(m.side[HIGH].need.enough > 0.0);
}

/* what looks for the tail takes a few hundred at a time */
static bool stop_after_hundreds(void *context, int64_t done)
{
    (void)context;
    return done < 500;
}

static void stopped_margin_tells_what_is_known(void **state)
{
    static slew_margin m;
    const slew_scenario s = varied_scenario();
    slew_sampling how = samples(6400);
    (void)state;
    how.threads = 1;
    how.progress = stop_after_hundreds;
    assert_int_equal(slew_margin_run(&s, &question, &how, &m, NULL), SLEW_ERROR_STOPPED);
    assert_true(m.samples > 0 && m.samples < 6400);
    assert_true(m.side[LOW].need.enough > 0.0);
    assert_int_equal(m.side[LOW].step_count, 0);
    assert_int_equal(m.side[HIGH].need.status, SLEW_ERROR_INPUT); /* not asked */
}

/* what is asked of each change is the scenario with that one alone, on both occasions */
static void changes_take_hold_where_layers_say_the_key(void **state)
{
    (void)state;
    static const struct {
        slew_margin_change change;
        slew_approach before, after;
    } row[] = {{SLEW_MARGIN_EITHER, SLEW_APPROACH_RISING, SLEW_APPROACH_EITHER},
               {SLEW_MARGIN_RISING, SLEW_APPROACH_FALLING, SLEW_APPROACH_RISING},
               {SLEW_MARGIN_FALLING, SLEW_APPROACH_EITHER, SLEW_APPROACH_FALLING}};
    for (int axis = 0; axis < SLEW_AXES; axis++)
        for (int i = 0; i < 3; i++) {
            slew_scenario s = varied_scenario();
            const char *key = axis == SLEW_ROTATION ? "rotation.approach" : "elevation.approach";
            set_key(&s, SLEW_LAYER_FILE, key, row[i].before);
            set_key(&s, SLEW_LAYER_TODAY, "supply.floor", 9);
            set_key(&s, SLEW_LAYER_TODAY, key, row[i].before);
            assert_true(slew_margin_apply(&s, row[i].change, axis));
            for (slew_occasion o = SLEW_OCCASION_TEACH; o <= SLEW_OCCASION_STOW; o++) {
                slew_setup setup;
                slew_scenario_resolve(&s, o, &setup);
                assert_int_equal(setup.axis[axis].approach, row[i].after);
            }
            assert_false(slew_margin_apply(&s, row[i].change, axis)); /* it is like that already */
        }
    slew_scenario s = varied_scenario();
    slew_setup before, after;
    slew_scenario_resolve(&s, SLEW_OCCASION_STOW, &before);
    assert_true(slew_margin_apply(&s, SLEW_MARGIN_STOP, SLEW_ELEVATION));
    slew_scenario_resolve(&s, SLEW_OCCASION_STOW, &after);
    assert_int_not_equal(before.controller.stop, after.controller.stop);
    assert_true(slew_margin_apply(&s, SLEW_MARGIN_STOP, SLEW_ELEVATION));
    slew_scenario_resolve(&s, SLEW_OCCASION_STOW, &after);
    assert_int_equal(before.controller.stop, after.controller.stop);
    set_key(&s, SLEW_LAYER_TEACH, "supply.main.voltage", 0.4);
    assert_false(slew_margin_apply(&s, SLEW_MARGIN_TAUGHT_LOWER, SLEW_ELEVATION)); /* -0.1 V */
    assert_true(slew_margin_apply(&s, SLEW_MARGIN_TAUGHT_HIGHER, SLEW_ELEVATION));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(changes_take_hold_where_layers_say_the_key),
        cmocka_unit_test(stored_times_do_not_move),
        cmocka_unit_test(nothing_varies),
        cmocka_unit_test(wanted_is_a_probability),
        cmocka_unit_test(too_few_samples_are_said),
        cmocka_unit_test(clearances_that_cannot_be_taught_are_counted),
        cmocka_unit_test(nothing_can_be_taught),
        cmocka_unit_test(other_faults_are_kept_apart),
        cmocka_unit_test(none_is_enough),
        cmocka_unit_test(side_of_the_home_sensor_is_not_asked),
        cmocka_unit_test(stopped_margin_tells_what_is_known),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
