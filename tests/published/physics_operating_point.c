/* physics_operating_point.c - textbook motors and cables in the simulated machine itself: where its
 * speed, current and voltage settle. */
#include "slewtime/physics.h"
#include "slewtime/plant.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "../near.h"

static const double PI = 3.14159265358979323846;
static const double FAR = 1e9; /* stops that are never met [rad] */

static double rpm(double turns)
{
    return turns * 2.0 * PI / 60.0;
}

/* ---- A machine without anything of its own ---- */

/* a motor that turns its load directly, without loss, at the temperature of data sheets */
static slew_axis_setup direct_axis(slew_motor_sheet motor)
{
    return (slew_axis_setup){
        .stops = {-FAR, FAR},
        .motor = motor,
        .gear = {.ratio = 1.0, .efficiency = 1.0, .backward_efficiency = SLEW_NOT_GIVEN},
        .search = 1,
    };
}

/* both axes alike, on a source of `voltage` without resistance */
static slew_setup bench(double voltage, slew_motor_sheet motor)
{
    slew_setup setup = {
        .supply = {.system = 12.0,
                   .floor = -INFINITY,
                   .main = {.voltage = voltage},
                   .feed = {.conductor = SLEW_CONDUCTOR_PER_LENGTH}},
        .environment = {.temperature = SLEW_ZERO_CELSIUS + 25.0},
        .grease = {.viscosity_40 = 100e-6, .viscosity_100 = 11.1e-6},
        .nozzle = {.kind = SLEW_SMOOTH_BORE,
                   .tip = 0.03,
                   .pressure = 1e5,
                   .reaction = SLEW_REACTION_MOMENTUM,
                   .coefficient = 1.0},
        .controller = {.stop = SLEW_COAST,
                       .move_limit = INFINITY,
                       .stall_current = INFINITY,
                       .brownout_voltage = -INFINITY},
        .stow_cancel_at = INFINITY,
    };
    setup.axis[SLEW_ROTATION] = setup.axis[SLEW_ELEVATION] = direct_axis(motor);
    return setup;
}

/* the state after driving rotation in + from 0 for `seconds` */
static slew_plant driven(const slew_setup *setup, double seconds)
{
    static const double zero[SLEW_AXES] = {0.0, 0.0};
    slew_plant_model model;
    slew_plant plant;
    assert_int_equal(slew_plant_model_build(setup, &model, NULL), SLEW_OK);
    slew_plant_start(&model, zero, &plant);
    slew_plant_drive(&model, &plant, SLEW_ROTATION, 1);
    while (slew_plant_advance(&model, &plant, seconds).kind != SLEW_PLANT_NOTHING)
        assert_false(plant.does_not_hold);
    return plant;
}

/* ---- Motors ---- */

/* Guru and Hiziroglu, Electric Machinery and Transformers, example 12.1: 40 V, 0.8 ohm, K = 0.38,
 * no loss (see physics_motor.c) */
static const slew_motor_sheet example_12_1 = {.rated_voltage = 40.0,
                                              .no_load_speed = 40.0 / 0.38,
                                              .stall_current = 50.0,
                                              .inertia = 0.01,
                                              .breakaway = 1.0};

/* 942 rpm with a load of 1.2 N m; more digits worked out independently. 100 time constants of J
 * R/K^2 = 55 ms. */
static void loaded_motor_settles_at_the_printed_speed(void **state)
{
    slew_setup setup = bench(40.0, example_12_1);
    setup.axis[SLEW_ROTATION].load.friction = 1.2;
    const slew_plant plant = driven(&setup, 5.5);
    (void)state;
    near("speed", plant.speed[SLEW_ROTATION] / rpm(1.0), 942.0, 0.5);
    near("speed, more digits", plant.speed[SLEW_ROTATION] / rpm(1.0), 941.7035, 5e-5);
    near("current", plant.current[SLEW_ROTATION], 3.157895, 5e-7);
}

/* The same motor blocked: 19 N m at 50 A. It stands against 19.001 N m and starts against 18.999.
 */
static void blocked_motor_has_the_printed_torque(void **state)
{
    slew_setup setup = bench(40.0, example_12_1);
    (void)state;

    setup.axis[SLEW_ROTATION].load.friction = 19.001;
    const slew_plant blocked = driven(&setup, 1.0);
    near("current", blocked.current[SLEW_ROTATION], 50.0, 1e-9);
    assert_int_equal(blocked.moving[SLEW_ROTATION], 0);

    setup.axis[SLEW_ROTATION].load.friction = 18.999;
    assert_int_equal(driven(&setup, 1.0).moving[SLEW_ROTATION], 1);
}

/* Fitzgerald, Kingsley, Umans, Electric Machinery, 6th ed., examples 7.1 and 7.2: 125 V of back
 * voltage at 3000 rpm, 0.02 ohm, no loss */
static slew_motor_sheet example_7_1(void)
{
    return (slew_motor_sheet){.rated_voltage = 125.0,
                              .no_load_speed = rpm(3000.0),
                              .stall_current = 125.0 / 0.02,
                              .inertia = 1.0,
                              .breakaway = 1.0};
}

/* 128 V and 59.7 N m: 150 A at 3000 rpm. 21.9 kW from 123 V, 70.8 N m: 2867 rpm. The torques have
 * more digits here, worked out independently; half a unit of the printed ones, and one rpm, for the
 * book's figure is 2866.5 rounded up. */
static void motor_turns_as_fast_as_printed(void **state)
{
    slew_setup setup = bench(128.0, example_7_1());
    (void)state;

    setup.axis[SLEW_ROTATION].load.friction = 59.683;
    const slew_plant first = driven(&setup, 20.0);
    near("current", first.current[SLEW_ROTATION], 150.0, 0.002);
    near("speed", first.speed[SLEW_ROTATION] / rpm(1.0), 3000.0, 0.01);

    setup.supply.main.voltage = 123.0;
    setup.axis[SLEW_ROTATION].load.friction = 70.843;
    const slew_plant second = driven(&setup, 20.0);
    near("power", 123.0 * second.current[SLEW_ROTATION], 21.9e3, 50.0);
    near("speed", second.speed[SLEW_ROTATION] / rpm(1.0), 2867.0, 1.0);
}

/* 124 V, driven on by 19.9 N m: it feeds 50 A back at 3000 rpm. Here a nozzle's reaction pulls. */
static void overhauled_motor_feeds_the_printed_current_back(void **state)
{
    slew_setup setup = bench(124.0, example_7_1());
    const double reaction = slew_bore_reaction(setup.nozzle.tip, setup.nozzle.pressure, 1.0);
    setup.nozzle.flowing = true;
    setup.axis[SLEW_ROTATION].load.reaction_arm = -19.894 / reaction;
    const slew_plant plant = driven(&setup, 20.0);
    (void)state;
    near("current", plant.current[SLEW_ROTATION], -50.0, 0.002);
    near("speed", plant.speed[SLEW_ROTATION] / rpm(1.0), 3000.0, 0.01);
}

/* Control Tutorials for MATLAB and Simulink (University of Michigan and others), "DC Motor Speed":
 * J = 0.01, b = 0.1, K = 0.01, R = 1 ohm: 0.1 rad/s on 1 V. Its inductance of 0.5 H, which this
 * model leaves out, does not change where it settles. As a data sheet: the motor runs free at that
 * speed, all drag viscous. */
static void tutorial_motor_settles_at_a_tenth(void **state)
{
    const double speed = 0.01 / (0.1 * 1.0 + 0.01 * 0.01);
    const slew_motor_sheet tutorial = {.rated_voltage = 1.0,
                                       .no_load_speed = speed,
                                       .no_load_current = 1.0 - 0.01 * speed,
                                       .stall_current = 1.0,
                                       .inertia = 0.01,
                                       .viscous_share = 1.0,
                                       .breakaway = 1.0};
    const slew_setup setup = bench(1.0, tutorial);
    const slew_plant plant = driven(&setup, 10.0);
    (void)state;
    near("speed", plant.speed[SLEW_ROTATION], 0.1, 0.0005);
    near("speed, more digits", plant.speed[SLEW_ROTATION], 0.0999000999000999, 1e-12);
    near("current", plant.current[SLEW_ROTATION], 0.999000999, 5e-10);
}

/* ---- Cables ---- */

/* 12 V, a steady 10 A at the end of 21 ft of conductor, out and back (see physics_cable.c): the
 * drop at the controller's node. */
static void feed_loses_the_printed_voltage(void **state)
{
    static const struct {
        double gauge, drop;
    } row[] = {{10, 0.2098}, {12, 0.3335}, {16, 0.8434}, {18, 1.3409}};
    static const double zero[SLEW_AXES] = {0.0, 0.0};
    slew_setup setup = bench(12.0, example_12_1);
    (void)state;

    setup.environment.temperature = SLEW_ZERO_CELSIUS + 20.0;
    setup.supply.shared_load = 10.0;
    setup.supply.feed.conductor = SLEW_CONDUCTOR_GAUGE;
    setup.supply.feed.length = 21.0 / 2.0 * 12.0 * SLEW_INCH;
    for (size_t i = 0; i < sizeof row / sizeof *row; ++i) {
        slew_plant_model model;
        slew_plant plant;
        setup.supply.feed.gauge = row[i].gauge;
        assert_int_equal(slew_plant_model_build(&setup, &model, NULL), SLEW_OK);
        slew_plant_start(&model, zero, &plant);
        near("drop", 12.0 - plant.voltage, row[i].drop, 5e-5 + 0.0004 * row[i].drop);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(loaded_motor_settles_at_the_printed_speed),
        cmocka_unit_test(blocked_motor_has_the_printed_torque),
        cmocka_unit_test(motor_turns_as_fast_as_printed),
        cmocka_unit_test(overhauled_motor_feeds_the_printed_current_back),
        cmocka_unit_test(tutorial_motor_settles_at_a_tenth),
        cmocka_unit_test(feed_loses_the_printed_voltage),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
