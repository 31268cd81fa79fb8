/* physics_machine.c - what holds for every motor, gear, grease and nozzle, whatever their size. */
#include "slewtime/physics.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "../near.h"

static const double ROOM = SLEW_ZERO_CELSIUS + 25.0; /* temperature of data sheets [K] */

/* magnets of ferrite, nothing warm from use */
static slew_motor_warmth warmth(double temperature)
{
    return (slew_motor_warmth){temperature, 0.0, 0.0, SLEW_FERRITE_COEFFICIENT};
}

/* invented: a gearmotor of a 12 V monitor */
static slew_motor gearmotor(double viscous_share)
{
    return slew_motor_from_sheet(12.0, 335.0, 1.2, 20.0, viscous_share);
}

/* ---- Units ---- */

static void units_agree_with_each_other(void **state)
{
    (void)state;
    near("psi", SLEW_PSI, SLEW_POUND_FORCE / (SLEW_INCH * SLEW_INCH), 1e-12 * SLEW_PSI);
    near("lbf", SLEW_POUND_FORCE, 0.45359237 * SLEW_GRAVITY, 1e-13);
    near("US gallon", SLEW_US_GALLON, 231.0 * SLEW_INCH * SLEW_INCH * SLEW_INCH, 1e-17);
}

/* ---- Motor ---- */

static void sheet_is_met_at_both_of_its_points(void **state)
{
    (void)state;
    for (double share = 0.0; share <= 1.0; share += 0.125) {
        const slew_motor motor = gearmotor(share);
        const double drag = motor.coulomb + motor.viscous * 335.0;
        near("stall current", 12.0 / motor.resistance, 20.0, 1e-12);
        near("no-load voltage", motor.resistance * 1.2 + motor.constant * 335.0, 12.0, 1e-12);
        near("no-load torque", motor.constant * 1.2, drag, 1e-15);
    }
}

static void viscous_share_divides_the_drag(void **state)
{
    (void)state;
    near("none viscous", gearmotor(0.0).viscous, 0.0, 0.0);
    near("all viscous", gearmotor(1.0).coulomb, 0.0, 0.0);
    near("part", gearmotor(0.3).coulomb, 0.7 * gearmotor(0.0).coulomb, 1e-16);
}

static void data_sheet_temperature_changes_nothing(void **state)
{
    const slew_motor sheet = gearmotor(0.3), same = slew_motor_at(sheet, warmth(ROOM), 1.0);
    (void)state;
    near("resistance", same.resistance, sheet.resistance, 0.0);
    near("constant", same.constant, sheet.constant, 0.0);
    near("viscous", same.viscous, sheet.viscous, 0.0);
    near("coulomb", same.coulomb, sheet.coulomb, 0.0);
}

/* copper up and magnet down with heat; drag by its factor alone; Coulomb torque never */
static void temperature_moves_what_it_should(void **state)
{
    const slew_motor sheet = gearmotor(0.3);
    const slew_motor cold = slew_motor_at(sheet, warmth(ROOM - 45.0), 7.0);
    const slew_motor hot = slew_motor_at(sheet, warmth(ROOM + 45.0), 0.5);
    (void)state;
    assert_true(cold.resistance < sheet.resistance && sheet.resistance < hot.resistance);
    assert_true(cold.constant > sheet.constant && sheet.constant > hot.constant);
    near("cold drag", cold.viscous, 7.0 * sheet.viscous, 0.0);
    near("hot drag", hot.viscous, 0.5 * sheet.viscous, 0.0);
    near("cold Coulomb torque", cold.coulomb, sheet.coulomb, 0.0);
    near("hot Coulomb torque", hot.coulomb, sheet.coulomb, 0.0);
}

/* A feed and a winding of the same copper change by the same ratio between two temperatures. */
static void winding_and_feed_are_the_same_copper(void **state)
{
    const slew_motor sheet = gearmotor(0.3);
    (void)state;
    for (double t = ROOM - 60.0; t < ROOM + 60.0; t += 10.0)
        near("ratio", slew_motor_at(sheet, warmth(t), 1.0).resistance / sheet.resistance,
             slew_copper_factor(t) / slew_copper_factor(ROOM), 1e-15);
}

/* ---- Gear ---- */

static void gear_never_gives_energy(void **state)
{
    (void)state;
    for (double forward = 0.05; forward <= 1.0; forward += 0.05) {
        const double backward = slew_backward_efficiency(forward);
        assert_true(backward <= forward + 1e-15);
        assert_true(slew_gear_torque(10.0, forward, backward) >= 10.0);
        assert_true(slew_gear_torque(-10.0, forward, backward) >= -10.0);
        near("no torque", slew_gear_torque(0.0, forward, backward), 0.0, 0.0);
    }
    near("no loss", slew_backward_efficiency(1.0), 1.0, 0.0);
    near("on the edge of holding", slew_backward_efficiency(0.5), 0.0, 0.0);
}

/* a self-locking gear takes torque from the motor both ways; another gives some back */
static void way_back_has_its_sign(void **state)
{
    (void)state;
    near("locking", slew_gear_torque(-10.0, 0.36, slew_backward_efficiency(0.36)),
         10.0 * (1.0 / 0.36 - 2.0), 1e-13);
    near("running", slew_gear_torque(-10.0, 0.8, slew_backward_efficiency(0.8)), -7.5, 1e-13);
}

static void worm_without_friction_loses_nothing(void **state)
{
    (void)state;
    near("forward", slew_worm_forward_efficiency(0.1, 0.35, 0.0), 1.0, 0.0);
    near("backward", slew_worm_backward_efficiency(0.1, 0.35, 0.0), 1.0, 0.0);
}

/* ---- Grease ---- */

static void viscosity_line_meets_its_points(void **state)
{
    const slew_viscosity_line oil = slew_viscosity_through(100e-6, 313.15, 11.1e-6, 373.15);
    double last = INFINITY;
    (void)state;
    near("40 degC", slew_viscosity_at(oil, 313.15), 100e-6, 1e-16);
    near("100 degC", slew_viscosity_at(oil, 373.15), 11.1e-6, 1e-17);
    for (double t = 243.15; t < 400.0; t += 5.0) {
        assert_true(slew_viscosity_at(oil, t) < last);
        last = slew_viscosity_at(oil, t);
    }
}

static void viscosity_line_has_no_direction(void **state)
{
    const slew_viscosity_line there = slew_viscosity_through(100e-6, 313.15, 11.1e-6, 373.15);
    const slew_viscosity_line back = slew_viscosity_through(11.1e-6, 373.15, 100e-6, 313.15);
    (void)state;
    near("A", there.a, back.a, 1e-13);
    near("B", there.b, back.b, 1e-13);
}

/* below 0.3 mm2/s the formula has no value */
static void viscosity_too_low_for_the_formula_is_told(void **state)
{
    const slew_viscosity_line oil = slew_viscosity_through(0.2e-6, 313.15, 0.1e-6, 373.15);
    (void)state;
    assert_true(isnan(slew_viscosity_at(oil, 300.0)));
}

/* ---- Nozzle ---- */

static void no_pressure_no_jet(void **state)
{
    (void)state;
    near("bore", slew_bore_reaction(0.04, 0.0, 1.0), 0.0, 0.0);
    near("bore flow", slew_bore_flow(0.04, 0.0, 1.0), 0.0, 0.0);
    near("spray", slew_spray_reaction(0.06, 0.0, 1.0), 0.0, 0.0);
    near("bore, rule", slew_bore_reaction_trade(0.04, 0.0), 0.0, 0.0);
    near("spray, rule", slew_spray_reaction_trade(0.06, 0.0), 0.0, 0.0);
}

/* the coefficient is on the speed of the jet: reaction of a bore takes it twice, flow once */
static void coefficient_acts_on_the_speed(void **state)
{
    const double bore = slew_bore_reaction(0.04, 7e5, 1.0), flow = slew_bore_flow(0.04, 7e5, 1.0);
    const double spray = slew_spray_reaction(0.06, 7e5, 1.0);
    (void)state;
    near("bore", slew_bore_reaction(0.04, 7e5, 0.9), 0.81 * bore, 1e-12 * bore);
    near("bore flow", slew_bore_flow(0.04, 7e5, 0.9), 0.9 * flow, 1e-14);
    near("spray", slew_spray_reaction(0.06, 7e5, 0.9), 0.9 * spray, 1e-12 * spray);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(units_agree_with_each_other),
        cmocka_unit_test(sheet_is_met_at_both_of_its_points),
        cmocka_unit_test(viscous_share_divides_the_drag),
        cmocka_unit_test(data_sheet_temperature_changes_nothing),
        cmocka_unit_test(temperature_moves_what_it_should),
        cmocka_unit_test(winding_and_feed_are_the_same_copper),
        cmocka_unit_test(gear_never_gives_energy),
        cmocka_unit_test(way_back_has_its_sign),
        cmocka_unit_test(worm_without_friction_loses_nothing),
        cmocka_unit_test(viscosity_line_meets_its_points),
        cmocka_unit_test(viscosity_line_has_no_direction),
        cmocka_unit_test(viscosity_too_low_for_the_formula_is_told),
        cmocka_unit_test(no_pressure_no_jet),
        cmocka_unit_test(coefficient_acts_on_the_speed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
