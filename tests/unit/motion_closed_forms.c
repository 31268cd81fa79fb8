/* motion_closed_forms.c - the machine against formulas: where the load does not depend on the
 * angle, every motion is an exponential or a parabola. */
#include "motion_plant.h"

/* ---- Spin-up ---- */

static void spin_up_is_an_exponential(void **state)
{
    const slew_plant_model model = daily_model();
    const decay d = driven(&model, R);
    slew_plant plant = plant_at(&model, -100.0, 0.0);
    (void)state;

    start_drive(&model, &plant, R, 1);
    for (double time = 0.001; time < 5.0; time *= 1.5) {
        next(&model, &plant, time, SLEW_PLANT_NOTHING);
        close_to("speed", plant.speed[R], speed_after(d, 0.0, time), 1e-9);
        close_to("turned", (plant.angle[R] - degrees(-100.0)) * model.axis[R].ratio,
                 turn_after(d, 0.0, time), 1e-9);
    }
    assert_true(plant.angle[E] == 0.0 && plant.speed[E] == 0.0);
}

/* 200 time constants after the start nothing is left of it */
static void steady_speed_is_where_torque_meets_drag(void **state)
{
    const slew_plant_model model = daily_model();
    const slew_plant_axis *axis = &model.axis[R];
    slew_plant plant = plant_at(&model, 100.0, 0.0);
    (void)state;

    start_drive(&model, &plant, R, -1);
    next(&model, &plant, 4.9, SLEW_PLANT_NOTHING);
    const double speed = -plant.speed[R], current = plant.current[R];
    close_to("speed", speed, driven(&model, R).end, 1e-12);
    close_to("torque", axis->constant * current, drag(axis) + axis->viscous * speed, 1e-12);
    close_to("voltage", plant.voltage, model.line_voltage - model.line_resistance * current, 1e-12);
    close_to("drive", plant.voltage,
             axis->drop + axis->resistance * current + axis->constant * speed, 1e-12);
    close_to("output", slew_plant_output_speed(&model, &plant, R), -speed / 1750.0, 1e-12);
}

static void drive_on_draws_stall_current(void **state)
{
    const slew_plant_model model = daily_model();
    const slew_plant_axis *axis = &model.axis[R];
    slew_plant plant = plant_at(&model, 30.0, 0.0);
    (void)state;

    const double current =
        (model.line_voltage - axis->drop) / (axis->resistance + model.line_resistance);
    assert_true(plant.voltage == model.line_voltage);
    start_drive(&model, &plant, R, 1);
    close_to("current", plant.current[R], current, 1e-14);
    close_to("voltage", plant.voltage, model.line_voltage - model.line_resistance * current, 1e-14);
    next(&model, &plant, 1.0, SLEW_PLANT_NOTHING);
    close_to("peak", plant.span.peak_current, current, 1e-14);
    close_to("lowest", plant.span.lowest_voltage,
             model.line_voltage - model.line_resistance * current, 1e-14);
}

/* two alike motors in parallel look like one of half the resistance */
static void two_motors_share_the_line(void **state)
{
    const slew_plant_model model = daily_model();
    const slew_plant_axis *axis = &model.axis[R];
    slew_plant plant = plant_at(&model, 30.0, 0.0);
    (void)state;

    start_drive(&model, &plant, R, 1);
    start_drive(&model, &plant, E, 1);
    const double total =
        (model.line_voltage - axis->drop) / (axis->resistance / 2.0 + model.line_resistance);
    close_to("rotation", plant.current[R], total / 2.0, 1e-14);
    close_to("elevation", plant.current[E], total / 2.0, 1e-14);
    close_to("voltage", plant.voltage, model.line_voltage - model.line_resistance * total, 1e-14);
}

/* the current is linear in the speed: its integral is linear in the turn */
static void charge_is_the_integral_of_the_current(void **state)
{
    const slew_plant_model model = daily_model();
    const slew_plant_axis *axis = &model.axis[R];
    const decay d = driven(&model, R);
    slew_plant plant = plant_at(&model, 30.0, 0.0);
    double charge = 0.0;
    (void)state;

    start_drive(&model, &plant, R, 1);
    for (int i = 1; i <= 100; i++) {
        next(&model, &plant, i * 0.02, SLEW_PLANT_NOTHING);
        charge += plant.span.charge;
    }
    const double total = axis->resistance + model.line_resistance;
    const double expected =
        ((model.line_voltage - axis->drop) * 2.0 - axis->constant * turn_after(d, 0.0, 2.0)) /
        total;
    close_to("charge", charge, expected, 1e-11);
}

/* Lowering: what friction leaves of the load reaches the motor through the backward efficiency; a
 * negative one makes even that a burden. Raising: all of it through the forward efficiency. */
static void load_passes_the_gear_by_its_efficiency_each_way(void **state)
{
    static const double backward[] = {0.5, 0.0, -0.7};
    (void)state;
    for (int i = 0; i < 3; i++)
        for (int q = -1; q <= 1; q += 2) {
            slew_plant_model model = daily_model();
            slew_plant_axis *axis = &model.axis[E];
            model.gravity_up = 0.0;
            model.reaction[E] = axis->largest_torque = 40.0;
            axis->backward = backward[i];
            const double total = axis->resistance + model.line_resistance;
            const double carried = q * 40.0 + axis->friction;
            const double geared = carried > 0.0 ? carried / axis->forward : carried * backward[i];
            const double damping = axis->constant * axis->constant / total + axis->viscous;
            const double push = axis->constant * (model.line_voltage - axis->drop) / total;
            const decay d = {damping / axis->inertia,
                             (push - axis->coulomb - geared / axis->ratio) / damping};

            slew_plant plant = plant_at(&model, 30.0, 30.0);
            start_drive(&model, &plant, E, q);
            for (double time = 0.004; time < 2.0; time *= 2.0) {
                next(&model, &plant, time, SLEW_PLANT_NOTHING);
                close_to("speed", q * plant.speed[E], speed_after(d, 0.0, time), 1e-9);
            }
        }
}

/* Lowered past the horizon, where the weight is strongest: however little it exceeds friction
 * there, and however short that lasts, it drives the gear just so long. */
static void gear_is_helped_while_the_load_exceeds_friction(void **state)
{
    int helped = 0;
    (void)state;
    for (int power = 1; power <= 5; power++)
        for (int k = 0; k < 40; k++) {
            slew_plant_model model = daily_model();
            const slew_plant_axis *axis = &model.axis[E];
            model.gravity_up = axis->friction * (1.0 + pow(10.0, -power));
            model.axis[E].largest_torque = model.gravity_up;
            model.axis[E].home.present = false;
            slew_plant plant = plant_at(&model, 30.0, 17.0 + 0.1 * k);
            slew_plant_drive(&model, &plant, E, -1);
            next(&model, &plant, 9.0, SLEW_PLANT_MOVING);
            for (double time = 0.01; plant.angle[E] > degrees(-15.0); time += 0.01) {
                next(&model, &plant, time, SLEW_PLANT_NOTHING);
                const double carried = axis->friction - model.gravity_up * cos(plant.angle[E]);
                if (fabs(carried) < 1e-7 * axis->friction)
                    continue;
                assert_int_equal(plant.helped[E], carried < 0.0);
                helped += plant.helped[E];
            }
        }
    assert_true(helped > 100);
}

/* ---- Stopping ---- */

/* drives for a second, switches off, waits for rest: time and turn of the motor since then */
static void stop_after_a_second(const slew_plant_model *model, double *speed, double *time,
                                double *turn)
{
    slew_plant plant = plant_at(model, 30.0, 0.0);
    start_drive(model, &plant, R, 1);
    next(model, &plant, 1.0, SLEW_PLANT_NOTHING);
    *speed = plant.speed[R];
    const double angle = plant.angle[R];
    slew_plant_drive(model, &plant, R, 0);
    next(model, &plant, 100.0, SLEW_PLANT_AT_REST);
    *time = plant.time - 1.0;
    *turn = (plant.angle[R] - angle) * model->axis[R].ratio;
    assert_true(plant.speed[R] == 0.0);
    assert_false(slew_plant_is_moving(&plant));
    next(model, &plant, 200.0, SLEW_PLANT_NOTHING);
}

/* The speed at rest is 0, so an error of 1e-9 s changes the turn by next to nothing: 1e-9 of it. */
static void stops_as(const slew_plant_model *model, decay d)
{
    double speed, time, turn;
    stop_after_a_second(model, &speed, &time, &turn);
    const double expected = time_to(d, speed, 0.0);
    near("time to rest", time, expected, TIME);
    close_to("turn", turn, turn_after(d, speed, expected), 1e-9);
}

static void braking_ends_after_a_logarithm_of_time(void **state)
{
    slew_plant_model model = daily_model();
    const slew_plant_axis *axis = &model.axis[R];
    const double damping = axis->constant * axis->constant / axis->resistance + axis->viscous;
    (void)state;
    model.brake = true;
    stops_as(&model, (decay){damping / axis->inertia, -drag(axis) / damping});
}

static void coasting_with_viscous_drag_is_a_slow_exponential(void **state)
{
    slew_plant_model model = daily_model();
    const slew_plant_axis *axis = &model.axis[R];
    (void)state;
    model.brake = false;
    stops_as(&model, (decay){axis->viscous / axis->inertia, -drag(axis) / axis->viscous});
}

static void coasting_without_viscous_drag_is_a_parabola(void **state)
{
    slew_setup setup = daily_setup();
    setup.controller.stop = SLEW_COAST;
    setup.axis[R].motor.viscous_share = 0.0;
    const slew_plant_model model = model_of(&setup);
    const double slowing = drag(&model.axis[R]) / model.axis[R].inertia;
    double speed, time, turn;
    (void)state;

    stop_after_a_second(&model, &speed, &time, &turn);
    near("time to rest", time, speed / slowing, TIME);
    close_to("turn", turn, speed * speed / (2.0 * slowing), 1e-9);
}

/* the motor pushes back until it stands, then starts anew the other way */
static void reversal_of_a_coasting_axis_goes_through_rest(void **state)
{
    slew_plant_model model = daily_model();
    model.brake = false;
    slew_plant plant = plant_at(&model, 30.0, 0.0);
    (void)state;

    start_drive(&model, &plant, R, 1);
    next(&model, &plant, 1.0, SLEW_PLANT_NOTHING);
    const decay against = driven_by(&model.axis[R], model.line_voltage, model.line_resistance, -1);
    const double expected = time_to(against, plant.speed[R], 0.0);
    slew_plant_drive(&model, &plant, R, -1);
    assert_int_equal(plant.moving[R], 1);
    next(&model, &plant, 9.0, SLEW_PLANT_AT_REST);
    near("time to rest", plant.time - 1.0, expected, TIME);
    assert_int_equal(next(&model, &plant, 9.0, SLEW_PLANT_MOVING).direction, -1);
    const double rest = plant.time;
    next(&model, &plant, rest + 0.05, SLEW_PLANT_NOTHING);
    close_to("speed", -plant.speed[R], speed_after(driven(&model, R), 0.0, plant.time - rest),
             1e-9);
}

/* ---- Stops ---- */

static void stop_takes_the_kinetic_energy(void **state)
{
    const slew_plant_model model = daily_model();
    const decay d = driven(&model, R);
    slew_plant plant = plant_at(&model, 168.0, 0.0);
    (void)state;

    start_drive(&model, &plant, R, 1);
    const slew_plant_event event = next(&model, &plant, 9.0, SLEW_PLANT_STOP_CONTACT);
    const double speed = speed_after(d, 0.0, plant.time);
    assert_int_equal(event.direction, 1);
    assert_true(plant.angle[R] == degrees(170.0) && plant.speed[R] == 0.0);
    near("when", turn_after(d, 0.0, plant.time) / 1750.0, degrees(2.0), ANGLE);
    close_to("energy", event.value, model.axis[R].inertia * speed * speed / 2.0, 1e-7);
}

static void axis_driven_into_a_stop_draws_stall_current(void **state)
{
    const slew_plant_model model = daily_model();
    const slew_plant_axis *axis = &model.axis[R];
    slew_plant plant = plant_at(&model, -170.0, 0.0);
    (void)state;

    slew_plant_drive(&model, &plant, R, -1);
    next(&model, &plant, 3.0, SLEW_PLANT_NOTHING);
    const double current =
        (model.line_voltage - axis->drop) / (axis->resistance + model.line_resistance);
    close_to("current", plant.current[R], current, 1e-14);
    close_to("charge", plant.span.charge, 3.0 * current, 1e-14);
    assert_true(plant.angle[R] == degrees(-170.0));

    start_drive(&model, &plant, R, 1);
    next(&model, &plant, 3.5, SLEW_PLANT_NOTHING);
    close_to("away from it", plant.speed[R], speed_after(driven(&model, R), 0.0, 0.5), 1e-9);
}

/* ---- Auxiliary battery ---- */

/* Voltage passes 12.65 V while both sources feed and 12.75 V after the battery of 12.7 V has left
 * off: each is an exponential of its own, the second from where the first ends. */
static void auxiliary_battery_leaves_off_at_its_own_voltage(void **state)
{
    slew_setup setup = daily_setup();
    setup.supply.auxiliary_fitted = true;
    slew_plant_model model = model_of(&setup);
    model.watch_voltage[0] = 12.75;
    model.watch_voltage[1] = 12.65;
    const slew_plant_axis *axis = &model.axis[R];
    const decay both = driven_by(axis, model.joint_voltage, model.joint_resistance, 1);
    const decay alone = driven(&model, R);
    (void)state;

    /* motor speeds at which the controller has these voltages */
    const double total = model.joint_voltage, r = model.joint_resistance;
    const double at_low = (12.65 - axis->drop - axis->resistance * (total - 12.65) / r);
    const double line = model.line_voltage, rl = model.line_resistance;
    const double at_own = (12.70 - axis->drop - axis->resistance * (line - 12.70) / rl);
    const double at_high = (12.75 - axis->drop - axis->resistance * (line - 12.75) / rl);
    const double k = axis->constant;
    close_to("regimes meet", (line - 12.70) / rl, (total - 12.70) / r, 1e-12);

    slew_plant plant = plant_at(&model, 30.0, 0.0);
    start_drive(&model, &plant, R, 1);
    slew_plant_event event = next(&model, &plant, 1.0, SLEW_PLANT_VOLTAGE);
    assert_true(event.index == 1 && event.direction == 1);
    near("12.65 V", plant.time, time_to(both, 0.0, at_low / k), TIME);
    event = next(&model, &plant, 1.0, SLEW_PLANT_VOLTAGE);
    assert_true(event.index == 0 && event.direction == 1);
    near("12.75 V", plant.time,
         time_to(both, 0.0, at_own / k) + time_to(alone, at_own / k, at_high / k), 2.0 * TIME);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(spin_up_is_an_exponential),
        cmocka_unit_test(steady_speed_is_where_torque_meets_drag),
        cmocka_unit_test(drive_on_draws_stall_current),
        cmocka_unit_test(two_motors_share_the_line),
        cmocka_unit_test(charge_is_the_integral_of_the_current),
        cmocka_unit_test(load_passes_the_gear_by_its_efficiency_each_way),
        cmocka_unit_test(gear_is_helped_while_the_load_exceeds_friction),
        cmocka_unit_test(braking_ends_after_a_logarithm_of_time),
        cmocka_unit_test(coasting_with_viscous_drag_is_a_slow_exponential),
        cmocka_unit_test(coasting_without_viscous_drag_is_a_parabola),
        cmocka_unit_test(reversal_of_a_coasting_axis_goes_through_rest),
        cmocka_unit_test(stop_takes_the_kinetic_energy),
        cmocka_unit_test(axis_driven_into_a_stop_draws_stall_current),
        cmocka_unit_test(auxiliary_battery_leaves_off_at_its_own_voltage),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
