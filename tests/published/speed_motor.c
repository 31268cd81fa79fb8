/* speed_motor.c - textbook motors at their operating points, by the question `speed` asks. */
#include "../support.h"

#include "slewtime/speed.h"

enum { R = SLEW_ROTATION };

/* a motor that turns its load directly, on a source without resistance; nothing limits it */
static slew_scenario bench(double voltage, slew_motor_sheet motor, double load)
{
    slew_scenario s = daily_scenario();
    slew_setup *setup = &s.setup;
    setup->environment.temperature = celsius(25.0);
    setup->supply.main = (slew_battery){voltage, 0.0};
    setup->supply.shared_load = 0.0;
    setup->supply.feed = (slew_feed){.conductor = SLEW_CONDUCTOR_PER_LENGTH};
    setup->controller.drive_drop = setup->controller.drive_resistance = 0.0;
    setup->controller.stall_current = 1e9;
    setup->controller.brownout_voltage = 0.0;
    setup->controller.move_limit = 1e6;
    setup->nozzle.flow = 0.0;
    setup->axis[R] = (slew_axis_setup){.start = 0.0,
                                       .stops = {-1e3, 1e3},
                                       .motor = motor,
                                       .gear = {1.0, 1.0, SLEW_NOT_GIVEN},
                                       .load = {.friction = load},
                                       .search = 1};
    return s;
}

/* rotation to the right, dry, at the scenario's own voltage; the answer is freed by the caller */
static const slew_speed_curve *ask(const slew_scenario *s, slew_speed *out)
{
    slew_speed_question q = slew_speed_question_default(s, SLEW_OCCASION_STOW);
    q.from = s->setup.supply.main.voltage / 2.0;
    q.to = s->setup.supply.main.voltage;
    assert_int_equal(slew_speed_run(s, &q, out, NULL), SLEW_OK);
    assert_int_equal(out->level_count, 1);
    assert_true(out->curve[1].axis == R && out->curve[1].direction == 1);
    return &out->curve[1];
}

/* Guru and Hiziroglu, Electric Machinery and Transformers, example 12.1: 40 V, 0.8 ohm, K = 0.38,
 * no loss */
static const slew_motor_sheet example_12_1 = {.rated_voltage = 40.0,
                                              .no_load_speed = 40.0 / 0.38,
                                              .stall_current = 50.0,
                                              .inertia = 0.01,
                                              .breakaway = 1.0};

/* 942 rpm with 1.2 N m (half a unit); more digits worked out independently. It stalls where its
 * 1.2 N m take all of the voltage, 0.8 * 1.2/0.38. */
static void speed_of_guru_12_1(void **state)
{
    const slew_scenario s = bench(40.0, example_12_1, 1.2);
    slew_speed speed;
    const slew_speed_curve *c = ask(&s, &speed);
    (void)state;
    near("speed", c->own.slowest.speed / rpm(1.0), 942.0, 0.5);
    near("speed, more digits", c->own.slowest.speed / rpm(1.0), 941.7035, 5e-5);
    near("current", c->own.slowest.current, 3.157895, 5e-7);
    near("stalls", c->need.runs, 0.8 * 1.2 / 0.38, SLEW_SPEED_TOLERANCE);
    slew_speed_free(&speed);
}

/* 19 N m blocked: with 40 V, and no less, it starts against them; against more it does not */
static void blocked_torque_of_guru_12_1(void **state)
{
    slew_scenario s = bench(40.0, example_12_1, 18.999);
    slew_speed speed;
    const slew_speed_curve *c = ask(&s, &speed);
    (void)state;
    near("starts", c->need.starts, 40.0 * 18.999 / 19.0, SLEW_SPEED_TOLERANCE);
    assert_int_equal(c->own.slowest.state, SLEW_SPEED_RUNS);
    slew_speed_free(&speed);

    s = bench(40.0, example_12_1, 19.001);
    c = ask(&s, &speed);
    assert_int_equal(c->own.slowest.state, SLEW_SPEED_STANDS);
    assert_true(isinf(c->need.starts));
    near("current", c->own.slowest.current, 50.0, 1e-9);
    slew_speed_free(&speed);
}

/* Fitzgerald, Kingsley, Umans, Electric Machinery, 6th ed., example 7.9: 1.03 ohm, free on 50 V at
 * 2100 rpm with 1.25 A; then 48 V at 1700 rpm. The load that does it and the current with all
 * digits, worked out independently (the book rounds Km to 0.22 first, which gives 8.577 A). */
static void speed_of_fitzgerald_7_9(void **state)
{
    const slew_motor_sheet motor = {.rated_voltage = 50.0,
                                    .no_load_speed = rpm(2100.0),
                                    .no_load_current = 1.25,
                                    .stall_current = 50.0 / 1.03,
                                    .inertia = 0.01,
                                    .breakaway = 1.0};
    slew_scenario s = bench(50.0, motor, 0.0);
    slew_speed speed;
    const slew_speed_curve *c = ask(&s, &speed);
    (void)state;
    near("free", c->own.slowest.speed / rpm(1.0), 2100.0, 1e-9);
    near("free current", c->own.slowest.current, 1.25, 1e-12);
    slew_speed_free(&speed);

    s = bench(48.0, motor, 327.955 / rpm(1700.0) - 0.2768870);
    c = ask(&s, &speed);
    near("loaded", c->own.slowest.speed / rpm(1.0), 1700.0, 0.01);
    near("loaded current", c->own.slowest.current, 8.316574, 1e-4);
    slew_speed_free(&speed);
}

/* The same book, examples 7.1 and 7.2: 125 V of back voltage at 3000 rpm behind 0.02 ohm, no loss.
 * 128 V and 59.7 N m: 150 A. 123 V and 21.9 kW: 2867 rpm printed, 2866.5 with all digits. */
static void speed_of_fitzgerald_7_1(void **state)
{
    const slew_motor_sheet motor = {.rated_voltage = 125.0,
                                    .no_load_speed = rpm(3000.0),
                                    .stall_current = 125.0 / 0.02,
                                    .inertia = 1.0,
                                    .breakaway = 1.0};
    slew_scenario s = bench(128.0, motor, 59.683);
    slew_speed speed;
    const slew_speed_curve *c = ask(&s, &speed);
    (void)state;
    near("current", c->own.slowest.current, 150.0, 0.002);
    near("speed", c->own.slowest.speed / rpm(1.0), 3000.0, 0.01);
    slew_speed_free(&speed);

    s = bench(123.0, motor, 70.843);
    c = ask(&s, &speed);
    near("power", 123.0 * c->own.slowest.current, 21.9e3, 50.0);
    near("speed", c->own.slowest.speed / rpm(1.0), 2867.0, 1.0);
    slew_speed_free(&speed);
}

/* Control Tutorials for MATLAB and Simulink (University of Michigan and others), "DC Motor Speed":
 * 0.1 rad/s on 1 V with b = 0.1, K = 0.01, 1 ohm: a motor whose drag is all viscous. */
static void speed_of_the_tutorial(void **state)
{
    const double free_speed = 0.01 / (0.1 * 1.0 + 0.01 * 0.01);
    const slew_motor_sheet motor = {.rated_voltage = 1.0,
                                    .no_load_speed = free_speed,
                                    .no_load_current = 1.0 - 0.01 * free_speed,
                                    .stall_current = 1.0,
                                    .inertia = 0.01,
                                    .viscous_share = 1.0,
                                    .breakaway = 1.0};
    const slew_scenario s = bench(1.0, motor, 0.0);
    slew_speed speed;
    const slew_speed_curve *c = ask(&s, &speed);
    (void)state;
    near("speed", c->own.slowest.speed, 0.1, 0.0005);
    near("speed, more digits", c->own.slowest.speed, 0.0999000999000999, 1e-12);
    near("current", c->own.slowest.current, 0.999000999, 5e-10);
    slew_speed_free(&speed);
}

/* Mott, Machine Elements in Mechanical Design, 4th ed., section 8-10: a worm gear of 52 teeth and
 * three threads, ratio 17.333, takes 1750 rpm to 101 rpm; half a unit. */
static void output_speed_of_mott(void **state)
{
    const slew_motor_sheet motor = {.rated_voltage = 40.0,
                                    .no_load_speed = rpm(1750.0),
                                    .stall_current = 50.0,
                                    .inertia = 0.01,
                                    .breakaway = 1.0};
    slew_scenario s = bench(40.0, motor, 0.0);
    (void)state;
    s.setup.axis[R].gear.ratio = 52.0 / 3.0;
    slew_speed speed;
    const slew_speed_curve *c = ask(&s, &speed);
    near("output", c->own.slowest.speed / rpm(1.0), 101.0, 0.5);
    slew_speed_free(&speed);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(speed_of_guru_12_1),      cmocka_unit_test(blocked_torque_of_guru_12_1),
        cmocka_unit_test(speed_of_fitzgerald_7_9), cmocka_unit_test(speed_of_fitzgerald_7_1),
        cmocka_unit_test(speed_of_the_tutorial),   cmocka_unit_test(output_speed_of_mott),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
