/* motion_rest.c - what starts, what stays, what holds and what does not; thresholds. */
#include "motion_plant.h"

/* ---- Rest and motion ---- */

/* torque at stall over the friction it must overcome: a part in 1e9 decides */
static void breakaway_decides_whether_it_starts(void **state)
{
    slew_plant_model model = daily_model();
    slew_plant_axis *axis = &model.axis[R];
    const double current =
        (model.line_voltage - axis->drop) / (axis->resistance + model.line_resistance);
    const double threshold =
        (axis->constant * current - axis->breakaway * axis->coulomb) * axis->forward * axis->ratio;
    (void)state;

    axis->friction = threshold * (1.0 - 1e-9);
    slew_plant plant = plant_at(&model, 30.0, 0.0);
    start_drive(&model, &plant, R, 1);

    axis->friction = threshold * (1.0 + 1e-9);
    plant = plant_at(&model, 30.0, 0.0);
    slew_plant_drive(&model, &plant, R, 1);
    next(&model, &plant, 5.0, SLEW_PLANT_NOTHING);
    assert_true(plant.angle[R] == degrees(30.0));
    close_to("stall current", plant.current[R], current, 1e-14);
}

/* a steady load torque on elevation that wants to lower the barrel */
static void hang(slew_plant_model *model, double torque)
{
    model->gravity_up = 0.0;
    model->reaction[E] = torque;
    model->axis[E].largest_torque = fabs(torque);
    model->axis[E].backward = 0.5;
}

/* the gear passes eta_b of what friction leaves; the motor's Coulomb torque holds it */
static void gear_holds_up_to_the_motors_own_friction(void **state)
{
    slew_plant_model model = daily_model();
    const slew_plant_axis *axis = &model.axis[E];
    const double threshold = axis->friction + axis->coulomb * axis->ratio / 0.5;
    (void)state;

    for (int side = -1; side <= 1; side += 2) {
        hang(&model, side * threshold * (1.0 - 1e-9));
        slew_plant plant = plant_at(&model, 0.0, 10.0);
        next(&model, &plant, 5.0, SLEW_PLANT_NOTHING);

        hang(&model, side * threshold * (1.0 + 1e-9));
        plant = plant_at(&model, 0.0, 10.0);
        const slew_plant_event event = next(&model, &plant, 5.0, SLEW_PLANT_DOES_NOT_HOLD);
        assert_int_equal(event.axis, E);
        assert_int_equal(event.direction, -side);
        assert_true(plant.does_not_hold && plant.time == 0.0);
        next(&model, &plant, 7.0, SLEW_PLANT_DOES_NOT_HOLD);
        assert_true(plant.time == 0.0);
    }
}

static void self_locking_gear_holds_anything(void **state)
{
    slew_plant_model model = daily_model();
    (void)state;
    hang(&model, 1e6);
    model.axis[E].backward = -0.1;
    slew_plant plant = plant_at(&model, 0.0, 10.0);
    next(&model, &plant, 5.0, SLEW_PLANT_NOTHING);
}

static void axis_on_a_stop_is_held_by_it(void **state)
{
    slew_plant_model model = daily_model();
    (void)state;
    hang(&model, 1e4);
    slew_plant plant = plant_at(&model, 0.0, -20.0);
    next(&model, &plant, 5.0, SLEW_PLANT_NOTHING);
    hang(&model, -1e4);
    plant = plant_at(&model, 0.0, -20.0);
    assert_int_equal(next(&model, &plant, 5.0, SLEW_PLANT_DOES_NOT_HOLD).direction, 1);
}

/* driven up, dragged down: the load must beat the motor's stall torque and its breakaway */
static void load_drags_a_driven_axis_back(void **state)
{
    slew_plant_model model = daily_model();
    const slew_plant_axis *axis = &model.axis[E];
    const double current =
        (model.line_voltage - axis->drop) / (axis->resistance + model.line_resistance);
    const double hold = axis->breakaway * axis->coulomb + axis->constant * current;
    const double threshold = axis->friction + hold * axis->ratio / 0.5;
    (void)state;

    hang(&model, threshold * (1.0 - 1e-9));
    slew_plant plant = plant_at(&model, 0.0, 10.0);
    slew_plant_drive(&model, &plant, E, 1);
    next(&model, &plant, 5.0, SLEW_PLANT_NOTHING);

    hang(&model, threshold * (1.0 + 1e-9));
    plant = plant_at(&model, 0.0, 10.0);
    slew_plant_drive(&model, &plant, E, 1);
    assert_int_equal(next(&model, &plant, 5.0, SLEW_PLANT_DOES_NOT_HOLD).direction, -1);
}

/* 13 A is what one motor draws at the speed where the current has fallen to it */
static void current_threshold_is_passed_at_its_speed(void **state)
{
    slew_plant_model model = daily_model();
    slew_plant_axis *axis = &model.axis[R];
    slew_plant plant;
    (void)state;

    axis->watch_current = 13.0;
    plant = plant_at(&model, 30.0, 0.0);
    start_drive(&model, &plant, R, 1);
    assert_true(plant.over_current[R]);
    const slew_plant_event event = next(&model, &plant, 1.0, SLEW_PLANT_CURRENT);
    const double speed =
        (model.line_voltage - axis->drop - 13.0 * (axis->resistance + model.line_resistance)) /
        axis->constant;
    assert_int_equal(event.direction, -1);
    assert_false(plant.over_current[R]);
    near("when", plant.time, time_to(driven(&model, R), 0.0, speed), TIME);
}

/* ---- Questions that stand ---- */

/* Both driven, rotation held back by friction at the voltage of two stall currents: it starts when
 * elevation has come up to speed and the line has recovered. To elevation, the line with the
 * standing motor on it is a source of its own. */
static void stalled_axis_starts_when_the_voltage_recovers(void **state)
{
    slew_plant_model model = daily_model();
    slew_plant_axis *a = &model.axis[R];
    const double r = model.line_resistance, share = 1.0 + r / a->resistance;
    const double voltage = (model.line_voltage + r * a->drop / a->resistance) / share;
    const double resistance = r / share, start_at = voltage - 0.3;
    (void)state;

    hang(&model, 0.0);
    a->friction = (a->constant * (start_at - a->drop) / a->resistance - a->breakaway * a->coulomb) *
                  a->forward * a->ratio;
    slew_plant plant = plant_at(&model, 30.0, 10.0);
    slew_plant_drive(&model, &plant, R, 1);
    slew_plant_drive(&model, &plant, E, 1);
    assert_int_equal(next(&model, &plant, 1.0, SLEW_PLANT_MOVING).axis, E);
    assert_int_equal(next(&model, &plant, 1.0, SLEW_PLANT_MOVING).axis, R);

    const slew_plant_axis *e = &model.axis[E];
    const double current = (voltage - start_at) / resistance;
    const double speed = (start_at - e->drop - e->resistance * current) / e->constant;
    near("when", plant.time, time_to(driven_by(e, voltage, resistance, 1), 0.0, speed), TIME);
    near("voltage", plant.voltage, start_at, 1e-7);
}

/* The reaction's torque on rotation grows with the cosine of elevation: lowering the barrel from 60
 * degrees reaches the threshold at the angle where the cosine does. */
static void held_axis_lets_go_as_the_other_moves(void **state)
{
    slew_plant_model model = daily_model();
    slew_plant_axis *a = &model.axis[R];
    (void)state;

    hang(&model, 0.0);
    a->backward = 0.5;
    const double threshold = a->friction + a->coulomb * a->ratio / 0.5;
    model.reaction[R] = a->largest_torque = threshold / cos(degrees(35.0));
    slew_plant plant = plant_at(&model, 30.0, 60.0);
    slew_plant_drive(&model, &plant, E, -1);
    next(&model, &plant, 9.0, SLEW_PLANT_MOVING);
    const slew_plant_event event = next(&model, &plant, 9.0, SLEW_PLANT_DOES_NOT_HOLD);
    assert_true(event.axis == R && event.direction == -1);
    near("at", plant.angle[E], degrees(35.0), ANGLE);
}

/* Without a breakaway of its own elevation starts the moment the voltage suffices, while rotation
 * speeds up: it is told once, and goes on. */
static void axis_that_only_just_starts_goes_on(void **state)
{
    int late = 0;
    (void)state;
    for (double friction = 0.0; friction < 600.0; friction += 5.0) {
        slew_plant_model model = daily_model();
        model.gravity_up = model.axis[E].largest_torque = 0.0;
        model.axis[E].breakaway = 1.0;
        model.axis[E].friction = friction;
        slew_plant plant = plant_at(&model, 0.0, 0.0);
        slew_plant_drive(&model, &plant, R, 1);
        slew_plant_drive(&model, &plant, E, 1);
        int starts = 0, events = 0;
        slew_plant_event event;
        while ((event = slew_plant_advance(&model, &plant, 0.5)).kind != SLEW_PLANT_NOTHING) {
            if (event.kind == SLEW_PLANT_MOVING && event.axis == E) {
                starts++;
                late += plant.time > 0.0;
            }
            assert_true(++events < 20);
        }
        assert_true(starts <= 1 && starts == (plant.moving[E] != 0));
    }
    assert_true(late > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(breakaway_decides_whether_it_starts),
        cmocka_unit_test(axis_that_only_just_starts_goes_on),
        cmocka_unit_test(gear_holds_up_to_the_motors_own_friction),
        cmocka_unit_test(self_locking_gear_holds_anything),
        cmocka_unit_test(axis_on_a_stop_is_held_by_it),
        cmocka_unit_test(load_drags_a_driven_axis_back),
        cmocka_unit_test(current_threshold_is_passed_at_its_speed),
        cmocka_unit_test(stalled_axis_starts_when_the_voltage_recovers),
        cmocka_unit_test(held_axis_lets_go_as_the_other_moves),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
