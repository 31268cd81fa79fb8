/* motion_teach.c - stored times: what a point becomes while it is taught, and where they lead. */
#include "../support.h"

static const int R = SLEW_ROTATION, E = SLEW_ELEVATION;

/* both stored times; a scenario that can't be taught fails the test */
static void taught(const slew_scenario *s, double stored[SLEW_AXES])
{
    slew_error error;
    if (slew_teach(s, stored, &error) != SLEW_OK)
        fail_msg("not taught: %s: %s", error.key, error.message);
}

static double taught_time(const slew_scenario *s, int axis)
{
    double stored[SLEW_AXES];
    taught(s, stored);
    return stored[axis];
}

/* it can't be taught: the key, and a word of the reason */
static void refused(const slew_scenario *s, const char *key, const char *reason)
{
    double stored[SLEW_AXES];
    slew_error error;
    slew_result result;
    assert_int_equal(slew_teach(s, stored, &error), SLEW_ERROR_TEACH);
    assert_int_equal(error.status, SLEW_ERROR_TEACH);
    assert_string_equal(error.key, key);
    if (!strstr(error.message, reason))
        fail_msg("\"%s\" does not speak of \"%s\"", error.message, reason);
    assert_true(error.expected[0] != '\0');
    assert_int_equal(slew_teach(s, stored, NULL), SLEW_ERROR_TEACH);
    assert_int_equal(slew_run(s, SLEW_STOW_AND_DEPLOY, NULL, &result, NULL), SLEW_ERROR_TEACH);
}

static slew_result stowed(const slew_scenario *s)
{
    slew_result result;
    assert_int_equal(slew_run(s, SLEW_STOW_ONLY, NULL, &result, NULL), SLEW_OK);
    assert_int_equal(result.stow.says, SLEW_STOWED);
    return result;
}

static void set_point(slew_scenario *s, double rotation, double elevation)
{
    s->stow.point[R] = degrees(rotation);
    s->stow.point[E] = degrees(elevation);
}

static slew_scenario point_scenario(double rotation, double elevation)
{
    slew_scenario s = daily_scenario();
    set_point(&s, rotation, elevation);
    return s;
}

/* ---- On the point ---- */

static const double points[][2] = {{0, -16}, {45, 60}, {-120, 10}, {2.5, 2.5}, {169, -19}};
enum { POINTS = sizeof points / sizeof *points };

/* no clock: the root itself, 1e-9 rad and better */
static void unrounded_time_ends_on_the_point(void **state)
{
    (void)state;
    for (int i = 0; i < POINTS; i++) {
        slew_scenario s = point_scenario(points[i][0], points[i][1]);
        s.setup.controller.clock = 0.0;
        const slew_result r = stowed(&s);
        near("rotation", r.stow.angle[R], s.stow.point[R], 1e-9);
        near("elevation", r.stow.angle[E], s.stow.point[E], 1e-9);
        assert_true(r.stow.on_target);
    }
}

/* no more digits are sought than the clock has, and these are the root's */
static void rounded_time_is_the_root_rounded(void **state)
{
    static const double clock[] = {0.001, 0.01, 0.1};
    (void)state;
    for (int i = 0; i < 100; i++) {
        /* points that fill the ranges evenly, by the golden ratio and the square root of 2 */
        const double a = fmod(0.6180339887 * i, 1.0), b = fmod(1.4142135624 * i, 1.0);
        slew_scenario s = point_scenario(-165.0 + 330.0 * a, -15.0 + 80.0 * b);
        s.setup.controller.clock = 0.0;
        const double root = taught_time(&s, R);
        for (int k = 0; k < 3; k++) {
            s.setup.controller.clock = clock[k];
            near("time", taught_time(&s, R), clock[k] * round(root / clock[k]), 1e-12);
        }
    }
}

/* Half a tick at the highest speed there is: the free motor at the voltage at rest, 13.04 V less
 * the drive's 0.6 V, through the smaller ratio. */
static void rounded_time_misses_by_half_a_tick_at_most(void **state)
{
    static const double clock[] = {0.01, 0.05, 0.1};
    const double speed = rpm(3200.0) * (13.04 - 0.6) / 12.0 / 1750.0;
    double worst = 0.0;
    (void)state;
    for (int i = 0; i < POINTS - 1; i++)
        for (int k = 0; k < 3; k++) {
            slew_scenario s = point_scenario(points[i][0], points[i][1]);
            s.setup.controller.clock = clock[k];
            const slew_result r = stowed(&s);
            for (int j = 0; j < SLEW_AXES; j++) {
                const double ticks = r.stored[j] / clock[k];
                near("whole ticks", ticks, round(ticks), 1e-9);
                near("place", r.stow.angle[j], s.stow.point[j], speed * clock[k] / 2.0);
                worst = fmax(worst, fabs(r.stow.angle[j] - s.stow.point[j]) / (speed * clock[k]));
            }
        }
    assert_true(worst > 0.1); /* it is rounded at all */
}

/* a clock of twice the time makes it half a tick, exactly */
static void half_a_tick_rounds_away_from_zero(void **state)
{
    (void)state;
    for (int side = -1; side <= 1; side += 2) {
        slew_scenario s = point_scenario(3.0 + 4.0 * side, -14.0);
        s.setup.controller.clock = 0.0;
        const double time = taught_time(&s, R);
        assert_true(time * side > 0.0);
        s.setup.controller.clock = 2.0 * fabs(time);
        assert_true(taught_time(&s, R) == 2.0 * time);
        s.setup.controller.clock = 2.0 * fabs(time) * (1.0 + 1e-9);
        assert_true(taught_time(&s, R) == 0.0);
    }
}

static void point_where_it_stands_takes_no_time(void **state)
{
    slew_scenario s = point_scenario(0.0, 0.0);
    double stored[SLEW_AXES];
    (void)state;
    for (int j = 0; j < SLEW_AXES; j++) {
        s.setup.axis[j].start = 0.0;
        s.setup.axis[j].approach = SLEW_APPROACH_EITHER;
    }
    taught(&s, stored);
    assert_true(stored[R] == 0.0 && stored[E] == 0.0);
}

/* commanded directions: the time has the other sign, the place is the same */
static void reversed_motor_is_taught_in_commanded_directions(void **state)
{
    slew_scenario s = point_scenario(20.0, -16.0);
    (void)state;
    assert_true(taught_time(&s, R) > 0.0);
    s.setup.axis[R].reversed = true;
    s.setup.axis[R].search = -1;
    assert_true(taught_time(&s, R) < 0.0);
    const slew_result r = stowed(&s);
    near("rotation", r.stow.angle[R], degrees(20.0), degrees(0.07));
}

/* further away takes longer */
static void time_grows_with_the_way(void **state)
{
    double last = -INFINITY;
    (void)state;
    for (double elevation = -19.0; elevation < 89.0; elevation += 4.0) {
        const slew_scenario s = point_scenario(0.0, elevation);
        const double time = taught_time(&s, E);
        assert_true(time > last);
        last = time;
    }
}

/* ---- Conditions ---- */

static void teach_layer_holds_while_teaching_only(void **state)
{
    slew_scenario s = daily_scenario(), weak = daily_scenario();
    double stored[SLEW_AXES], expected[SLEW_AXES];
    (void)state;
    const double usual = taught_time(&s, E);
    set_key(&s, SLEW_LAYER_TEACH, "supply.main.voltage", 11.8);
    set_key(&s, SLEW_LAYER_TODAY, "supply.main.voltage", 14.0);
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, "environment.temperature", celsius(-20.0));
    weak.setup.supply.main.voltage = 11.8;
    taught(&s, stored);
    taught(&weak, expected);
    assert_memory_equal(stored, expected, sizeof stored);
    assert_true(fabs(stored[E]) > fabs(usual) + 0.05);

    /* taught weak, driven strong: too far */
    const slew_result r = stowed(&s);
    assert_true(r.stow.angle[E] < degrees(-16.5));
}

static void fault_of_today_does_not_hinder_teaching(void **state)
{
    slew_scenario s = daily_scenario();
    slew_result r;
    (void)state;
    set_key(&s, SLEW_LAYER_TODAY, "rotation.home.present", 0.0);
    assert_int_equal(slew_run(&s, SLEW_STOW_ONLY, NULL, &r, NULL), SLEW_OK);
    assert_int_equal(r.stow.fault, SLEW_FAULT_HOME_NOT_FOUND);
    assert_true(isfinite(r.stored[R]));
}

/* nobody cancels while teaching */
static void cancel_is_for_the_stow(void **state)
{
    slew_scenario s = daily_scenario();
    double stored[SLEW_AXES], expected[SLEW_AXES];
    (void)state;
    taught(&s, expected);
    s.setup.stow_cancel_at = 0.1;
    taught(&s, stored);
    assert_memory_equal(stored, expected, sizeof stored);
}

/* found where it stands, or on its upper edge after the lift: other times */
static void lift_is_part_of_teaching(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.setup.axis[E].start = degrees(-1.0);
    s.setup.axis[E].approach = SLEW_APPROACH_EITHER;
    const double without = taught_time(&s, E);
    s.stow.lift_first = 1.0;
    assert_true(fabs(taught_time(&s, E)) > fabs(without) + 0.2);
    near("elevation", stowed(&s).stow.angle[E], degrees(-16.0), degrees(0.06));
}

static void given_times_win_as_they_are(void **state)
{
    slew_scenario s = daily_scenario();
    double stored[SLEW_AXES];
    (void)state;
    s.stow.has_times = true;
    s.stow.times[R] = -0.123456789, s.stow.times[E] = 0.3141592653;
    s.setup.axis[R].home.present = false; /* it is not even tried */
    taught(&s, stored);
    assert_true(stored[R] == -0.123456789 && stored[E] == 0.3141592653);

    s.setup.axis[R].home.present = true;
    const slew_result r = stowed(&s);
    assert_true(r.stored[R] == -0.123456789 && r.stored[E] == 0.3141592653);
    assert_true(r.stow.has_target && !r.stow.on_target);
}

/* On a tilted base an axis' load depends on the place of the other. Together teaches as rotation,
 * then elevation does. */
static void second_axis_is_taught_where_the_first_went(void **state)
{
    slew_scenario s = point_scenario(80.0, 40.0);
    double rotation_first[SLEW_AXES], elevation_first[SLEW_AXES], together[SLEW_AXES];
    (void)state;
    s.setup.environment.tilt = degrees(20.0);
    s.setup.controller.clock = 0.0;
    taught(&s, rotation_first);
    const slew_result r = stowed(&s);
    near("elevation", r.stow.angle[E], degrees(40.0), 1e-9);
    s.stow.order = SLEW_TOGETHER;
    taught(&s, together);
    assert_memory_equal(together, rotation_first, sizeof together);
    s.stow.order = SLEW_ELEVATION_FIRST;
    taught(&s, elevation_first);
    assert_true(fabs(elevation_first[E] - rotation_first[E]) > 1e-3);
    assert_true(fabs(elevation_first[R] - rotation_first[R]) > 1e-3);
}

/* together they share the line: each falls short of where it was taught alone */
static void moves_taught_alone_fall_short_together(void **state)
{
    slew_scenario s = point_scenario(60.0, 50.0);
    (void)state;
    s.stow.order = SLEW_TOGETHER;
    const slew_result r = stowed(&s);
    assert_true(r.stow.angle[R] < degrees(60.0 - 0.1));
    assert_true(r.stow.angle[E] < degrees(50.0 - 0.1));
}

/* ---- What can't be taught ---- */

static void point_on_or_beyond_a_stop_is_refused(void **state)
{
    slew_scenario s = point_scenario(0.0, -20.0);
    (void)state;
    refused(&s, "stow.point.elevation", "stop");
    set_point(&s, 0.0, 95.0);
    refused(&s, "stow.point.elevation", "stop");
    set_point(&s, -170.0, -16.0);
    refused(&s, "stow.point.rotation", "stop");
    set_point(&s, 170.0, -16.0);
    refused(&s, "stow.point.rotation", "stop");
}

/* the search keeps within 3 s, 60 degrees do not */
static void point_beyond_the_move_limit_is_refused(void **state)
{
    slew_scenario s = point_scenario(60.0, -16.0);
    (void)state;
    s.setup.axis[R].start = degrees(-10.0);
    s.setup.axis[E].start = degrees(20.0);
    s.setup.controller.move_limit = 3.0;
    refused(&s, "stow.point.rotation", "move limit");
    s.setup.controller.move_limit = 6.0;
    taught_time(&s, R);
}

static void dead_sensor_while_teaching_is_refused(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.setup.axis[R].home.present = false;
    refused(&s, "stow.point.rotation", "searching for home: rotation, home sensor not found");
    s = daily_scenario();
    set_key(&s, SLEW_LAYER_TEACH, "elevation.home.present", 0.0);
    refused(&s, "stow.point.elevation", "searching for home: elevation, home sensor not found");
}

static void fault_on_the_way_is_told_with_its_reason(void **state)
{
    slew_scenario s = point_scenario(0.0, -19.9);
    (void)state;
    s.setup.controller.clock = 1.6; /* rounds up, into the stop */
    refused(&s, "stow.point.elevation", "driving to the point: elevation, driven into a hard stop");

    s = daily_scenario();
    s.setup.controller.brownout_voltage = 13.2;
    refused(&s, "stow.point", "searching for home: brownout");

    s = daily_scenario();
    s.setup.controller.move_limit = 1.0;
    refused(&s, "stow.point.elevation", "elevation, the move took too long");
}

static void load_that_is_not_held_is_refused(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.setup.axis[E].gear.efficiency = 0.7;
    s.setup.axis[E].load.mass = 60.0;
    refused(&s, "stow.point", "does not hold");
}

/* The axis passes the point while driven later than the time sought, which ends before it: only
 * that time counts against the limit. */
static void time_just_under_the_move_limit_is_taught(void **state)
{
    slew_scenario s = point_scenario(60.0, -16.0);
    (void)state;
    s.setup.controller.clock = 0.0;
    s.setup.axis[R].start = degrees(10.0);
    s.setup.axis[R].search = -1;
    s.setup.axis[E].start = degrees(5.0);
    for (int stop = SLEW_BRAKE; stop <= SLEW_COAST; stop++) {
        s.setup.controller.stop = (slew_stop_mode)stop;
        s.setup.controller.move_limit = 60.0;
        const double time = taught_time(&s, R);
        s.setup.controller.move_limit = fabs(time) + 0.01;
        near("the same time", taught_time(&s, R), time, 1e-12);
        s.setup.controller.move_limit = fabs(time) - 0.01;
        refused(&s, "stow.point.rotation", "move limit");
    }
}

/* one run of the controller teaches both axes: its brownout dwell goes on between them */
static void brownout_dwell_runs_on_while_the_second_axis_is_taught(void **state)
{
    slew_scenario s = daily_scenario();
    double stored[SLEW_AXES];
    slew_error error;
    (void)state;
    s.setup.controller.brownout_voltage = 20.0;
    s.setup.controller.brownout_dwell = 11.5; /* over while elevation is driven to the point */
    assert_int_equal(slew_teach(&s, stored, &error), SLEW_ERROR_TEACH);
    assert_non_null(strstr(error.message, "brownout"));
    s.setup.controller.brownout_dwell = 60.0;
    assert_int_equal(slew_teach(&s, stored, &error), SLEW_OK);
}

/* How far the axis would run on beyond a stop has no part in the time that ends before it: with the
 * stop elsewhere it is the same, to the clock. */
static void stop_behind_the_point_does_not_matter(void **state)
{
    static const double clearance[] = {0.005, 0.0167, 0.05, 0.1, 0.3, 1.0};
    (void)state;
    for (size_t i = 0; i < sizeof clearance / sizeof *clearance; i++)
        for (int coast = 0; coast < 2; coast++) {
            double near[SLEW_AXES], far[SLEW_AXES];
            slew_scenario s = point_scenario(-170.0 + clearance[i], -20.0 + clearance[i]);
            s.setup.controller.stop = coast ? SLEW_COAST : SLEW_BRAKE;
            taught(&s, near);
            s.setup.axis[R].stops.low = degrees(-200.0);
            s.setup.axis[E].stops.low = degrees(-50.0);
            taught(&s, far);
            for (int j = 0; j < SLEW_AXES; j++)
                if (near[j] != far[j])
                    fail_msg("%s, %g deg before the stop: %g s, without it %g s", slew_axis_word(j),
                             clearance[i], near[j], far[j]);
        }
}

/* drives of a tick or two, that end long before the axis is at its speed */
static void short_drive_is_its_root_rounded_too(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.setup.axis[R].gear = (slew_gear){60.0, 0.8, SLEW_NOT_GIVEN, 0};
    s.setup.axis[R].load = (slew_load){.inertia = 0.1, .friction = 0.5};
    s.setup.axis[R].stops = (slew_range){degrees(-170.0), degrees(170.0)};
    for (double clock = 0.01; clock < 0.05; clock += 0.013)
        for (double way = 0.5; way < 30.0; way += 0.7) {
            s.setup.controller.clock = 0;
            s.stow.point[R] = degrees(-way);
            const double root = taught_time(&s, R);
            s.setup.controller.clock = clock;
            const double tick = round(root / clock) * clock;
            if (fabs(fabs(root / clock - round(root / clock)) - 0.5) > 1e-9)
                near("rounded", taught_time(&s, R), tick, 1e-15);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(unrounded_time_ends_on_the_point),
        cmocka_unit_test(rounded_time_is_the_root_rounded),
        cmocka_unit_test(rounded_time_misses_by_half_a_tick_at_most),
        cmocka_unit_test(half_a_tick_rounds_away_from_zero),
        cmocka_unit_test(point_where_it_stands_takes_no_time),
        cmocka_unit_test(reversed_motor_is_taught_in_commanded_directions),
        cmocka_unit_test(time_grows_with_the_way),
        cmocka_unit_test(teach_layer_holds_while_teaching_only),
        cmocka_unit_test(fault_of_today_does_not_hinder_teaching),
        cmocka_unit_test(cancel_is_for_the_stow),
        cmocka_unit_test(lift_is_part_of_teaching),
        cmocka_unit_test(given_times_win_as_they_are),
        cmocka_unit_test(second_axis_is_taught_where_the_first_went),
        cmocka_unit_test(moves_taught_alone_fall_short_together),
        cmocka_unit_test(short_drive_is_its_root_rounded_too),
        cmocka_unit_test(stop_behind_the_point_does_not_matter),
        cmocka_unit_test(point_on_or_beyond_a_stop_is_refused),
        cmocka_unit_test(point_beyond_the_move_limit_is_refused),
        cmocka_unit_test(dead_sensor_while_teaching_is_refused),
        cmocka_unit_test(fault_on_the_way_is_told_with_its_reason),
        cmocka_unit_test(load_that_is_not_held_is_refused),
        cmocka_unit_test(time_just_under_the_move_limit_is_taught),
        cmocka_unit_test(brownout_dwell_runs_on_while_the_second_axis_is_taught),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
