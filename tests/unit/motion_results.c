/* motion_results.c - keep-out boxes, voltages under load, targets and the last word. */
#include "motion_control.h"

/* ---- Keep-out ---- */

static void add_box(slew_scenario *s, slew_range rotation, slew_range elevation)
{
    slew_keepout_box *box = &s->keepout.box[s->keepout.count++];
    box->axis[R] = (slew_range){degrees(rotation.low), degrees(rotation.high)};
    box->axis[E] = (slew_range){degrees(elevation.low), degrees(elevation.high)};
}

static const slew_range all = {-INFINITY, INFINITY};

static void box_is_entered_and_left_at_its_bounds(void **state)
{
    slew_scenario s = move_scenario(0.0, 0.0, 3.0, 0.0);
    (void)state;
    add_box(&s, (slew_range){10.0, 20.0}, all);
    do_move(s);
    const slew_event *in = nth(&run, SLEW_EVENT_KEEPOUT_ENTERED, ANY_AXIS, 0);
    const slew_event *out = nth(&run, SLEW_EVENT_KEEPOUT_LEFT, ANY_AXIS, 0);
    near("in", in->angle[R], degrees(10.0), ANGLE);
    near("out", out->angle[R], degrees(20.0), ANGLE);
    assert_true(in->box == 0 && out->box == 0 && in->axis == SLEW_NO_AXIS);
    assert_int_equal(run.result.visit_count, 1);
    assert_true(run.result.visit[0].entered == in->time && run.result.visit[0].left == out->time);

    s.deploy.seconds[R] = 1.5; /* it stays inside */
    do_move(s);
    assert_int_equal(run.result.visit_count, 1);
    assert_true(isinf(run.result.visit[0].left));
}

/* both ends of both bounds: the bound itself is inside */
static void bounds_belong_to_the_box(void **state)
{
    static const struct {
        double start, turn;
        int visits;
        bool left;
    } row[] = {{10.0, 0.0, 1, false}, {20.0, 0.0, 1, false},   {10.0, -1.0, 1, true},
               {20.0, 1.0, 1, true},  {9.9999, 0.0, 0, false}, {20.0001, 0.0, 0, false},
               {15.0, 3.0, 1, true},  {9.9999, -1.0, 0, false}};
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        slew_scenario s = move_scenario(row[i].start, 0.0, row[i].turn, 0.0);
        add_box(&s, (slew_range){10.0, 20.0}, all);
        do_move(s);
        assert_int_equal(run.result.visit_count, row[i].visits);
        if (row[i].visits > 0) {
            assert_true(run.result.visit[0].entered == 0.0);
            assert_true(isfinite(run.result.visit[0].left) == row[i].left);
        }
        if (row[i].left && row[i].start != 15.0)
            near("leaves at once", run.result.visit[0].left, 0.0, TIME);
    }
}

/* only where both ranges meet; entered by whichever axis comes last */
static void box_of_two_axes_needs_both(void **state)
{
    slew_scenario s = move_scenario(0.0, 0.0, 1.5, 3.0);
    (void)state;
    add_box(&s, (slew_range){10.0, 60.0}, (slew_range){8.0, 12.0});
    do_move(s);
    assert_int_equal(run.result.visit_count, 1);
    near("by elevation", nth(&run, SLEW_EVENT_KEEPOUT_ENTERED, ANY_AXIS, 0)->angle[E], degrees(8.0),
         ANGLE);
    near("by elevation", nth(&run, SLEW_EVENT_KEEPOUT_LEFT, ANY_AXIS, 0)->angle[E], degrees(12.0),
         ANGLE);
    s.deploy.seconds[R] = 0.5; /* short of 10 degrees */
    do_move(s);
    assert_int_equal(run.result.visit_count, 0);
}

/* a box that begins on a stop is entered by reaching it */
static void stop_on_the_bound_is_inside(void **state)
{
    slew_scenario s = move_scenario(160.0, 0.0, 20.0, 0.0);
    (void)state;
    add_box(&s, (slew_range){170.0, 180.0}, all);
    add_box(&s, (slew_range){170.0001, 180.0}, all);
    do_move(s);
    assert_int_equal(run.result.visit_count, 1);
    near("when", run.result.visit[0].entered, time_of(SLEW_EVENT_STOP_CONTACT, R, 0), TIME);
}

/* one ends where another begins: that place belongs to both, in whichever order they are given */
static void boxes_that_meet_are_both_entered(void **state)
{
    static const slew_range below = {100.0, 170.0}, above = {170.0, 180.0};
    static const slew_range left = {-20.0, 0.0}, right = {0.0, 20.0};
    (void)state;
    for (int swapped = 0; swapped < 2; swapped++) {
        slew_scenario s = move_scenario(160.0, 0.0, 20.0, 0.0); /* to the stop at 170 */
        add_box(&s, swapped ? above : below, all);
        add_box(&s, swapped ? below : above, all);
        do_move(s);
        assert_int_equal(run.result.visit_count, 2);
        assert_true(isinf(run.result.visit[0].left) && isinf(run.result.visit[1].left));

        s = move_scenario(0.0, 0.0, swapped ? 1.0 : -1.0, 0.0); /* from where both are */
        add_box(&s, left, all);
        add_box(&s, right, all);
        do_move(s);
        assert_int_equal(run.result.visit_count, 2);
        near("leaves one at once", run.result.visit[!swapped].left, 0.0, TIME);
        assert_true(isinf(run.result.visit[swapped].left));
        s.keepout.box[0].axis[R] = (slew_range){0.0, degrees(20.0)};
        s.keepout.box[1].axis[R] = (slew_range){degrees(-20.0), 0.0};
        do_move(s);
        assert_int_equal(run.result.visit_count, 2);
        near("the other way round too", run.result.visit[swapped].left, 0.0, TIME);
        assert_true(isinf(run.result.visit[!swapped].left));
    }
}

static void every_visit_is_counted(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    add_box(&s, (slew_range){-1.0, 1.0}, all);
    run_parts(&s, SLEW_STOW_AND_DEPLOY, &run);
    /* past home and back again: in, out, in, taught to 0 */
    assert_int_equal(run.result.visit_count, 2);
    assert_false(slew_result_ok(&s, SLEW_STOW_AND_DEPLOY, &run.result));
}

/* ---- Voltage ---- */

/* The current falls from drive-on, so the lowest voltage under load is that at the blank's end:
 * w = w_end (1 - exp(-c t)). Located to 1e-9 s at some 10 V/s. */
static void voltage_under_load_begins_after_the_blank(void **state)
{
    slew_scenario s = move_scenario(10.0, 0.0, 2.0, 0.0);
    slew_setup setup;
    slew_plant_model model;
    (void)state;
    s.setup.controller.stall_blank = 0.08;
    do_move(s);
    slew_scenario_resolve(&s, SLEW_OCCASION_DEPLOY, &setup);
    assert_int_equal(slew_plant_model_build(&setup, &model, NULL), SLEW_OK);
    const slew_plant_axis *axis = &model.axis[R];
    const double total = axis->resistance + model.line_resistance, k = axis->constant;
    const double free = model.line_voltage - axis->drop, damping = k * k / total + axis->viscous;
    const double drag = axis->coulomb + axis->friction / (axis->forward * axis->ratio);
    const double speed =
        (k * free / total - drag) / damping * -expm1(-damping / axis->inertia * 0.08);
    const double current = (free - k * speed) / total;
    near("under load", run.result.lowest_loaded_voltage,
         model.line_voltage - model.line_resistance * current, 1e-8);
    near("lowest", run.result.lowest_voltage,
         model.line_voltage - model.line_resistance * free / total, 1e-12);
    near("peak", run.result.peak_current, free / total, 1e-12);
}

/* V - drop = R I + K w in the one motor that is driven: its integral needs the turn only, which
 * is that until drive-off, known to 1e-9 of it */
static void charge_is_counted_over_the_whole_run(void **state)
{
    slew_scenario s = move_scenario(10.0, 0.0, 2.0, 1.5);
    double expected = 0.0;
    slew_setup setup;
    slew_plant_model model;
    (void)state;
    s.setup.axis[R].gear.ratio = 1600.0;
    do_move(s);
    slew_scenario_resolve(&s, SLEW_OCCASION_DEPLOY, &setup);
    assert_int_equal(slew_plant_model_build(&setup, &model, NULL), SLEW_OK);
    for (int j = 0; j < SLEW_AXES; j++) {
        const slew_plant_axis *axis = &model.axis[j];
        const double free = model.line_voltage - axis->drop;
        const double turn =
            (nth(&run, SLEW_EVENT_DRIVE_OFF, j, 0)->angle[j] - s.setup.axis[j].start) * axis->ratio;
        expected += (free * s.deploy.seconds[j] - axis->constant * turn) /
                    (axis->resistance + model.line_resistance);
    }
    close_to("charge", run.result.charge, expected, 1e-8);
}

static void short_drive_is_never_under_load(void **state)
{
    slew_scenario s = move_scenario(10.0, 0.0, 0.15, 0.0);
    (void)state;
    s.setup.supply.floor = 13.0;
    do_move(s);
    assert_true(isinf(run.result.lowest_loaded_voltage) && !run.result.below_floor);
    assert_int_equal(count_of(&run, SLEW_EVENT_LOW_VOLTAGE, ANY_AXIS), 0);
}

/* under load is longer than the blank time, not as long */
static void drive_of_just_the_blank_time_is_not_under_load(void **state)
{
    slew_scenario s = move_scenario(10.0, 0.0, 0.2, 0.0);
    (void)state;
    s.setup.controller.stall_blank = 0.2;
    s.setup.supply.floor = 13.0;
    do_move(s);
    assert_true(isinf(run.result.lowest_loaded_voltage) && !run.result.below_floor);
    s.deploy.seconds[0] = 0.2 + 1e-6;
    do_move(s);
    assert_true(run.result.below_floor);
}

static void low_voltage_is_told_once(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.setup.supply.floor = 12.99;
    run_parts(&s, SLEW_STOW_AND_DEPLOY, &run);
    assert_int_equal(count_of(&run, SLEW_EVENT_LOW_VOLTAGE, ANY_AXIS), 1);
    near("when", time_of(SLEW_EVENT_LOW_VOLTAGE, ANY_AXIS, 0), 0.2, EXACT);
    assert_true(run.result.below_floor && run.result.stow.says == SLEW_STOWED);
    assert_false(slew_result_ok(&s, SLEW_STOW_AND_DEPLOY, &run.result));
}

/* two motors together pull it below the floor which one alone keeps */
static void low_voltage_comes_when_the_load_does(void **state)
{
    slew_scenario s = move_scenario(10.0, 0.0, 1.0, 4.0);
    (void)state;
    do_move(s);
    const double one = run.result.lowest_loaded_voltage;
    s.deploy.order = SLEW_TOGETHER;
    do_move(s);
    s.setup.supply.floor = (one + run.result.lowest_loaded_voltage) / 2.0;
    do_move(s);
    assert_true(run.result.below_floor);
    s.deploy.order = SLEW_ROTATION_FIRST;
    do_move(s);
    assert_false(run.result.below_floor);
}

/* it drops out while the first motor starts: nothing was under load, and nobody may read "fine" */
static void brownout_at_a_start_is_below_the_floor(void **state)
{
    slew_scenario s = move_scenario(10.0, 0.0, 1.0, 0.0);
    (void)state;
    s.setup.supply.floor = 11.5;
    s.setup.supply.main.resistance = 0.5;
    s.setup.controller.brownout_voltage = 11.0;
    s.setup.controller.brownout_dwell = 0.01;
    do_move(s);
    assert_int_equal(run.result.deploy.fault, SLEW_FAULT_UNDERVOLTAGE);
    assert_true(isinf(run.result.lowest_loaded_voltage) && run.result.below_floor);
    s.setup.supply.floor = 1.0; /* a floor that is kept */
    do_move(s);
    assert_int_equal(run.result.deploy.fault, SLEW_FAULT_UNDERVOLTAGE);
    assert_false(run.result.below_floor);
}

/* ---- Verdict ---- */

static void result_is_fine_only_if_all_of_it_is(void **state)
{
    const slew_scenario s = daily_scenario();
    const slew_parts both = SLEW_STOW_AND_DEPLOY;
    slew_result r;
    (void)state;
    assert_int_equal(slew_run(&s, both, NULL, &r, NULL), SLEW_OK);
    assert_true(slew_result_ok(&s, both, &r));

    slew_result bad = r;
    bad.stow.says = SLEW_FAULTED;
    assert_false(slew_result_ok(&s, both, &bad));
    assert_false(slew_result_ok(&s, SLEW_STOW_ONLY, &bad));
    assert_true(slew_result_ok(&s, SLEW_DEPLOY_ONLY, &bad));
    bad = r, bad.deploy.says = SLEW_NOT_RUN;
    assert_false(slew_result_ok(&s, both, &bad));
    assert_true(slew_result_ok(&s, SLEW_STOW_ONLY, &bad));
    bad = r, bad.stow.on_target = false;
    assert_false(slew_result_ok(&s, both, &bad));
    bad.stow.has_target = false;
    assert_true(slew_result_ok(&s, both, &bad));
    bad = r, bad.deploy.on_target = false;
    assert_false(slew_result_ok(&s, both, &bad));
    bad = r, bad.deploy.holds = false;
    assert_false(slew_result_ok(&s, both, &bad));
    bad = r, bad.visit_count = 1;
    assert_false(slew_result_ok(&s, both, &bad));
    bad = r, bad.below_floor = true;
    assert_false(slew_result_ok(&s, both, &bad));

    slew_scenario no_deploy = s;
    no_deploy.deploy.given = false;
    bad = r, bad.deploy.says = SLEW_NOT_RUN;
    assert_true(slew_result_ok(&no_deploy, both, &bad));
}

/* within tolerance and on the stop: nobody is told, and it is not fine */
static void pressed_on_a_stop_is_not_fine(void **state)
{
    (void)state;
    slew_scenario s;
    slew_result r;
    const slew_parts both = SLEW_STOW_AND_DEPLOY;
    assert_int_equal(slew_scenario_read_file("examples/clearance-pressed.yaml", NULL, &s), SLEW_OK);
    assert_int_equal(slew_run(&s, both, NULL, &r, NULL), SLEW_OK);
    assert_true(r.stow.says == SLEW_STOWED && r.stow.on_target && !r.below_floor);
    slew_setup setup;
    slew_scenario_resolve(&s, SLEW_OCCASION_STOW, &setup);
    assert_int_equal(slew_pressed_axis(&setup, &r.stow), SLEW_ELEVATION);
    assert_false(slew_result_ok(&s, both, &r));
    r.stow.angle[SLEW_ELEVATION] += 1e-3;
    assert_int_equal(slew_pressed_axis(&setup, &r.stow), SLEW_NO_AXIS);
    assert_true(slew_result_ok(&s, both, &r));

    const slew_scenario d = daily_scenario();
    assert_int_equal(slew_run(&d, both, NULL, &r, NULL), SLEW_OK);
    r.deploy.angle[SLEW_ROTATION] = d.setup.axis[SLEW_ROTATION].stops.high;
    assert_false(slew_result_ok(&d, both, &r));
    assert_true(slew_result_ok(&d, SLEW_STOW_ONLY, &r));
    r.deploy.says = SLEW_FAULTED; /* the controller knows */
    slew_scenario_resolve(&d, SLEW_OCCASION_DEPLOY, &setup);
    assert_int_equal(slew_pressed_axis(&setup, &r.deploy), SLEW_NO_AXIS);
}

/* on target: within the tolerance of the point, inside the range of the deploy, bounds included */
static void target_is_met_or_missed(void **state)
{
    slew_scenario s = daily_scenario();
    slew_result r;
    (void)state;
    assert_int_equal(slew_run(&s, SLEW_STOW_AND_DEPLOY, NULL, &r, NULL), SLEW_OK);
    const double off =
        fmax(fabs(r.stow.angle[R] - s.stow.point[R]), fabs(r.stow.angle[E] - s.stow.point[E]));
    assert_true(off > 0.0 && off < degrees(0.1));
    s.stow.tolerance = off * 1.001;
    s.deploy.target[E].high = r.deploy.angle[E];
    assert_int_equal(slew_run(&s, SLEW_STOW_AND_DEPLOY, NULL, &r, NULL), SLEW_OK);
    assert_true(r.stow.on_target && r.deploy.on_target);
    s.stow.tolerance = off * 0.999;
    s.deploy.target[E].high = nextafter(r.deploy.angle[E], 0.0);
    assert_int_equal(slew_run(&s, SLEW_STOW_AND_DEPLOY, NULL, &r, NULL), SLEW_OK);
    assert_false(r.stow.on_target || r.deploy.on_target);
}

static void words_are_those_of_the_output(void **state)
{
    (void)state;
    assert_string_equal(slew_event_word(SLEW_EVENT_DRIVE_ON), "drive_on");
    assert_string_equal(slew_event_word(SLEW_EVENT_DOES_NOT_HOLD), "does_not_hold");
    assert_string_equal(slew_fault_word(SLEW_FAULT_NONE), "none");
    assert_string_equal(slew_fault_word(SLEW_FAULT_HOME_NOT_FOUND), "home_not_found");
    assert_string_equal(slew_fault_word(SLEW_FAULT_CANCELLED), "cancelled");
    assert_string_equal(slew_verdict_word(SLEW_STOWED), "stowed");
    assert_string_equal(slew_approach_word(SLEW_APPROACH_FALLING), "falling");
    assert_string_equal(slew_axis_word(R), "rotation");
    assert_string_equal(slew_axis_word(E), "elevation");
    assert_string_equal(slew_direction_word(R, -1), "left");
    assert_string_equal(slew_direction_word(R, 1), "right");
    assert_string_equal(slew_direction_word(E, -1), "down");
    assert_string_equal(slew_direction_word(E, 1), "up");
    assert_string_equal(slew_direction_word(R, 0), "");
    assert_string_equal(slew_event_word(SLEW_EVENT_KIND_COUNT), "?");
    assert_string_equal(slew_fault_word((slew_fault)-1), "?");
    assert_string_equal(slew_verdict_word((slew_verdict)99), "?");
    assert_string_equal(slew_approach_word((slew_approach)99), "?");
    for (int a = 0; a < SLEW_EVENT_KIND_COUNT; a++)
        for (int b = 0; b < a; b++)
            assert_string_not_equal(slew_event_word((slew_event_kind)a),
                                    slew_event_word((slew_event_kind)b));
}

/* numbers that no reading lets through, written into the struct */
static void numbers_that_are_none_are_refused(void **state)
{
    slew_result result;
    slew_error error;
    (void)state;
    for (int i = 0; i < 3; i++) {
        slew_scenario s = daily_scenario();
        slew_controller_settings *c = &s.setup.controller;
        *(i == 0 ? &c->move_limit : i == 1 ? &c->latency : &c->pause) = NAN;
        assert_int_equal(slew_run(&s, SLEW_STOW_AND_DEPLOY, NULL, &result, &error),
                         SLEW_ERROR_INPUT);
        assert_string_equal(error.key, "controller");
    }
    slew_scenario s = daily_scenario();
    assert_int_equal(slew_scenario_set_number(&s, (slew_layer_id)9, 5, 1.0), SLEW_ERROR_INPUT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(box_is_entered_and_left_at_its_bounds),
        cmocka_unit_test(bounds_belong_to_the_box),
        cmocka_unit_test(box_of_two_axes_needs_both),
        cmocka_unit_test(stop_on_the_bound_is_inside),
        cmocka_unit_test(boxes_that_meet_are_both_entered),
        cmocka_unit_test(every_visit_is_counted),
        cmocka_unit_test(voltage_under_load_begins_after_the_blank),
        cmocka_unit_test(charge_is_counted_over_the_whole_run),
        cmocka_unit_test(short_drive_is_never_under_load),
        cmocka_unit_test(drive_of_just_the_blank_time_is_not_under_load),
        cmocka_unit_test(low_voltage_is_told_once),
        cmocka_unit_test(low_voltage_comes_when_the_load_does),
        cmocka_unit_test(brownout_at_a_start_is_below_the_floor),
        cmocka_unit_test(result_is_fine_only_if_all_of_it_is),
        cmocka_unit_test(pressed_on_a_stop_is_not_fine),
        cmocka_unit_test(target_is_met_or_missed),
        cmocka_unit_test(numbers_that_are_none_are_refused),
        cmocka_unit_test(words_are_those_of_the_output),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
