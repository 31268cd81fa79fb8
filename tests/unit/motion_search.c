/* motion_search.c - the search for home, edge by edge: its rules from every side. */
#include "motion_control.h"

/* ---- Search ---- */

/* home at 0: closes at 3, opens at 4 degrees; stops at 170 */
static void search_takes_the_path_of_its_rule(void **state)
{
    enum { EITHER = SLEW_APPROACH_EITHER, UP = SLEW_APPROACH_RISING, DOWN = SLEW_APPROACH_FALLING };
    static const struct {
        double start;
        int search, approach;
        const char *path;
    } row[] = {
        {-30, 1, EITHER, ">cH.D"},
        {30, -1, EITHER, "<cH.D"},
        {30, 1, EITHER, ">|S.<cH.D"},
        {-30, -1, EITHER, "<|S.>cH.D"},
        {2.9, 1, EITHER, "HD"},
        {3.5, 1, EITHER, ">|S.<cH.D"},
        {-30, 1, UP, ">cH.D"},
        {30, -1, UP, "<co.>cH.D"},
        {30, 1, UP, ">|S.<co.>cH.D"},
        {-30, -1, UP, "<|S.>cH.D"},
        {1, 1, UP, "<o.>cH.D"},
        {1, -1, UP, "<o.>cH.D"},
        {30, -1, DOWN, "<cH.D"},
        {-30, 1, DOWN, ">co.<cH.D"},
        {-30, -1, DOWN, "<|S.>co.<cH.D"},
        {30, 1, DOWN, ">|S.<cH.D"},
        {-1, -1, DOWN, ">o.<cH.D"},
        {-1, 1, DOWN, ">o.<cH.D"},
        {-170, -1, EITHER, "<S.>cH.D"},
        {170, 1, DOWN, ">S.<cH.D"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        do_stow(search_scenario(row[i].start, row[i].search, (slew_approach)row[i].approach));
        assert_string_equal(path(R), row[i].path);
        assert_int_equal(run.result.stow.says, SLEW_STOWED);
    }
}

static void search_without_a_sensor_meets_both_stops(void **state)
{
    (void)state;
    for (int approach = SLEW_APPROACH_EITHER; approach <= SLEW_APPROACH_FALLING; approach++) {
        slew_scenario s = search_scenario(0.0, 1, (slew_approach)approach);
        s.setup.axis[R].home.present = false;
        s.setup.axis[R].home.stuck = true; /* present: no wins */
        do_stow(s);
        assert_string_equal(path(R), ">|S.<|S.F");
        faults_with(&run.result.stow, SLEW_FAULT_HOME_NOT_FOUND, R);
    }
}

static void stuck_sensor_is_home_anywhere_or_nowhere(void **state)
{
    slew_scenario s = search_scenario(100.0, 1, SLEW_APPROACH_EITHER);
    (void)state;
    s.setup.axis[R].home.stuck = true;
    do_stow(s);
    assert_string_equal(path(R), "HD");

    s.setup.axis[R].approach = SLEW_APPROACH_RISING; /* it can't be left */
    do_stow(s);
    assert_string_equal(path(R), "<|S.>|S.F");
    faults_with(&run.result.stow, SLEW_FAULT_HOME_NOT_FOUND, R);
}

/* overrun into a stop, at -170 degrees: that stall is not counted */
static void leaving_may_end_at_a_stop(void **state)
{
    slew_scenario s = search_scenario(30.0, 1, SLEW_APPROACH_RISING);
    (void)state;
    s.setup.axis[R].home.angle = degrees(-165.0);
    s.setup.axis[R].overrun = 3.0;
    do_stow(s);
    assert_string_equal(path(R), ">|S.<co|S.>cH.D");

    /* the window reaches over the stop: no edge is left to come back to */
    s.setup.axis[R].home.angle = degrees(-168.0);
    s.setup.axis[R].start = degrees(-167.0);
    do_stow(s);
    assert_string_equal(path(R), "<|S.>o|S.F");
    faults_with(&run.result.stow, SLEW_FAULT_HOME_NOT_FOUND, R);
}

/* the drive off a stall leaves a closed switch: asked anew at the start of the next leg */
static void every_leg_asks_whether_it_stands_on_home(void **state)
{
    slew_scenario s = search_scenario(100.0, 1, SLEW_APPROACH_EITHER);
    (void)state;
    s.setup.axis[R].home.angle = degrees(171.0);
    s.setup.axis[R].home.operate = degrees(2.0);
    s.setup.axis[R].home.release = degrees(3.0);
    s.setup.controller.latency = 5.0; /* the stop is felt before the edge is acted on */
    s.setup.controller.sample = 0.0;
    do_stow(s);
    assert_string_equal(path(R), ">c|SH.D"); /* the edge is the earlier one */

    s.setup.axis[R].approach = SLEW_APPROACH_FALLING; /* closed: met the wrong way, no way out */
    do_stow(s);
    assert_string_equal(path(R), ">c|S.<o|S.F");
}

static void home_found_at_rest_needs_no_pause(void **state)
{
    slew_scenario s = idle_scenario();
    (void)state;
    do_stow(s);
    assert_true(time_of(SLEW_EVENT_HOME_FOUND, R, 0) == 0.0);
    assert_true(time_of(SLEW_EVENT_HOME_FOUND, E, 0) == 0.0);
    assert_true(time_of(SLEW_EVENT_DONE, ANY_AXIS, 0) == 0.0 && isnan(run.result.stow.duration));

    s.stow.home_order = SLEW_ELEVATION_FIRST;
    s.setup.axis[E].start = degrees(42.0);
    do_stow(s);
    assert_true(time_of(SLEW_EVENT_HOME_FOUND, R, 0) == time_of(SLEW_EVENT_DRIVE_OFF, E, 0));
}

static void homes_are_searched_in_their_order(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    do_stow(s);
    assert_true(time_of(SLEW_EVENT_HOME_FOUND, E, 0) < time_of(SLEW_EVENT_DRIVE_ON, R, 0));
    s.stow.home_order = SLEW_ROTATION_FIRST;
    do_stow(s);
    assert_true(time_of(SLEW_EVENT_HOME_FOUND, R, 0) < time_of(SLEW_EVENT_DRIVE_ON, E, 0));
}

/* commanded directions count, true ones are turned */
static void reversed_motor_searches_the_other_way(void **state)
{
    slew_scenario s = search_scenario(30.0, 1, SLEW_APPROACH_RISING);
    (void)state;
    s.setup.axis[R].reversed = true;
    do_stow(s);
    assert_string_equal(path(R), ">cH.D");
    assert_int_equal(nth(&run, SLEW_EVENT_MOVING, R, 0)->direction, -1);
    near("edge", nth(&run, SLEW_EVENT_SWITCH_CLOSED, R, 0)->angle[R], degrees(3.0), ANGLE);
}

/* ---- Seeing and acting ---- */

/* M5.2: seen on the grid, acted on a latency later */
static void edge_is_seen_on_the_grid_and_acted_on_later(void **state)
{
    static const double sample[] = {0.0, 0.005, 0.05, 0.3}, latency[] = {0.0, 0.015, 0.2};
    (void)state;
    for (int i = 0; i < 4; i++)
        for (int k = 0; k < 3; k++) {
            slew_scenario s = search_scenario(-30.0, 1, SLEW_APPROACH_EITHER);
            s.setup.controller.sample = sample[i];
            s.setup.controller.latency = latency[k];
            do_stow(s);
            const double edge = time_of(SLEW_EVENT_SWITCH_CLOSED, R, 0);
            const double seen = i > 0 ? sample[i] * ceil(edge / sample[i]) : edge;
            near("found", time_of(SLEW_EVENT_HOME_FOUND, R, 0), seen + latency[k], EXACT);
            near("off", time_of(SLEW_EVENT_DRIVE_OFF, R, 0), seen + latency[k], 0.0);
        }
}

/* 0.02 degrees are passed in about 2 ms: one look in 0.1 s misses them, one in 0.5 ms does not */
static void window_between_two_looks_is_not_seen(void **state)
{
    slew_scenario s = search_scenario(-30.0, 1, SLEW_APPROACH_EITHER);
    (void)state;
    s.setup.axis[R].home.operate = s.setup.axis[R].home.release = degrees(0.01);
    s.setup.controller.sample = 0.0005;
    do_stow(s);
    assert_string_equal(path(R), ">coH.D");

    s.setup.controller.sample = 0.1;
    do_stow(s);
    for (int n = 0; n < 2; n++)
        assert_true(ceil(time_of(SLEW_EVENT_SWITCH_CLOSED, R, n) / 0.1) ==
                    ceil(time_of(SLEW_EVENT_SWITCH_OPEN, R, n) / 0.1));
    assert_string_equal(path(R), ">co|S.<co|S.F");
}

/* leaving: the opening edge is seen and acted on like the closing one, then the overrun begins */
static void overrun_counts_from_the_edge_acted_on(void **state)
{
    static const double overrun[] = {0.0, 0.3, 1.7};
    (void)state;
    for (int i = 0; i < 3; i++) {
        slew_scenario s = search_scenario(-30.0, 1, SLEW_APPROACH_FALLING);
        s.setup.axis[R].overrun = overrun[i];
        do_stow(s);
        assert_string_equal(path(R), ">co.<cH.D");
        const double edge = time_of(SLEW_EVENT_SWITCH_OPEN, R, 0);
        near("off", time_of(SLEW_EVENT_DRIVE_OFF, R, 0),
             0.005 * ceil(edge / 0.005) + 0.015 + overrun[i], EXACT);
    }
}

/* window from 164 degrees to beyond the stop, started before it */
static slew_scenario window_over_the_stop(slew_approach approach)
{
    slew_scenario s = search_scenario(160.0, 1, approach);
    s.setup.axis[R].home.angle = degrees(167.0);
    return s;
}

/* The edge is acted on 1 s after, between the stall's declaration and its own time: it is met the
 * wrong way, so the axis leaves, against the stop, and comes back without an edge to meet. */
static void late_edge_counts_while_the_drive_is_on(void **state)
{
    slew_scenario s = window_over_the_stop(SLEW_APPROACH_FALLING);
    (void)state;
    s.setup.controller.latency = 1.0;
    s.setup.controller.stall_dwell = 0.05;
    do_stow(s);
    assert_string_equal(path(R), ">c|S.<o|S.F");
    near("stall acted on", time_of(SLEW_EVENT_DRIVE_OFF, R, 0),
         time_of(SLEW_EVENT_STALL, R, 0) + 1.0, EXACT);
}

/* A look every 2 s comes after the stall. The next leg asks the true state and knows it is home, or
 * closed on the wrong side: then it leaves, into the stop. */
static void edge_not_yet_seen_is_dropped_and_the_true_state_known(void **state)
{
    slew_scenario s = window_over_the_stop(SLEW_APPROACH_EITHER);
    (void)state;
    s.setup.controller.sample = 2.0;
    do_stow(s);
    assert_string_equal(path(R), ">c|S.HD");
    assert_true(time_of(SLEW_EVENT_HOME_FOUND, R, 0) == time_of(SLEW_EVENT_DRIVE_OFF, R, 0));
    assert_true(time_of(SLEW_EVENT_HOME_FOUND, R, 0) < 2.0);

    s.setup.axis[R].approach = SLEW_APPROACH_FALLING;
    do_stow(s);
    assert_string_equal(path(R), ">c|S.>S.<o|S.F");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(search_takes_the_path_of_its_rule),
        cmocka_unit_test(search_without_a_sensor_meets_both_stops),
        cmocka_unit_test(stuck_sensor_is_home_anywhere_or_nowhere),
        cmocka_unit_test(leaving_may_end_at_a_stop),
        cmocka_unit_test(every_leg_asks_whether_it_stands_on_home),
        cmocka_unit_test(home_found_at_rest_needs_no_pause),
        cmocka_unit_test(homes_are_searched_in_their_order),
        cmocka_unit_test(reversed_motor_searches_the_other_way),
        cmocka_unit_test(edge_is_seen_on_the_grid_and_acted_on_later),
        cmocka_unit_test(window_between_two_looks_is_not_seen),
        cmocka_unit_test(overrun_counts_from_the_edge_acted_on),
        cmocka_unit_test(late_edge_counts_while_the_drive_is_on),
        cmocka_unit_test(edge_not_yet_seen_is_dropped_and_the_true_state_known),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
