/* motion_supervision.c - stall, time limits, brownout and cancel: what ends a drive before its
 * time. */
#include "motion_control.h"

/* ---- Stall ---- */

static void stall_is_declared_a_dwell_after_contact(void **state)
{
    slew_scenario s = move_scenario(160.0, 0.0, 20.0, 0.0);
    (void)state;
    do_move(s);
    assert_string_equal(path(R), ">|S.F");
    const double contact = time_of(SLEW_EVENT_STOP_CONTACT, R, 0);
    near("declared", time_of(SLEW_EVENT_STALL, R, 0), contact + 0.25, EXACT);
    near("acted on", time_of(SLEW_EVENT_DRIVE_OFF, R, 0), contact + 0.265, EXACT);
    faults_with(&run.result.deploy, SLEW_FAULT_HARD_STOP, R);
    assert_true(run.result.deploy.angle[R] == degrees(170.0));
    assert_true(nth(&run, SLEW_EVENT_STOP_CONTACT, R, 0)->energy > 0.0);
}

/* on the stop from the start the current is over from the start: the count begins at the blank */
static void blank_time_delays_the_count(void **state)
{
    slew_scenario s = move_scenario(170.0, 0.0, 20.0, 0.0);
    (void)state;
    do_move(s);
    near("declared", time_of(SLEW_EVENT_STALL, R, 0), 0.2 + 0.25, EXACT);
    s.setup.controller.stall_blank = 1.0;
    do_move(s);
    near("declared", time_of(SLEW_EVENT_STALL, R, 0), 1.0 + 0.25, EXACT);
}

/* The current of the spin-up is over 13 A for some 10 ms. A dwell longer than that forgets it; a
 * shorter one declares a stall, and that stands although the axis runs by the time it is acted on.
 */
static void declared_stall_stands(void **state)
{
    slew_scenario s = move_scenario(0.0, 0.0, 2.0, 0.0);
    (void)state;
    s.setup.controller.stall_blank = 0.0;
    s.setup.controller.stall_dwell = 0.05;
    do_move(s);
    assert_string_equal(path(R), ">o.D");

    s.setup.controller.stall_dwell = 0.005;
    s.setup.controller.latency = 0.3;
    do_move(s);
    near("declared", time_of(SLEW_EVENT_STALL, R, 0), 0.005, EXACT);
    near("acted on", time_of(SLEW_EVENT_DRIVE_OFF, R, 0), 0.305, EXACT);
    faults_with(&run.result.deploy, SLEW_FAULT_OVERLOAD, R);
    assert_true(nth(&run, SLEW_EVENT_STALL, R, 0)->current >= 13.0);
}

/* The current is not followed while blank, and heard from the instant on at which that ends: a
 * dwell of 0 declares then what is over, in the order of M6.10, and nothing that was over before.
 */
static void current_is_heard_from_the_end_of_the_blank_time(void **state)
{
    slew_scenario s = move_scenario(0.0, 0.0, 2.0, 0.0);
    (void)state;
    s.setup.controller.stall_blank = 0.25;
    s.setup.controller.stall_dwell = s.setup.controller.latency = 0.0;
    do_move(s);
    assert_string_equal(path(R), ">o.D");

    s = move_scenario(170.0, 0.0, 0.25, 0.0);
    s.setup.controller.stall_blank = 0.25;
    s.setup.controller.stall_dwell = s.setup.controller.latency = 0.0;
    do_move(s);
    faults_with(&run.result.deploy, SLEW_FAULT_HARD_STOP, R);
    near("declared", time_of(SLEW_EVENT_STALL, R, 0), 0.25, EXACT);
}

/* too much friction to start: not on a stop */
static void stall_away_from_a_stop_is_an_overload(void **state)
{
    slew_scenario s = move_scenario(30.0, 0.0, 5.0, 0.0);
    (void)state;
    s.setup.axis[R].load.friction = 1000.0;
    do_move(s);
    assert_string_equal(path(R), ">S.F");
    faults_with(&run.result.deploy, SLEW_FAULT_OVERLOAD, R);
    assert_int_equal(count_of(&run, SLEW_EVENT_MOVING, ANY_AXIS), 0);

    /* on the stop behind it */
    s.setup.axis[R].start = degrees(-170.0);
    do_move(s);
    faults_with(&run.result.deploy, SLEW_FAULT_OVERLOAD, R);
}

/* M6.6 and M6.10: acted on at the end of the move counts, a moment later it is not seen. The times
 * are sums of powers of two. */
static void stall_after_the_end_of_the_move_is_not_seen(void **state)
{
    slew_scenario s = move_scenario(170.0, 0.0, 0.625, 0.0);
    (void)state;
    s.setup.controller.stall_blank = s.setup.controller.stall_dwell = 0.25;
    s.setup.controller.latency = 0.125;
    do_move(s);
    faults_with(&run.result.deploy, SLEW_FAULT_HARD_STOP, R);
    assert_true(time_of(SLEW_EVENT_FAULT, R, 0) == 0.625);

    s.deploy.seconds[R] = 0.625 - 1e-9;
    do_move(s);
    assert_string_equal(path(R), ">S.D"); /* pressed on the stop, but said to be there */
    assert_int_equal(run.result.deploy.says, SLEW_DEPLOYED);
}

/* ---- Time and voltage limits ---- */

static void move_of_exactly_the_limit_ends_normally(void **state)
{
    slew_scenario s = move_scenario(-100.0, 0.0, 2.0, 0.0);
    (void)state;
    s.setup.controller.move_limit = 2.0;
    do_move(s);
    assert_string_equal(path(R), ">.D");
    assert_true(time_of(SLEW_EVENT_DRIVE_OFF, R, 0) == 2.0);

    s.deploy.seconds[R] = 2.0 + 1e-9;
    do_move(s);
    assert_string_equal(path(R), ">.F");
    faults_with(&run.result.deploy, SLEW_FAULT_TIMEOUT, R);
    assert_true(time_of(SLEW_EVENT_FAULT, R, 0) == 2.0);
}

/* over 1.5 s to the far side of the window; the limit is counted anew for every leg */
static void search_leg_has_a_limit_of_its_own(void **state)
{
    slew_scenario s = search_scenario(-13.0, 1, SLEW_APPROACH_FALLING);
    (void)state;
    s.setup.controller.move_limit = 1.5;
    do_stow(s);
    assert_string_equal(path(R), ">c.F");
    faults_with(&run.result.stow, SLEW_FAULT_TIMEOUT, R);

    s.setup.controller.move_limit = 2.0;
    do_stow(s);
    assert_string_equal(path(R), ">co.<cH.D");
    assert_true(time_of(SLEW_EVENT_HOME_FOUND, R, 0) > 2.0);
}

/* 13.04 V at rest: below 12.99 V only while a motor runs */
static void brownout_takes_its_dwell_without_a_break(void **state)
{
    slew_scenario s = search_scenario(-30.0, 1, SLEW_APPROACH_EITHER);
    (void)state;
    s.setup.controller.brownout_voltage = 12.99;
    do_stow(s);
    assert_string_equal(path(R), ">.F");
    faults_with(&run.result.stow, SLEW_FAULT_UNDERVOLTAGE, SLEW_NO_AXIS);
    near("when", time_of(SLEW_EVENT_BROWNOUT, ANY_AXIS, 0), 0.05, EXACT);

    /* only the dip at drive-on is below 12.5 V */
    s.setup.controller.brownout_voltage = 12.5;
    do_stow(s);
    assert_string_equal(path(R), ">cH.D");
    assert_true(run.result.lowest_voltage < 12.5);
    s.setup.controller.brownout_dwell = 0.001;
    do_stow(s);
    near("dip", time_of(SLEW_EVENT_FAULT, ANY_AXIS, 0), 0.001, EXACT);
}

/* below the threshold from the start of the run, drives on or off */
static void brownout_counts_from_the_start_of_the_run(void **state)
{
    slew_scenario s = search_scenario(-30.0, 1, SLEW_APPROACH_EITHER);
    (void)state;
    s.setup.controller.brownout_voltage = 13.2;
    s.setup.controller.brownout_dwell = 1.5;
    do_stow(s);
    faults_with(&run.result.stow, SLEW_FAULT_UNDERVOLTAGE, SLEW_NO_AXIS);
    near("when", time_of(SLEW_EVENT_BROWNOUT, ANY_AXIS, 0), 1.5, EXACT);
}

static double verdict_time(const slew_scenario *s)
{
    run_parts(s, SLEW_STOW_AND_DEPLOY, &run);
    assert_int_equal(run.result.stow.says, SLEW_STOWED);
    return time_of(SLEW_EVENT_DONE, ANY_AXIS, 0);
}

/* the dwell goes on while the deploy takes over, on the same day and on another */
static void brownout_dwell_runs_on_into_the_deploy(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.setup.controller.brownout_voltage = 20.0;
    s.setup.controller.brownout_dwell = 15.0; /* the stow takes 13.0 s, its pause 0.5 s */
    s.stow.has_times = true;                  /* the same brownout would end a teaching */
    s.stow.times[0] = -0.27, s.stow.times[1] = -2.31;
    for (int day = 0; day < 2; day++) {
        run_parts(&s, SLEW_STOW_AND_DEPLOY, &run);
        assert_int_equal(run.result.stow.says, SLEW_STOWED);
        assert_int_equal(run.result.deploy.fault, SLEW_FAULT_UNDERVOLTAGE);
        near("when", time_of(SLEW_EVENT_BROWNOUT, ANY_AXIS, 0), 15.0, 1e-9);
        slew_scenario_set_number(&s, SLEW_LAYER_DEPLOY_DAY, slew_key_find("supply.main.voltage"),
                                 13.0);
    }
}

static void brownout_between_verdict_and_deploy_keeps_both_words(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    const double verdict = verdict_time(&s);
    s.setup.controller.brownout_voltage = 13.2;
    s.stow.has_times = true; /* teaching would brown out as well */
    memcpy(s.stow.times, run.result.stored, sizeof s.stow.times);

    s.setup.controller.brownout_dwell = verdict + 0.25; /* inside the pause */
    run_parts(&s, SLEW_STOW_AND_DEPLOY, &run);
    assert_int_equal(run.result.stow.says, SLEW_STOWED);
    faults_with(&run.result.deploy, SLEW_FAULT_UNDERVOLTAGE, SLEW_NO_AXIS);
    near("when", time_of(SLEW_EVENT_FAULT, ANY_AXIS, 0), verdict + 0.25, EXACT);
    assert_true(isnan(run.result.deploy.duration));
    assert_memory_equal(run.result.deploy.angle, run.result.stow.angle, sizeof(double[2]));

    s.setup.controller.brownout_dwell = verdict - 0.25;
    run_parts(&s, SLEW_STOW_AND_DEPLOY, &run);
    faults_with(&run.result.stow, SLEW_FAULT_UNDERVOLTAGE, SLEW_NO_AXIS);
    assert_int_equal(run.result.deploy.says, SLEW_NOT_RUN);
}

static void cancel_counts_until_the_verdict(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    const double verdict = verdict_time(&s);
    for (int i = 0; i < 3; i++) {
        s.setup.stow_cancel_at = i == 0 ? 1.25 : i == 1 ? verdict - 1e-9 : verdict;
        run_parts(&s, SLEW_STOW_AND_DEPLOY, &run);
        faults_with(&run.result.stow, SLEW_FAULT_CANCELLED, SLEW_NO_AXIS);
        assert_true(time_of(SLEW_EVENT_FAULT, ANY_AXIS, 0) == s.setup.stow_cancel_at);
        assert_int_equal(run.result.deploy.says, SLEW_NOT_RUN);
        assert_int_equal(count_of(&run, SLEW_EVENT_DONE, ANY_AXIS), 0);
    }
    s.setup.stow_cancel_at = verdict + 1e-9;
    run_parts(&s, SLEW_STOW_AND_DEPLOY, &run);
    assert_int_equal(run.result.stow.says, SLEW_STOWED);
    assert_int_equal(run.result.deploy.says, SLEW_DEPLOYED);
}

/* with no drive on, in a pause */
static void cancel_in_a_pause_ends_it_all(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    do_stow(s);
    s.setup.stow_cancel_at = time_of(SLEW_EVENT_DRIVE_OFF, E, 0) + 0.3;
    do_stow(s);
    faults_with(&run.result.stow, SLEW_FAULT_CANCELLED, SLEW_NO_AXIS);
    assert_int_equal(count_of(&run, SLEW_EVENT_DRIVE_ON, ANY_AXIS), 1);
    assert_true(run.result.end == s.setup.stow_cancel_at);
}

/* ---- One instant ---- */

/* M6.10, with times that are sums of powers of two: what falls on one instant is handled in the
 * order cancel, brownout, stall, end of the move, move limit. The first that ends it is the fault.
 */
static void faults_of_one_instant_have_an_order(void **state)
{
    slew_scenario s = search_scenario(170.0, 1, SLEW_APPROACH_EITHER);
    (void)state;
    s.setup.controller.stall_blank = s.setup.controller.stall_dwell = 0.25;
    s.setup.controller.latency = 0.125;
    s.setup.controller.brownout_voltage = 13.2;
    s.setup.controller.brownout_dwell = s.setup.controller.move_limit = 0.625;
    s.setup.stow_cancel_at = 0.625;
    do_stow(s);
    faults_with(&run.result.stow, SLEW_FAULT_CANCELLED, SLEW_NO_AXIS);

    s.setup.stow_cancel_at = INFINITY;
    do_stow(s);
    faults_with(&run.result.stow, SLEW_FAULT_UNDERVOLTAGE, SLEW_NO_AXIS);

    slew_scenario move = move_scenario(170.0, 0.0, 20.0, 0.0);
    move.setup.controller = s.setup.controller;
    do_move(move);
    faults_with(&run.result.deploy, SLEW_FAULT_UNDERVOLTAGE, SLEW_NO_AXIS);
    move.setup.controller.brownout_voltage = 0.0;
    do_move(move);
    faults_with(&run.result.deploy, SLEW_FAULT_HARD_STOP, R);
    move.setup.controller.stall_current = 50.0;
    do_move(move);
    faults_with(&run.result.deploy, SLEW_FAULT_TIMEOUT, R);
    assert_true(time_of(SLEW_EVENT_FAULT, ANY_AXIS, 0) == 0.625);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(stall_is_declared_a_dwell_after_contact),
        cmocka_unit_test(blank_time_delays_the_count),
        cmocka_unit_test(declared_stall_stands),
        cmocka_unit_test(current_is_heard_from_the_end_of_the_blank_time),
        cmocka_unit_test(stall_away_from_a_stop_is_an_overload),
        cmocka_unit_test(stall_after_the_end_of_the_move_is_not_seen),
        cmocka_unit_test(move_of_exactly_the_limit_ends_normally),
        cmocka_unit_test(search_leg_has_a_limit_of_its_own),
        cmocka_unit_test(brownout_takes_its_dwell_without_a_break),
        cmocka_unit_test(brownout_counts_from_the_start_of_the_run),
        cmocka_unit_test(brownout_dwell_runs_on_into_the_deploy),
        cmocka_unit_test(brownout_between_verdict_and_deploy_keeps_both_words),
        cmocka_unit_test(cancel_counts_until_the_verdict),
        cmocka_unit_test(cancel_in_a_pause_ends_it_all),
        cmocka_unit_test(faults_of_one_instant_have_an_order),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
