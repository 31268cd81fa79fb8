/* speed_needs.c - the lowest source voltages: the machine itself does it a millivolt above and does
 * not a millivolt below; and where the load is known, the formulas. */
#include "speed_ask.h"

#include <stdlib.h>

static const double MILLIVOLT = 1e-3;

static slew_speed ask_default(const slew_scenario *s)
{
    const slew_speed_question q = slew_speed_question_default(s, SLEW_OCCASION_STOW);
    return ask(s, &q);
}

/* the conditions of a curve at another source voltage */
static slew_setup setup_of(const slew_speed *s, const slew_speed_curve *c, double voltage)
{
    slew_setup setup = s->setup;
    const slew_speed_level *level = &s->level[c->level];
    setup.nozzle.flowing = level->pressure > 0.0;
    if (setup.nozzle.flowing) {
        setup.nozzle.pressure = level->pressure;
        setup.nozzle.flow = level->flow;
    }
    setup.supply.main.voltage = voltage;
    return setup;
}

static slew_plant_model model_at(const slew_speed *s, const slew_speed_curve *c, double voltage)
{
    const slew_setup setup = setup_of(s, c, voltage);
    return model_of(&setup);
}

/* ---- Breakaway and stall ---- */

/* the machine, driven from rest at the slowest place; a stop there is out of the way */
static bool moves(const slew_speed *s, const slew_speed_curve *c, double voltage, double breakaway)
{
    slew_plant_model model = model_at(s, c, voltage);
    slew_plant plant;
    for (int j = 0; j < SLEW_AXES; j++) {
        model.axis[j].stops.low -= 1.0;
        model.axis[j].stops.high += 1.0;
    }
    model.axis[c->axis].breakaway = breakaway;
    slew_plant_start(&model, c->place.slowest, &plant);
    slew_plant_drive(&model, &plant, c->axis, c->direction);
    slew_plant_advance(&model, &plant, 0.05);
    return plant.moving[c->axis] == c->direction;
}

static void turns_at(const slew_speed *s, const slew_speed_curve *c, double need, double breakaway)
{
    if (!moves(s, c, need + MILLIVOLT, breakaway) || moves(s, c, need - MILLIVOLT, breakaway))
        fail_msg("%s %d, level %d: not at %.4f V", slew_axis_word(c->axis), c->direction, c->level,
                 need);
}

/* From rest with the motor's own breakaway; and what keeps running is what would start if static
 * friction were no more than sliding. */
static void plant_starts_a_millivolt_above_and_not_below(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    for (int tilt = 0; tilt <= 20; tilt += 20) {
        s.setup.environment.tilt = degrees(tilt);
        s.setup.environment.tilt_direction = degrees(30.0);
        slew_speed speed = ask_default(&s);
        assert_int_equal(speed.curve_count, 12);
        for (int i = 0; i < speed.curve_count; i++) {
            const slew_speed_curve *c = &speed.curve[i];
            turns_at(&speed, c, c->need.starts, 1.2);
            turns_at(&speed, c, c->need.runs, 1.0);
            assert_true(c->need.runs < c->need.starts);
        }
        slew_speed_free(&speed);
    }
}

/* rotation, dry, on a level base: nothing but friction is to be overcome */
static void dry_rotation_needs_what_the_formulas_say(void **state)
{
    const slew_scenario s = daily_scenario();
    const slew_plant_model model = daily_model();
    const slew_plant_axis *a = &model.axis[R];
    slew_speed speed = ask_default(&s);
    const slew_speed_needs *need = &speed.curve[0].need;
    (void)state;
    const double base = 13.4 - model.line_voltage + a->drop; /* shared load, drive */
    const double total = a->resistance + model.line_resistance;
    const double sliding = drag(a), sticking = sliding + 0.2 * a->coulomb;
    near("runs", need->runs, base + total * sliding / a->constant, SLEW_SPEED_TOLERANCE);
    near("starts", need->starts, base + total * sticking / a->constant, SLEW_SPEED_TOLERANCE);
    near("noticed", need->noticed, base + total * 13.0, SLEW_SPEED_TOLERANCE);

    /* V = Vd + R I + K w and K I = drag + b w, with V given */
    const double current = (sliding + a->viscous * (11.5 - a->drop) / a->constant) /
                           (a->constant + a->viscous * a->resistance / a->constant);
    near("floor", need->floor, 11.5 + base - a->drop + model.line_resistance * current,
         SLEW_SPEED_TOLERANCE);
    assert_true(isinf(need->trips));
    slew_speed_free(&speed);
}

/* ---- Controller ---- */

static void floor_and_brownout_are_met_at_their_voltages(void **state)
{
    const slew_scenario s = daily_scenario();
    slew_speed speed = ask_default(&s);
    (void)state;
    for (int i = 0; i < speed.curve_count; i++) {
        const slew_speed_curve *c = &speed.curve[i];
        const double need[] = {c->need.floor, c->need.brownout}, level[] = {11.5, 9.0};
        for (int k = 0; k < 2; k++) {
            const slew_plant_model model = model_at(&speed, c, need[k]);
            const slew_speed_point p =
                slew_speed_at(&model, c->axis, c->direction, c->place.slowest);
            assert_true(p.voltage >= level[k] && p.voltage < level[k] + SLEW_SPEED_TOLERANCE);
        }
    }
    slew_speed_free(&speed);
}

static bool gets_there(const slew_speed *s, const slew_speed_curve *c, double voltage)
{
    const slew_setup setup = setup_of(s, c, voltage);
    slew_speed_travel t;
    assert_int_equal(slew_speed_travel_run(&setup, c->axis, c->direction, c->other, &t, NULL),
                     SLEW_OK);
    return !isnan(t.time);
}

static void arrives_a_millivolt_above_and_not_below(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    for (int n = 0; n < 2; n++) {
        s.setup.controller.move_limit = n ? 40.0 : 60.0;
        slew_speed speed = ask_default(&s);
        for (int i = 0; i < speed.curve_count; i++) {
            const slew_speed_curve *c = &speed.curve[i];
            assert_true(gets_there(&speed, c, c->need.arrives + MILLIVOLT));
            assert_false(gets_there(&speed, c, c->need.arrives - MILLIVOLT));
            for (int k = 0; k < speed.row_count; k++)
                assert_true(isnan(c->row[k].travel.time) == (c->row[k].supply < c->need.arrives));
        }
        slew_speed_free(&speed);
    }
}

/* A threshold of 2.7 A: lifting dry takes that from some voltage on, and the controller stops it;
 * below it does not, as long as the voltage is enough. */
static void running_current_is_declared_a_stall_from_some_voltage_on(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.setup.controller.stall_current = 2.7;
    slew_speed speed = ask_default(&s);
    const slew_speed_curve *up = &speed.curve[9];
    assert_true(up->axis == E && up->direction == 1 && up->level == 0);
    const slew_plant_model model = model_at(&speed, up, up->need.trips);
    const slew_speed_point p = slew_speed_at(&model, E, 1, up->place.slowest);
    assert_true(p.state == SLEW_SPEED_RUNS && p.current >= 2.7 && p.current < 2.7 + 1e-5);
    assert_true(up->need.arrives < up->need.trips);
    assert_true(gets_there(&speed, up, up->need.trips - 10.0 * MILLIVOLT));
    assert_int_equal(up->own.travel.fault, SLEW_FAULT_OVERLOAD);
    slew_speed_free(&speed);

    s.setup.controller.stall_current = 2.3; /* less than it takes at any voltage */
    speed = ask_default(&s);
    near("at once", speed.curve[9].need.trips, speed.curve[9].need.runs, 2.0 * MILLIVOLT);
    assert_true(isinf(speed.curve[9].need.arrives));
    slew_speed_free(&speed);
}

/* ---- Any and none ---- */

static void nothing_is_needed_beside_an_auxiliary_battery(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.setup.supply.auxiliary_fitted = true;
    s.setup.supply.feed.per_length = 1e6; /* the main source is as good as cut off */
    s.setup.supply.feed.conductor = SLEW_CONDUCTOR_PER_LENGTH;
    s.setup.supply.shared_load = 0.0;
    slew_speed speed = ask_default(&s);
    for (int i = 0; i < speed.curve_count; i++) {
        assert_true(speed.curve[i].need.runs == 0.0 && speed.curve[i].need.starts == 0.0);
        assert_true(speed.curve[i].need.arrives == 0.0 && speed.curve[i].need.noticed == 0.0);
    }
    slew_speed_free(&speed);
}

static void what_no_voltage_of_the_range_does_is_infinite(void **state)
{
    const slew_scenario s = daily_scenario();
    slew_speed_question q = slew_speed_question_default(&s, SLEW_OCCASION_STOW);
    (void)state;
    q.from = 0.5;
    q.to = 6.6; /* between what the last curve needs to keep running and to start */
    slew_speed speed = ask(&s, &q);
    const slew_speed_needs *need = &speed.curve[11].need;
    assert_true(isfinite(need->runs) && isinf(need->starts) && isinf(need->arrives));
    assert_true(isinf(need->floor) && isinf(need->noticed));
    assert_int_equal(speed.curve[11].row[0].slowest.state, SLEW_SPEED_OFF);
    assert_int_equal(speed.curve[11].row[6].slowest.state, SLEW_SPEED_STANDS);
    assert_int_equal(speed.curve[11].row[12].slowest.state, SLEW_SPEED_RUNS_ON);
    assert_true(isnan(speed.curve[11].row[0].slowest.voltage));
    slew_speed_free(&speed);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plant_starts_a_millivolt_above_and_not_below),
        cmocka_unit_test(dry_rotation_needs_what_the_formulas_say),
        cmocka_unit_test(floor_and_brownout_are_met_at_their_voltages),
        cmocka_unit_test(arrives_a_millivolt_above_and_not_below),
        cmocka_unit_test(running_current_is_declared_a_stall_from_some_voltage_on),
        cmocka_unit_test(nothing_is_needed_beside_an_auxiliary_battery),
        cmocka_unit_test(what_no_voltage_of_the_range_does_is_infinite),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
