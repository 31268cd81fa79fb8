/* run_motor.c - a textbook's loaded motor as an axis of the machine. */
#include "../support.h"

static const int R = SLEW_ROTATION;

/* a motor that turns its load directly, on a source without resistance */
static slew_setup bench(double voltage, slew_motor_sheet motor)
{
    slew_setup setup = daily_setup();
    setup.environment.temperature = celsius(25.0);
    setup.supply.main = (slew_battery){voltage, 0.0};
    setup.supply.shared_load = 0.0;
    setup.supply.feed = (slew_feed){.conductor = SLEW_CONDUCTOR_PER_LENGTH};
    setup.controller.drive_drop = setup.controller.drive_resistance = 0.0;
    setup.controller.stall_current = INFINITY;
    setup.axis[R] = (slew_axis_setup){
        .stops = {-1e9, 1e9}, .motor = motor, .gear = {1.0, 1.0, SLEW_NOT_GIVEN}, .search = 1};
    return setup;
}

/* 60 time constants J Ra/K^2 of 0.21 s */
static slew_plant settled(const slew_setup *setup)
{
    static const double zero[SLEW_AXES] = {0.0, 0.0};
    slew_plant_model model;
    slew_plant plant;
    assert_int_equal(slew_plant_model_build(setup, &model, NULL), SLEW_OK);
    slew_plant_start(&model, zero, &plant);
    slew_plant_drive(&model, &plant, R, 1);
    while (slew_plant_advance(&model, &plant, 13.0).kind != SLEW_PLANT_NOTHING)
        assert_false(plant.does_not_hold);
    return plant;
}

/* Fitzgerald, Kingsley, Umans, Electric Machinery, 6th ed., example 7.9: Ra = 1.03 ohm, free at 50
 * V: 1.25 A, 2100 rpm; then 48 V at 1700 rpm. The book rounds Km to 0.22 V s/rad before it goes on
 * (it then has 8.577 A); the figures here keep all digits. */
static const slew_motor_sheet example_7_9 = {.rated_voltage = 50.0,
                                             .no_load_current = 1.25,
                                             .stall_current = 50.0 / 1.03,
                                             .inertia = 0.01,
                                             .breakaway = 1.0};

static slew_motor_sheet sheet(void)
{
    slew_motor_sheet motor = example_7_9;
    motor.no_load_speed = rpm(2100.0);
    return motor;
}

/* 50 V, nothing coupled: 48.7125 V behind the brushes, 61 W of rotational loss, printed to 1 W */
static void free_motor_runs_as_printed(void **state)
{
    const slew_setup setup = bench(50.0, sheet());
    const slew_plant plant = settled(&setup);
    (void)state;
    near("current", plant.current[R], 1.25, 1e-9);
    near("speed", plant.speed[R] / rpm(1.0), 2100.0, 1e-6);
    near("back voltage", 50.0 - 1.03 * plant.current[R], 48.7125, 1e-9);
    near("loss", 48.7125 * plant.current[R], 61.0, 0.5);
    near("Km", 48.7125 / plant.speed[R], 0.22, 0.002);
}

/* 48 V: the load that holds it at 1700 rpm is what 327.955 W leave after the torque of the
 * losses, 0.276887 N m. Six digits of the figures worked out independently. */
static void loaded_motor_runs_as_worked_out(void **state)
{
    slew_setup setup = bench(48.0, sheet());
    (void)state;
    setup.axis[R].load.friction = 327.955 / rpm(1700.0) - 0.2768870;
    const slew_plant plant = settled(&setup);
    near("speed", plant.speed[R] / rpm(1.0), 1700.0, 0.01);
    near("current", plant.current[R], 8.316574, 1e-4);
    near("power", (48.0 - 1.03 * plant.current[R]) * plant.current[R], 327.955, 2e-3);
    near("power with the book's rounding", 327.955 * 0.22 / 0.2215095762 * 8.577487 / 8.316574,
         335.939, 2e-3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(free_motor_runs_as_printed),
        cmocka_unit_test(loaded_motor_runs_as_worked_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
