/* physics_motor_data.c - a motor's constants from what its data sheet happens to give: examples of
 * textbooks, and every sufficient set of the figures of one motor in closed form. */
#include "slewtime/physics.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "../near.h"

static const double RPM = 3.14159265358979323846 / 30;

static slew_motor_data nothing(double voltage)
{
    slew_motor_data d = {.voltage = voltage, .viscous_share = 0.3, .ratio = 1};
    for (int i = 0; i < SLEW_MOTOR_FIGURES; i++)
        d.figure[i] = NAN;
    d.figure[SLEW_MOTOR_EFFICIENCY] = 1;
    return d;
}

/* Fitzgerald, Kingsley, Umans, Electric Machinery, 6th ed., example 7.9: Ra 1.03 ohm, 1.25 A and
 * 2100 rpm at no load on 50 V; Km = 0.22 as printed */
static void armature_resistance_of_example_7_9(void **state)
{
    (void)state;
    slew_motor_data d = nothing(50);
    d.figure[SLEW_MOTOR_RESISTANCE] = 1.03;
    d.figure[SLEW_MOTOR_NO_LOAD_CURRENT] = 1.25;
    d.figure[SLEW_MOTOR_NO_LOAD_SPEED] = 2100 * RPM;
    slew_motor_found f = slew_motor_from_data(&d);
    assert_int_equal(f.state, SLEW_MOTOR_FOUND);
    near("stall current", f.stall_current, 50 / 1.03, 1e-9);
    slew_motor m =
        slew_motor_from_sheet(50, f.no_load_speed, f.no_load_current, f.stall_current, 1);
    near("constant", m.constant, 0.22, 0.002);
}

/* Guru, Hiziroglu, Electric Machinery and Transformers, example 12.1: 40 V, Ra 0.8 ohm, no losses,
 * 19 N m blocked, 942 rpm at 1.2 N m, as printed; K = 0.38 */
static void blocked_rotor_torque_of_example_12_1(void **state)
{
    (void)state;
    slew_motor_data d = nothing(40);
    d.figure[SLEW_MOTOR_RESISTANCE] = 0.8;
    d.figure[SLEW_MOTOR_NO_LOAD_CURRENT] = 0;
    d.figure[SLEW_MOTOR_STALL_TORQUE] = 19;
    slew_motor_found f = slew_motor_from_data(&d);
    near("no-load speed", f.no_load_speed, 40 / 0.38, 1e-9);
    d.figure[SLEW_MOTOR_RATED_SPEED] = 942 * RPM; /* 942 is rounded: 0.5 rpm of it */
    d.figure[SLEW_MOTOR_RATED_TORQUE] = 1.2;
    f = slew_motor_from_data(&d);
    assert_true(f.off == 0);
    d.figure[SLEW_MOTOR_RESISTANCE] = NAN;
    f = slew_motor_from_data(&d);
    near("no-load speed", f.no_load_speed, 40 / 0.38, 0.5 * RPM / (1 - 1.2 / 19));
    near("stall current", f.stall_current, 50, 50 * 0.5 / 942 / (1 - 1.2 / 19));
}

/* ---- every set of an invented gearmotor, M2.1 read forwards ---- */

enum { NO_LOAD = 300, STALL = 25, RATIO = 900 }; /* rad/s, A, 1 */
static const double VOLTS = 24, IDLE = 1.5, SHARE = 0.25, GEAR = 0.37;

static double amperes(double w)
{
    return STALL - (STALL - IDLE) * w / NO_LOAD;
}

static double torque(double w)
{
    double k = (VOLTS - VOLTS / STALL * IDLE) / NO_LOAD;
    return k * amperes(w) - k * IDLE * (1 - SHARE + SHARE * w / NO_LOAD);
}

static slew_motor_data sheet(unsigned given)
{
    const double w = 0.8 * NO_LOAD, out = 0.7 * NO_LOAD;
    const double all[SLEW_MOTOR_FIGURES] = {
        [SLEW_MOTOR_NO_LOAD_SPEED] = NO_LOAD,
        [SLEW_MOTOR_NO_LOAD_CURRENT] = IDLE,
        [SLEW_MOTOR_STALL_CURRENT] = STALL,
        [SLEW_MOTOR_EFFICIENCY] = GEAR,
        [SLEW_MOTOR_RESISTANCE] = VOLTS / STALL,
        [SLEW_MOTOR_STALL_TORQUE] = torque(0),
        [SLEW_MOTOR_RATED_SPEED] = w,
        [SLEW_MOTOR_RATED_TORQUE] = torque(w),
        [SLEW_MOTOR_RATED_CURRENT] = amperes(w),
        [SLEW_MOTOR_OUTPUT_NO_LOAD_SPEED] = 1.0 * NO_LOAD / RATIO,
        [SLEW_MOTOR_OUTPUT_STALL_TORQUE] = torque(0) * RATIO * GEAR,
        [SLEW_MOTOR_OUTPUT_RATED_SPEED] = out / RATIO,
        [SLEW_MOTOR_OUTPUT_RATED_TORQUE] = torque(out) * RATIO * GEAR,
        [SLEW_MOTOR_OUTPUT_RATED_CURRENT] = amperes(out)};
    slew_motor_data d = {VOLTS, SHARE, RATIO, {0}};
    for (int i = 0; i < SLEW_MOTOR_FIGURES; i++)
        d.figure[i] = given >> i & 1 ? all[i] : NAN;
    return d;
}

static void is_the_motor(const slew_motor_found *f)
{
    near("no-load speed", f->no_load_speed, NO_LOAD, 1e-7 * NO_LOAD);
    near("stall current", f->stall_current, STALL, 1e-7 * STALL);
    near("no-load current", f->no_load_current, IDLE, 1e-7 * IDLE);
    near("efficiency", f->efficiency, GEAR, 1e-7 * GEAR);
    assert_true(f->off == 0);
}

/* Torque and current alone are the exotic sets; few of these have no second motor. */
static void every_sufficient_set_tells_the_same_motor(void **state)
{
    (void)state;
    long found = 0, lacks = 0, contradicts = 0;
    for (unsigned given = 1; given < 1u << SLEW_MOTOR_FIGURES; given++) {
        slew_motor_data d = sheet(given);
        slew_motor_found f = slew_motor_from_data(&d);
        lacks += f.state == SLEW_MOTOR_LACKS;
        contradicts += f.state == SLEW_MOTOR_CONTRADICTS;
        if (f.state != SLEW_MOTOR_FOUND || f.idle_is_assumed)
            continue;
        is_the_motor(&f);
        found++;
    }
    assert_true(found > 11000 && lacks < 5000 && contradicts < 20);
}

#define BIT(figure) (1u << SLEW_MOTOR_##figure)

static void the_sets_of_data_sheets_are_sufficient(void **state)
{
    (void)state;
    static const unsigned sets[] = {
        BIT(NO_LOAD_SPEED) | BIT(NO_LOAD_CURRENT) | BIT(STALL_CURRENT) | BIT(EFFICIENCY),
        BIT(NO_LOAD_SPEED) | BIT(NO_LOAD_CURRENT) | BIT(RESISTANCE) | BIT(EFFICIENCY),
        BIT(NO_LOAD_SPEED) | BIT(NO_LOAD_CURRENT) | BIT(STALL_TORQUE) | BIT(EFFICIENCY),
        BIT(NO_LOAD_SPEED) | BIT(STALL_TORQUE) | BIT(STALL_CURRENT) | BIT(EFFICIENCY),
        BIT(NO_LOAD_SPEED) | BIT(RATED_SPEED) | BIT(RATED_TORQUE) | BIT(RATED_CURRENT) |
            BIT(EFFICIENCY),
        BIT(RESISTANCE) | BIT(RATED_SPEED) | BIT(RATED_TORQUE) | BIT(RATED_CURRENT) |
            BIT(EFFICIENCY),
        BIT(NO_LOAD_CURRENT) | BIT(RATED_SPEED) | BIT(RATED_TORQUE) | BIT(RATED_CURRENT) |
            BIT(EFFICIENCY),
        BIT(OUTPUT_NO_LOAD_SPEED) | BIT(NO_LOAD_CURRENT) | BIT(STALL_CURRENT) |
            BIT(OUTPUT_STALL_TORQUE),
        BIT(OUTPUT_NO_LOAD_SPEED) | BIT(NO_LOAD_CURRENT) | BIT(OUTPUT_RATED_SPEED) |
            BIT(OUTPUT_RATED_TORQUE) | BIT(OUTPUT_RATED_CURRENT)};
    for (size_t i = 0; i < sizeof sets / sizeof sets[0]; i++) {
        slew_motor_data d = sheet(sets[i]);
        slew_motor_found f = slew_motor_from_data(&d);
        assert_int_equal(f.state, SLEW_MOTOR_FOUND);
        assert_false(f.idle_is_assumed);
        is_the_motor(&f);
    }
}

static void too_little_names_what_lacks(void **state)
{
    (void)state;
    slew_motor_data d = sheet(BIT(NO_LOAD_SPEED) | BIT(NO_LOAD_CURRENT));
    slew_motor_found f = slew_motor_from_data(&d);
    assert_int_equal(f.state, SLEW_MOTOR_LACKS);
    assert_true(f.missing[SLEW_MOTOR_STALL_CURRENT] && f.missing[SLEW_MOTOR_EFFICIENCY]);
    assert_false(f.missing[SLEW_MOTOR_NO_LOAD_SPEED]);
    d = sheet(BIT(NO_LOAD_SPEED) | BIT(RESISTANCE) | BIT(EFFICIENCY));
    f = slew_motor_from_data(&d);
    assert_true(f.state == SLEW_MOTOR_FOUND && f.idle_is_assumed);
    near("no-load current", f.no_load_current, 0.1 * STALL, 1e-9);
}

/* the limit is 2 %; a sheet's stall torque without the losses at standstill is none */
static void too_much_is_held_against_the_rest(void **state)
{
    (void)state;
    slew_motor_data d = sheet(BIT(NO_LOAD_SPEED) | BIT(NO_LOAD_CURRENT) | BIT(STALL_CURRENT) |
                              BIT(EFFICIENCY) | BIT(RESISTANCE) | BIT(STALL_TORQUE));
    d.figure[SLEW_MOTOR_RESISTANCE] *= 1.019;
    d.figure[SLEW_MOTOR_STALL_TORQUE] *= (STALL - IDLE) / (STALL - (1 - SHARE) * IDLE);
    assert_true(slew_motor_from_data(&d).off == 0);
    d.figure[SLEW_MOTOR_RESISTANCE] = VOLTS / STALL * 1.021;
    slew_motor_found f = slew_motor_from_data(&d);
    near("off", f.off, -log(1.021), 1e-9);
    assert_int_equal(f.figure, SLEW_MOTOR_RESISTANCE);
    assert_int_equal(f.other, SLEW_MOTOR_STALL_CURRENT);
    near("kept", f.stall_current, STALL, 0);
}

static void what_no_motor_has_is_said(void **state)
{
    (void)state;
    slew_motor_data d = sheet(BIT(NO_LOAD_SPEED) | BIT(NO_LOAD_CURRENT) | BIT(STALL_CURRENT) |
                              BIT(OUTPUT_STALL_TORQUE));
    d.figure[SLEW_MOTOR_OUTPUT_STALL_TORQUE] *= 3; /* an efficiency of 111 % */
    slew_motor_found f = slew_motor_from_data(&d);
    assert_int_equal(f.state, SLEW_MOTOR_CONTRADICTS);
    assert_int_equal(f.figure, SLEW_MOTOR_OUTPUT_STALL_TORQUE);
    d = sheet(BIT(NO_LOAD_SPEED) | BIT(NO_LOAD_CURRENT) | BIT(STALL_CURRENT) | BIT(EFFICIENCY) |
              BIT(RATED_SPEED) | BIT(RATED_TORQUE));
    d.figure[SLEW_MOTOR_RATED_SPEED] = 1.1 * NO_LOAD;
    f = slew_motor_from_data(&d);
    assert_true(f.state == SLEW_MOTOR_FOUND && isinf(f.off));
    assert_int_equal(f.figure, SLEW_MOTOR_RATED_TORQUE);
}

/* J R/K^2 of the typical rotor is the time constant */
static void a_typical_rotor_has_the_typical_time(void **state)
{
    (void)state;
    slew_motor m = slew_motor_from_sheet(VOLTS, NO_LOAD, IDLE, STALL, SHARE);
    double j = slew_motor_typical_inertia(m);
    near("time", j * m.resistance / (m.constant * m.constant), 0.020, 1e-12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(armature_resistance_of_example_7_9),
        cmocka_unit_test(blocked_rotor_torque_of_example_12_1),
        cmocka_unit_test(every_sufficient_set_tells_the_same_motor),
        cmocka_unit_test(the_sets_of_data_sheets_are_sufficient),
        cmocka_unit_test(too_little_names_what_lacks),
        cmocka_unit_test(too_much_is_held_against_the_rest),
        cmocka_unit_test(what_no_motor_has_is_said),
        cmocka_unit_test(a_typical_rotor_has_the_typical_time),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
