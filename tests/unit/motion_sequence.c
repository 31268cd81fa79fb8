/* motion_sequence.c - what follows what: pauses, orders, stow and deploy, and who says so. */
#include "motion_control.h"

/* ---- Sequence ---- */

static void every_drive_waits_for_the_pause(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    for (double pause = 0.0; pause < 2.0; pause += 0.75) {
        s.setup.controller.pause = pause;
        run_parts(&s, SLEW_STOW_AND_DEPLOY, &run);
        const int drives = count_of(&run, SLEW_EVENT_DRIVE_ON, ANY_AXIS);
        assert_int_equal(drives, 6); /* three legs of search, two moves, one of the deploy */
        for (int n = 1; n < drives; n++) {
            const double waited = time_of(SLEW_EVENT_DRIVE_ON, ANY_AXIS, n) -
                                  time_of(SLEW_EVENT_DRIVE_OFF, ANY_AXIS, n - 1);
            if (n < drives - 1 || pause > 0.0)
                near("pause", waited, pause, EXACT);
            else
                assert_true(waited > 0.0); /* the deploy waits for rest as well */
        }
    }
}

/* coasting takes longer than the pause: the next drive does not ask, the deploy does */
static void pause_does_not_wait_for_rest_but_the_deploy_does(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.setup.controller.stop = SLEW_COAST;
    s.setup.controller.pause = 0.0;
    s.stow.has_times = true;
    s.stow.times[R] = 1.0, s.stow.times[E] = 1.0;
    run_parts(&s, SLEW_STOW_AND_DEPLOY, &run);
    near("reversal", time_of(SLEW_EVENT_DRIVE_ON, R, 1), time_of(SLEW_EVENT_DRIVE_OFF, R, 0),
         EXACT);
    const double last_rest = time_of(SLEW_EVENT_AT_REST, E, 1);
    assert_true(last_rest > time_of(SLEW_EVENT_DONE, ANY_AXIS, 0) + 0.01);
    near("deploy", time_of(SLEW_EVENT_DRIVE_ON, E, 2), last_rest, EXACT);
}

static void lift_comes_first_and_is_not_rounded(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.stow.lift_first = 1.23456789;
    do_stow(s);
    const slew_event *on = nth(&run, SLEW_EVENT_DRIVE_ON, ANY_AXIS, 0);
    assert_true(on->axis == E && on->direction == 1 && on->time == 0.0);
    near("lift", time_of(SLEW_EVENT_DRIVE_OFF, E, 0), 1.23456789, EXACT);
    assert_int_equal(nth(&run, SLEW_EVENT_DRIVE_ON, E, 1)->direction, -1);
    assert_true(nth(&run, SLEW_EVENT_AT_REST, E, 0)->angle[E] > degrees(50.0));
}

static void stored_times_are_driven_in_their_order(void **state)
{
    slew_scenario s = idle_scenario();
    (void)state;
    s.stow.times[R] = -1.5, s.stow.times[E] = 2.5;
    s.stow.order = SLEW_ROTATION_FIRST;
    do_stow(s);
    near("rotation off", time_of(SLEW_EVENT_DRIVE_OFF, R, 0), 1.5, EXACT);
    near("elevation on", time_of(SLEW_EVENT_DRIVE_ON, E, 0), 2.0, EXACT);
    near("done", time_of(SLEW_EVENT_DONE, ANY_AXIS, 0), 4.5, EXACT);
    assert_int_equal(nth(&run, SLEW_EVENT_DRIVE_ON, R, 0)->direction, -1);
    near("duration", run.result.stow.duration, 4.5, EXACT);

    s.stow.order = SLEW_ELEVATION_FIRST;
    do_stow(s);
    near("elevation off", time_of(SLEW_EVENT_DRIVE_OFF, E, 0), 2.5, EXACT);
    near("rotation on", time_of(SLEW_EVENT_DRIVE_ON, R, 0), 3.0, EXACT);
}

static void together_starts_at_once_and_ends_each_at_its_own(void **state)
{
    slew_scenario s = idle_scenario();
    (void)state;
    s.stow.times[R] = -1.5, s.stow.times[E] = 2.5;
    s.stow.order = s.deploy.order = SLEW_TOGETHER;
    s.deploy.given = true;
    s.deploy.seconds[R] = 1.0, s.deploy.seconds[E] = 0.0;
    run_parts(&s, SLEW_STOW_AND_DEPLOY, &run);
    assert_true(time_of(SLEW_EVENT_DRIVE_ON, R, 0) == 0.0);
    assert_true(time_of(SLEW_EVENT_DRIVE_ON, E, 0) == 0.0);
    near("rotation off", time_of(SLEW_EVENT_DRIVE_OFF, R, 0), 1.5, EXACT);
    near("elevation off", time_of(SLEW_EVENT_DRIVE_OFF, E, 0), 2.5, EXACT);
    near("pause from the later", time_of(SLEW_EVENT_DRIVE_ON, R, 1), 3.0, EXACT);
    assert_int_equal(count_of(&run, SLEW_EVENT_DRIVE_ON, E), 1); /* 0 s is skipped */
}

static void stall_of_one_stops_both(void **state)
{
    slew_scenario s = move_scenario(165.0, 0.0, 20.0, 8.0);
    (void)state;
    s.deploy.order = SLEW_TOGETHER;
    do_move(s);
    faults_with(&run.result.deploy, SLEW_FAULT_HARD_STOP, R);
    assert_true(time_of(SLEW_EVENT_DRIVE_OFF, E, 0) == time_of(SLEW_EVENT_DRIVE_OFF, R, 0));
    assert_true(time_of(SLEW_EVENT_DRIVE_OFF, E, 0) < 3.0);
    assert_true(nth(&run, SLEW_EVENT_AT_REST, E, 0)->time > time_of(SLEW_EVENT_FAULT, R, 0));
}

static void move_of_no_time_is_skipped(void **state)
{
    slew_scenario s = idle_scenario();
    (void)state;
    s.stow.times[R] = 0.0, s.stow.times[E] = 1.0;
    do_stow(s);
    assert_int_equal(count_of(&run, SLEW_EVENT_DRIVE_ON, R), 0);
    assert_true(time_of(SLEW_EVENT_DRIVE_ON, E, 0) == 0.0);
    do_move(move_scenario(0.0, 0.0, 0.0, 0.0));
    assert_int_equal(run.result.deploy.says, SLEW_DEPLOYED);
    assert_int_equal(run.count, 1);
    assert_true(run.result.end == 0.0 && isnan(run.result.deploy.duration));
}

/* ---- Parts ---- */

/* The axes stand where they stood; from there it is a deploy of its own. The instants differ, so
 * the steps' rounding does: 1e-11 rad. */
static void deploy_day_takes_over_where_the_stow_ended(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.deploy.seconds[R] = 1.0;
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, "supply.main.voltage", 12.2);
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, "environment.temperature", celsius(-5.0));
    set_key(&s, SLEW_LAYER_TODAY, "elevation.load.friction", 9.0);
    run_parts(&s, SLEW_STOW_AND_DEPLOY, &run);
    const slew_result both = run.result;
    assert_int_equal(both.deploy.says, SLEW_DEPLOYED);
    /* the other day's voltage, at rest between two drives of the deploy */
    const slew_event *off = nth(&run, SLEW_EVENT_AT_REST, E, 2);

    slew_scenario alone = s;
    for (int j = 0; j < SLEW_AXES; j++)
        alone.setup.axis[j].start = both.stow.angle[j];
    do_move(alone);
    near("rest voltage", nth(&run, SLEW_EVENT_AT_REST, E, 0)->voltage, off->voltage, EXACT);
    for (int j = 0; j < SLEW_AXES; j++)
        near("angle", run.result.deploy.angle[j], both.deploy.angle[j], 1e-11);
    near("duration", run.result.deploy.duration, both.deploy.duration, EXACT);

    slew_scenario same_day = s;
    same_day.deploy_day.count = 0;
    run_parts(&same_day, SLEW_STOW_AND_DEPLOY, &run);
    assert_true(both.stow.angle[E] == run.result.stow.angle[E]);
    assert_true(both.deploy.angle[E] < run.result.deploy.angle[E] - degrees(3.0));
}

/* closed as the stow ends, seven degrees above home; it moves by `by` until the deploy */
static void home_moves_until_deploy(double by, int edges)
{
    slew_scenario s = daily_scenario();
    s.setup.axis[E].home.operate = degrees(8.0);
    s.setup.axis[E].home.release = degrees(9.0);
    s.stow.point[E] = degrees(7.0);
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, "elevation.home.angle", by);
    run_parts(&s, SLEW_STOW_AND_DEPLOY, &run);
    assert_int_equal(run.result.deploy.says, SLEW_DEPLOYED);
    int closed = -1, told = 0;
    const double handed_over =
        nth(&run, SLEW_EVENT_DRIVE_ON, E, -1 + count_of(&run, SLEW_EVENT_DRIVE_ON, E))->time;
    for (int i = 0; i < run.count; i++) {
        const slew_event *e = &run.event[i];
        const bool closes = is_event(e, SLEW_EVENT_SWITCH_CLOSED, E);
        if (!closes && !is_event(e, SLEW_EVENT_SWITCH_OPEN, E))
            continue;
        if (closes == closed)
            fail_msg("the sensor %s again at %g s", slew_event_word(e->kind), e->time);
        closed = closes;
        told += e->direction == 0;
        assert_true(e->direction != 0 || e->time == handed_over);
    }
    assert_int_equal(told, edges);
}

/* A sensor can't close twice without opening in between, whenever it is moved. */
static void sensor_that_the_deploy_day_moves_is_told(void **state)
{
    (void)state;
    home_moves_until_deploy(0.0, 0);
    home_moves_until_deploy(degrees(30.0), 1);
    home_moves_until_deploy(degrees(-30.0), 1);
    home_moves_until_deploy(degrees(5.0), 0);
}

static void stop_at_that_edge(void *context, const slew_event *e)
{
    *(bool *)context = e->kind == SLEW_EVENT_SWITCH_OPEN && e->direction == 0;
}

static bool has_come(void *context)
{
    return *(bool *)context;
}

/* neither a drive nor a verdict follows, even where the deploy has nothing to drive */
static void observer_can_stop_a_run_at_that_edge(void **state)
{
    slew_scenario s = daily_scenario();
    bool come = false;
    slew_observer o = {.event = stop_at_that_edge, .context = &come, .stop = has_come};
    slew_result result;
    (void)state;
    s.stow.point[E] = degrees(1.0);
    s.deploy.seconds[E] = 0.0;
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, "elevation.home.angle", degrees(30.0));
    assert_int_equal(slew_run(&s, SLEW_STOW_AND_DEPLOY, &o, &result, NULL), SLEW_ERROR_STOPPED);
    assert_true(come);
    assert_int_equal(result.stow.says, SLEW_STOWED);
    assert_int_equal(result.deploy.says, SLEW_NOT_RUN);
}

static void stow_alone_and_deploy_alone_leave_the_other_out(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.deploy.seconds[E] = 3.0; /* alone it begins at 42 degrees */
    do_stow(s);
    assert_int_equal(run.result.stow.says, SLEW_STOWED);
    assert_int_equal(run.result.deploy.says, SLEW_NOT_RUN);
    assert_int_equal(count_of(&run, SLEW_EVENT_DONE, ANY_AXIS), 1);
    assert_true(isfinite(run.result.stored[R]) && isfinite(run.result.stored[E]));

    do_move(s);
    assert_int_equal(run.result.stow.says, SLEW_NOT_RUN);
    assert_int_equal(run.result.deploy.says, SLEW_DEPLOYED);
    assert_true(isnan(run.result.stored[R]) && isnan(run.result.stored[E]));
    assert_int_equal(count_of(&run, SLEW_EVENT_HOME_FOUND, ANY_AXIS), 0);
    assert_true(run.event[0].angle[E] == degrees(42.0));

    slew_scenario none = s;
    none.deploy.given = false;
    try_run(&none, SLEW_DEPLOY_ONLY, &run);
    assert_int_equal(run.status, SLEW_ERROR_INPUT);
    assert_string_equal(run.error.key, "deploy");
}

static void duration_goes_from_first_drive_to_verdict(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    run_parts(&s, SLEW_STOW_AND_DEPLOY, &run);
    near("stow", run.result.stow.duration, time_of(SLEW_EVENT_DONE, ANY_AXIS, 0), EXACT);
    near("deploy", run.result.deploy.duration, 7.5, EXACT);
    near("end", run.result.end, time_of(SLEW_EVENT_AT_REST, E, 2), EXACT);
}

/* a heavy barrel on a good gear: it holds while steep, not when it is lowered */
static slew_scenario heavy_scenario(void)
{
    slew_scenario s = idle_scenario();
    s.setup.axis[E].gear.efficiency = 0.7;
    s.setup.axis[E].load.mass = 60.0;
    s.setup.axis[E].start = s.setup.axis[E].home.angle = degrees(85.0);
    s.deploy.given = true;
    s.deploy.seconds[E] = 1.0;
    return s;
}

static void axis_that_does_not_hold_is_a_truth_beside_the_verdict(void **state)
{
    slew_scenario s = heavy_scenario();
    (void)state;
    s.stow.times[E] = -4.0;
    run_parts(&s, SLEW_STOW_AND_DEPLOY, &run);
    assert_int_equal(run.result.stow.says, SLEW_STOWED);
    assert_false(run.result.stow.holds);
    assert_int_equal(run.result.deploy.says, SLEW_NOT_RUN);
    assert_false(slew_result_ok(&s, SLEW_STOW_ONLY, &run.result));
    const slew_event *event = &run.event[run.count - 1];
    assert_true(event->kind == SLEW_EVENT_DOES_NOT_HOLD && event->axis == E);
    assert_true(event->direction == -1 && event->time == run.result.end);
    assert_true(time_of(SLEW_EVENT_DONE, ANY_AXIS, 0) < event->time);
    assert_int_equal(count_of(&run, SLEW_EVENT_FAULT, ANY_AXIS), 0);

    s.stow.times[E] = -0.5; /* still steep enough */
    run_parts(&s, SLEW_STOW_AND_DEPLOY, &run);
    assert_true(run.result.stow.holds && run.result.deploy.says == SLEW_DEPLOYED);
}

static void run_ends_at_once_where_nothing_holds(void **state)
{
    slew_scenario s = heavy_scenario();
    (void)state;
    s.setup.axis[E].start = degrees(20.0);
    do_stow(s);
    assert_int_equal(run.result.stow.says, SLEW_NOT_RUN);
    assert_false(run.result.stow.holds);
    assert_true(run.result.end == 0.0 && isnan(run.result.stow.duration));
    assert_int_equal(count_of(&run, SLEW_EVENT_DOES_NOT_HOLD, E), 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_drive_waits_for_the_pause),
        cmocka_unit_test(pause_does_not_wait_for_rest_but_the_deploy_does),
        cmocka_unit_test(lift_comes_first_and_is_not_rounded),
        cmocka_unit_test(stored_times_are_driven_in_their_order),
        cmocka_unit_test(together_starts_at_once_and_ends_each_at_its_own),
        cmocka_unit_test(stall_of_one_stops_both),
        cmocka_unit_test(move_of_no_time_is_skipped),
        cmocka_unit_test(deploy_day_takes_over_where_the_stow_ended),
        cmocka_unit_test(sensor_that_the_deploy_day_moves_is_told),
        cmocka_unit_test(observer_can_stop_a_run_at_that_edge),
        cmocka_unit_test(stow_alone_and_deploy_alone_leave_the_other_out),
        cmocka_unit_test(duration_goes_from_first_drive_to_verdict),
        cmocka_unit_test(axis_that_does_not_hold_is_a_truth_beside_the_verdict),
        cmocka_unit_test(run_ends_at_once_where_nothing_holds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
