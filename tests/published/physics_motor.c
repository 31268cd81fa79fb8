/* physics_motor.c - permanent-magnet motors of textbooks, rebuilt from a data sheet's figures. */
#include "slewtime/physics.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "../near.h"

static const double PI = 3.14159265358979323846;

static double rpm(double turns)
{
    return turns * 2.0 * PI / 60.0;
}

static double celsius(double temperature)
{
    return temperature + SLEW_ZERO_CELSIUS;
}

/* magnets of ferrite, nothing warm from use */
static slew_motor_warmth warmth(double temperature)
{
    return (slew_motor_warmth){temperature, 0.0, 0.0, SLEW_FERRITE_COEFFICIENT};
}

/* current [A] of a motor that turns at `speed` [rad/s] on `voltage` [V] */
static double current(slew_motor motor, double voltage, double speed)
{
    return (voltage - motor.constant * speed) / motor.resistance;
}

/* speed [rad/s] at which it takes `amperes` from `voltage` [V] */
static double speed(slew_motor motor, double voltage, double amperes)
{
    return (voltage - motor.resistance * amperes) / motor.constant;
}

static double shaft_torque(slew_motor motor, double amperes, double at_speed)
{
    return motor.constant * amperes - motor.coulomb - motor.viscous * at_speed;
}

/* ---- Fitzgerald, Kingsley, Umans, Electric Machinery, 6th ed., example 7.9 ---- */

/* 1.03 ohm; runs free on 50 V at 2100 rpm with 1.25 A */
static slew_motor example_7_9(double viscous_share)
{
    return slew_motor_from_sheet(50.0, rpm(2100.0), 1.25, 50.0 / 1.03, viscous_share);
}

/* Half a unit of the printed digits: Ea 48.7125 V, Km 0.22, rotational loss 61 W. */
static void sheet_gives_the_constants_of_example_7_9(void **state)
{
    const slew_motor motor = example_7_9(0.0);
    (void)state;
    near("Ra", motor.resistance, 1.03, 1e-12);
    near("Ea", motor.constant * rpm(2100.0), 48.7125, 1e-10);
    near("Km", motor.constant, 0.22, 0.005);
    near("Km, more digits", motor.constant, 0.2215095762, 5e-11);
    near("loss", motor.coulomb * rpm(2100.0), 61.0, 0.5);
    near("loss torque", motor.coulomb, 0.2768870, 5e-8);
}

/* Whatever share of the loss grows with speed, it is the same loss at the speed it was measured at,
 * and the motor takes the measured 1.25 A there. */
static void loss_at_no_load_is_kept_by_every_share(void **state)
{
    (void)state;
    for (double share = 0.0; share <= 1.0; share += 0.25) {
        const slew_motor motor = example_7_9(share);
        near("current", current(motor, 50.0, rpm(2100.0)), 1.25, 1e-10);
        near("no torque left", shaft_torque(motor, 1.25, rpm(2100.0)), 0.0, 1e-12);
    }
}

/* 48 V, 1700 rpm, the loss taken as constant power: the book rounds Km to 0.22 before it goes on
 * and prints 275.05 W. With all digits it is 267.1 W, 2.9 % less. */
static void shaft_power_hangs_on_the_rounding_of_the_constant(void **state)
{
    const double loss = 48.7125 * 1.25; /* [W] */
    const slew_motor motor = example_7_9(0.0);
    slew_motor rounded = motor;
    rounded.constant = 0.22;
    (void)state;

    const double amperes = current(motor, 48.0, rpm(1700.0));
    near("Ia", amperes, 8.316574, 5e-7);
    near("shaft power", motor.constant * amperes * rpm(1700.0) - loss, 267.065, 5e-4);

    const double more = current(rounded, 48.0, rpm(1700.0));
    near("Ia, Km rounded", more, 8.577487, 5e-7);
    near("shaft power, Km rounded", rounded.constant * more * rpm(1700.0) - loss, 275.05, 0.005);
}

/* ---- The same book, examples 7.1 and 7.2: the current turns round ---- */

/* 125 V of back voltage at 3000 rpm behind 0.02 ohm, no loss. Printed: 150 A, 19.2 kW, 59.7 N m in
 * at 128 V; 50 A, 6.2 kW, 19.9 N m back at 124 V. Half a unit of the digits. */
static void motor_below_its_back_voltage_is_a_generator(void **state)
{
    const slew_motor motor = slew_motor_from_sheet(125.0, rpm(3000.0), 0.0, 125.0 / 0.02, 0.0);
    const double driving = current(motor, 128.0, rpm(3000.0));
    const double feeding = current(motor, 124.0, rpm(3000.0));
    (void)state;

    near("driving", driving, 150.0, 1e-9);
    near("power in", 128.0 * driving, 19.2e3, 50.0);
    near("torque", shaft_torque(motor, driving, rpm(3000.0)), 59.7, 0.05);
    near("feeding back", feeding, -50.0, 1e-9);
    near("power back", 124.0 * feeding, -6.2e3, 50.0);
    near("torque of a generator", shaft_torque(motor, feeding, rpm(3000.0)), -19.9, 0.05);
}

/* 21.9 kW at 123 V: 2867 rpm printed; 2866.5 with all digits, so one unit. */
static void speed_at_a_power(void **state)
{
    const slew_motor motor = slew_motor_from_sheet(125.0, rpm(3000.0), 0.0, 125.0 / 0.02, 0.0);
    (void)state;
    near("rpm", speed(motor, 123.0, 21.9e3 / 123.0) / rpm(1.0), 2867.0, 1.0);
}

/* ---- Guru and Hiziroglu, Electric Machinery and Transformers, example 12.1 ---- */

/* 40 V, 0.8 ohm, K = 95 * 4 mWb = 0.38, no loss: 942 rpm with 1.2 N m, 19 N m blocked. */
static void speed_and_blocked_torque_of_example_12_1(void **state)
{
    const slew_motor motor = slew_motor_from_sheet(40.0, 40.0 / 0.38, 0.0, 40.0 / 0.8, 0.3);
    const double amperes = 1.2 / motor.constant;
    (void)state;
    near("K", motor.constant, 0.38, 1e-12);
    near("running current", amperes, 3.157895, 5e-7);
    near("speed", speed(motor, 40.0, amperes) / rpm(1.0), 942.0, 0.5);
    near("speed without load", speed(motor, 40.0, 0.0) / rpm(1.0), 1005.1891, 5e-5);
    near("blocked current", current(motor, 40.0, 0.0), 50.0, 1e-9);
    near("blocked torque", shaft_torque(motor, current(motor, 40.0, 0.0), 0.0), 19.0, 1e-9);
}

/* ---- Temperature ---- */

/* Winding resistance from one temperature to another: (234.5 + t2)/(234.5 + t1) for copper, IEEE
 * 112 and older machine standards [from memory]; 235 in IEC 60034-1 [from memory]. A copper
 * coefficient of 0.00393 at 20 degC is 234.45: half a digit of 234.5 moves the ratio by 6e-5 at 105
 * degC. */
static void winding_follows_the_machine_standards(void **state)
{
    const slew_motor cold = {.resistance = 0.6, .constant = 0.03};
    (void)state;
    for (double t = -20.0; t <= 105.0; t += 25.0) {
        const double ratio =
            slew_motor_at(cold, warmth(celsius(t)), 1.0).resistance / cold.resistance;
        near("234.5", ratio, (234.5 + t) / (234.5 + 25.0), 6e-5);
        near("235", ratio, (235.0 + t) / (235.0 + 25.0), 7e-4);
    }
}

/* Ferrite magnets lose 0.2 % of their remanence per K (MMPA 0100-00, ceramic magnets [from
 * memory]): 20 % from 25 to 125 degC. */
static void magnet_follows_its_data_sheet(void **state)
{
    const slew_motor cold = {.resistance = 0.6, .constant = 0.03};
    (void)state;
    near("125 degC", slew_motor_at(cold, warmth(celsius(125.0)), 1.0).constant, 0.8 * 0.03, 1e-15);
    near("-25 degC", slew_motor_at(cold, warmth(celsius(-25.0)), 1.0).constant, 1.1 * 0.03, 1e-15);
}

/* IEC 60034-1, temperature rise by resistance [from memory]: (t2 + 235)/(t1 + 235) = R2/R1 for
 * copper. A winding of 1.2 times its resistance at 20 degC is at 71 degC, of 5/4 at 83.75 degC;
 * 235/255 of it is left at 0 degC. */
static void winding_warm_from_use_follows_iec_60034_1(void **state)
{
    static const double row[][3] = {
        {20.0, 71.0, 1.2}, {20.0, 83.75, 1.25}, {0.0, 20.0, 255.0 / 235.0}, {25.0, 155.0, 1.5}};
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++)
        near("R2/R1", slew_winding_factor(celsius(row[i][0]), row[i][1] - row[i][0]), row[i][2],
             1e-13);
    near("cold", slew_winding_factor(celsius(-40.0), 0.0), 1.0, 0.0);
}

/* A motor warm from use in surroundings at t1 is one at t2 but for the two rules for copper: 235
 * and 234.45, which differ by 0.1 % of the change at most. Its magnets are the same. */
static void warm_from_use_is_as_warm_as_warm_from_the_weather(void **state)
{
    const slew_motor cold = {.resistance = 0.6, .constant = 0.03, .viscous = 1e-5, .coulomb = 0.02};
    (void)state;
    for (double t = -30.0; t <= 40.0; t += 10.0)
        for (double rise = 0.0; rise <= 60.0; rise += 20.0) {
            const slew_motor_warmth used = {celsius(t), rise, rise, SLEW_FERRITE_COEFFICIENT};
            const slew_motor a = slew_motor_at(cold, used, 2.0);
            const slew_motor b = slew_motor_at(cold, warmth(celsius(t + rise)), 2.0);
            near("resistance", a.resistance / b.resistance, 1.0, 1e-3);
            near("constant", a.constant, b.constant, 1e-15);
            near("viscous", a.viscous, 2e-5, 0.0);
            near("coulomb", a.coulomb, 0.02, 0.0);
        }
}

/* Neodymium magnets lose 0.11 % per K (MMPA 0100-00, rare earth magnets [from memory]). */
static void magnet_has_a_coefficient_of_its_own(void **state)
{
    const slew_motor cold = {.resistance = 0.6, .constant = 0.03};
    const slew_motor_warmth warm = {celsius(25.0), 90.0, 40.0, -0.0011};
    (void)state;
    near("65 degC", slew_motor_at(cold, warm, 1.0).constant, 0.956 * 0.03, 1e-15);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sheet_gives_the_constants_of_example_7_9),
        cmocka_unit_test(loss_at_no_load_is_kept_by_every_share),
        cmocka_unit_test(shaft_power_hangs_on_the_rounding_of_the_constant),
        cmocka_unit_test(motor_below_its_back_voltage_is_a_generator),
        cmocka_unit_test(speed_at_a_power),
        cmocka_unit_test(speed_and_blocked_torque_of_example_12_1),
        cmocka_unit_test(winding_follows_the_machine_standards),
        cmocka_unit_test(magnet_follows_its_data_sheet),
        cmocka_unit_test(winding_warm_from_use_follows_iec_60034_1),
        cmocka_unit_test(warm_from_use_is_as_warm_as_warm_from_the_weather),
        cmocka_unit_test(magnet_has_a_coefficient_of_its_own),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
