/* machine_commands.c - commands at odd moments: what they end, what they wait for, what is told. */
#include "machine_steps.h"

static story told;

static slew_machine fresh(const slew_scenario *s)
{
    bench b;
    assert_true(prepare_bench(s, &b));
    told.count = 0;
    return machine_of(&b);
}

static slew_machine fresh_daily(void)
{
    const slew_scenario s = daily_scenario();
    return fresh(&s);
}

/* lets time pass */
static void pass(slew_machine *m, double seconds)
{
    const double until = m->time + seconds;
    keep_until(m, until, 0.05, &told);
    assert_true(m->time == until);
}

static const slew_event *last(void)
{
    return &told.event[told.count - 1];
}

/* ---- Cancel ---- */

static void cancelled_in_a_pause_it_only_says_so(void **state)
{
    slew_machine m = fresh_daily();
    (void)state;
    slew_machine_stow(&m);
    keep_to(&m, SLEW_EVENT_DRIVE_OFF, &told);
    keep_to(&m, SLEW_EVENT_AT_REST, &told);
    pass(&m, 0.1);
    const int before = told.count;
    const double now = m.time;
    assert_true(slew_machine_cancel(&m));
    pass(&m, 10.0);
    assert_int_equal(told.count, before + 1);
    assert_int_equal(last()->kind, SLEW_EVENT_FAULT);
    assert_int_equal(last()->fault, SLEW_FAULT_CANCELLED);
    assert_true(last()->time == now);
    assert_true(m.task == SLEW_TASK_NONE && m.says == SLEW_FAULTED);
    assert_int_equal(m.fault, SLEW_FAULT_CANCELLED);

    assert_true(slew_machine_cancel(&m)); /* without a task: nothing */
    pass(&m, 1.0);
    assert_int_equal(told.count, before + 1);

    assert_true(slew_machine_stow(&m)); /* and it goes on after it */
    assert_true(m.fault == SLEW_FAULT_NONE && m.task == SLEW_TASK_STOW);
    keep_to(&m, SLEW_EVENT_DONE, &told);
    assert_int_equal(m.says, SLEW_STOWED);
}

static void cancelled_while_driving_the_drive_goes_off_first(void **state)
{
    slew_machine m = fresh_daily();
    (void)state;
    slew_machine_stow(&m);
    pass(&m, 1.0);
    slew_machine_cancel(&m);
    const slew_event *fault = keep_to(&m, SLEW_EVENT_FAULT, &told);
    assert_int_equal(fault[-1].kind, SLEW_EVENT_DRIVE_OFF);
    assert_true(fault->time == 1.0 && fault[-1].time == 1.0 && fault->current == 0.0);
    keep_to(&m, SLEW_EVENT_AT_REST, &told);
}

/* ---- Stow and deploy over each other ---- */

static void stow_ends_a_deploy_without_a_fault(void **state)
{
    slew_machine m = fresh_daily();
    (void)state;
    assert_true(slew_machine_deploy(&m));
    pass(&m, 2.0);
    assert_true(m.task == SLEW_TASK_DEPLOY);
    assert_true(slew_machine_stow(&m));
    keep_to(&m, SLEW_EVENT_DONE, &told);
    const slew_event *off = seek(&told, SLEW_EVENT_DRIVE_OFF, E, 0);
    const slew_event *on = seek(&told, SLEW_EVENT_DRIVE_ON, E, 1);
    assert_true(off->time == 2.0 && on->time == 2.0 + m.setup.controller.pause);
    assert_int_equal(count_of(&told, SLEW_EVENT_FAULT, ANY_AXIS), 0);
    assert_int_equal(m.says, SLEW_STOWED);
}

static void deploy_waits_for_rest_and_pause(void **state)
{
    slew_machine m = fresh_daily();
    (void)state;
    slew_setup coasting = m.setup;
    coasting.controller.stop = SLEW_COAST;
    coasting.controller.pause = 0.01;
    m.program.seconds[E] = 3.0;
    assert_int_equal(slew_machine_change(&m, &coasting, NULL), SLEW_OK);
    slew_machine_jog(&m, E, -1);
    pass(&m, 1.0);
    assert_true(slew_machine_deploy(&m) && !slew_machine_is_ready(&m));
    near("pause", slew_machine_pause_end(&m), 1.0 + m.setup.controller.pause, 0);
    const slew_event *done = keep_to(&m, SLEW_EVENT_DONE, &told);
    const slew_event *on = seek(&told, SLEW_EVENT_DRIVE_ON, E, 1);
    const slew_event *rest = seek(&told, SLEW_EVENT_AT_REST, E, 0);
    assert_true(on->time == fmax(1.0 + m.setup.controller.pause, rest->time));
    assert_int_equal(m.says, SLEW_DEPLOYED);
    near("duration", m.duration, 3.0, 1e-12);
    assert_true(rest->time > 1.0 + m.setup.controller.pause);
    assert_true(done->time - on->time == m.duration);
}

static void stow_after_stow_begins_anew(void **state)
{
    slew_machine m = fresh_daily();
    (void)state;
    for (int n = 1; n <= 3; n++) {
        assert_true(slew_machine_stow(&m));
        keep_to(&m, SLEW_EVENT_DONE, &told);
        pass(&m, 5.0);
        assert_true(slew_machine_is_ready(&m));
        assert_int_equal(count_of(&told, SLEW_EVENT_HOME_FOUND, R), n);
    }
    near("the same place", slew_machine_look(&m).angle[E],
         m.setup.axis[E].home.angle - degrees(16.0), degrees(0.2));
}

/* ---- Jog ---- */

static void jog_is_a_timed_move_that_somebody_ends(void **state)
{
    static story deploy;
    slew_scenario s = daily_scenario();
    (void)state;
    s.deploy.seconds[E] = 3.0;
    slew_machine m = fresh(&s);
    run_parts(&s, SLEW_DEPLOY_ONLY, &deploy);
    assert_true(slew_machine_jog(&m, E, 1));
    pass(&m, 3.0);
    assert_true(m.task == SLEW_TASK_JOG);
    assert_true(slew_machine_jog(&m, E, 0));
    assert_true(m.task == SLEW_TASK_NONE);
    pass(&m, 5.0);
    assert_int_equal(told.count, deploy.count - 1); /* nothing is done */
    for (int i = 0, k = 0; i < deploy.count; i++) {
        if (deploy.event[i].kind == SLEW_EVENT_DONE)
            continue;
        assert_true(same_sort(&deploy.event[i], &told.event[k]));
        assert_true(deploy.event[i].time == told.event[k].time);
        assert_memory_equal(deploy.event[i].angle, told.event[k].angle, sizeof told.event->angle);
        k++;
    }
}

static void jog_goes_on_after_a_fault(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    set_key(&s, SLEW_LAYER_TODAY, "rotation.home.present", 0.0);
    slew_machine m = fresh(&s);
    slew_machine_stow(&m);
    const slew_event *fault = keep_to(&m, SLEW_EVENT_FAULT, &told);
    assert_int_equal(m.fault, SLEW_FAULT_HOME_NOT_FOUND);
    const double when = fault->time;
    assert_true(slew_machine_jog(&m, R, 1));
    assert_int_equal(m.fault, SLEW_FAULT_NONE);
    const slew_event *on = keep_to(&m, SLEW_EVENT_DRIVE_ON, &told);
    assert_true(on->axis == R && on->time == when + m.setup.controller.pause);
    pass(&m, 3.0);
    slew_machine_jog(&m, R, 0);
    keep_to(&m, SLEW_EVENT_AT_REST, &told);
    assert_true(last()->angle[R] > s.setup.axis[R].stops.low + degrees(20.0));
}

static void jog_turned_round_waits_for_the_pause(void **state)
{
    slew_machine m = fresh_daily();
    (void)state;
    slew_machine_jog(&m, R, 1);
    slew_machine_jog(&m, E, 1);
    pass(&m, 1.0);
    assert_int_equal(count_of(&told, SLEW_EVENT_DRIVE_ON, ANY_AXIS), 2);
    slew_machine_jog(&m, R, -1); /* elevation goes on */
    pass(&m, 1.0);
    assert_int_equal(count_of(&told, SLEW_EVENT_DRIVE_OFF, ANY_AXIS), 1);
    const slew_event *on = seek(&told, SLEW_EVENT_DRIVE_ON, R, 1);
    assert_true(on->direction == -1 && on->time == 1.0 + m.setup.controller.pause);
    slew_machine_jog(&m, E, 0);
    slew_machine_jog(&m, R, 0);
    keep_until(&m, 20.0, INFINITY, &told);
    assert_int_equal(count_of(&told, SLEW_EVENT_AT_REST, ANY_AXIS), 3);
}

static void jog_is_supervised(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    slew_machine m = fresh(&s);
    slew_machine_jog(&m, E, 1); /* into the stop */
    keep_to(&m, SLEW_EVENT_FAULT, &told);
    assert_true(m.fault == SLEW_FAULT_HARD_STOP && m.fault_axis == E);

    s.setup.controller.move_limit = 3.0;
    s.stow.has_times = true;
    m = fresh(&s);
    slew_machine_jog(&m, R, 1);
    const slew_event *fault = keep_to(&m, SLEW_EVENT_FAULT, &told);
    assert_true(m.fault == SLEW_FAULT_TIMEOUT && fault->time == 3.0);

    s.setup.controller.brownout_voltage = 13.0;
    m = fresh(&s);
    slew_machine_jog(&m, R, 1);
    keep_to(&m, SLEW_EVENT_FAULT, &told);
    assert_int_equal(m.fault, SLEW_FAULT_UNDERVOLTAGE);
}

/* ---- Refused ---- */

static void events_that_nobody_takes_out_keep_commands_waiting(void **state)
{
    slew_machine m = fresh_daily();
    int taken = 0;
    (void)state;
    while (slew_machine_stow(&m) && slew_machine_cancel(&m) && taken < 100)
        taken++;
    assert_in_range(taken, 3, SLEW_TOLD_MAX);
    assert_true(m.time == 0.0);
    keep_until(&m, 1.0, INFINITY, &told);
    assert_int_equal(count_of(&told, SLEW_EVENT_FAULT, ANY_AXIS), taken);
    assert_true(slew_machine_stow(&m));
}

static void without_a_task_time_passes_and_nothing_happens(void **state)
{
    slew_machine m = fresh_daily();
    slew_event event;
    (void)state;
    assert_false(slew_machine_advance(&m, INFINITY, &event));
    assert_true(m.time == 0.0);
    assert_false(slew_machine_advance(&m, 1e6, &event));
    assert_true(m.time == 1e6 && slew_machine_look(&m).time == 1e6);
    assert_true(slew_machine_stow(&m));
    assert_true(keep_to(&m, SLEW_EVENT_DRIVE_ON, &told)->time == 1e6);
    assert_int_equal(keep_to(&m, SLEW_EVENT_DONE, &told)->kind, SLEW_EVENT_DONE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(cancelled_in_a_pause_it_only_says_so),
        cmocka_unit_test(cancelled_while_driving_the_drive_goes_off_first),
        cmocka_unit_test(stow_ends_a_deploy_without_a_fault),
        cmocka_unit_test(deploy_waits_for_rest_and_pause),
        cmocka_unit_test(stow_after_stow_begins_anew),
        cmocka_unit_test(jog_is_a_timed_move_that_somebody_ends),
        cmocka_unit_test(jog_goes_on_after_a_fault),
        cmocka_unit_test(jog_turned_round_waits_for_the_pause),
        cmocka_unit_test(jog_is_supervised),
        cmocka_unit_test(events_that_nobody_takes_out_keep_commands_waiting),
        cmocka_unit_test(without_a_task_time_passes_and_nothing_happens),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
