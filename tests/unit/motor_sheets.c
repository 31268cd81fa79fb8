/* motor_sheets.c - a scenario whose motor is given by a data sheet is the same scenario, what lacks
 * is named with what would do too, and what is too much is held against the rest. */
#include "scenario_text.h"

#include "slewtime/run.h"

#include "../near.h"

static const char own[] = "  motor:\n"
                          "    rated_voltage: 12 V\n"
                          "    no_load_speed: 3200 rpm\n"
                          "    no_load_current: 1.2 A\n"
                          "    stall_current: 20 A\n"
                          "    inertia: 4.5e-5 kg.m2\n"
                          "    viscous_share: 30 %\n"
                          "    breakaway: 1.2\n"
                          "  gear: {ratio: 1750, efficiency: 36 %}\n";

/* FULL with the rotation's motor and gear given otherwise */
static void read_sheet(outcome *o, const char *sheet)
{
    char *text = edit(own, sheet);
    read_text(o, text);
    free(text);
}

static void same_motor(const slew_axis_setup *a)
{
    near("no-load speed", a->motor.no_load_speed, 3200 * 3.14159265358979 / 30, 1e-6);
    near("no-load current", a->motor.no_load_current, 1.2, 1e-7);
    near("stall current", a->motor.stall_current, 20, 1e-7);
    near("efficiency", a->gear.efficiency, 0.36, 1e-8);
}

/* K = 12 * 0.94 / (3200 rpm); blocked: K (20 - 0.7 * 1.2); at 80 % of the speed a fifth of it */
#define K       (12 * 0.94 / (3200 * 3.14159265358979 / 30))
#define BLOCKED (K * (20 - 0.7 * 1.2))

static void a_sheet_gives_the_same_scenario(void **state)
{
    (void)state;
    outcome o;
    char sheet[600];
    snprintf(
        sheet, sizeof sheet,
        "  motor: {rated_voltage: 12 V, armature_resistance: 600 mohm, stall_torque: %.15g N.m,\n"
        "          no_load_speed: 3200 rpm}\n"
        "  gear: {ratio: 1750, efficiency: 36 %%}\n",
        BLOCKED);
    read_sheet(&o, sheet);
    assert_int_equal(o.status, SLEW_OK);
    assert_int_equal(o.warnings.count, 0);
    same_motor(&o.scenario.setup.axis[SLEW_ROTATION]);
    snprintf(sheet, sizeof sheet,
             "  motor: {rated_voltage: 12 V, no_load_current: 1.2 A}\n"
             "  gearmotor: {no_load_speed: %.15g rpm,\n"
             "              rated: {speed: %.15g rpm, torque: %.15g N.m, current: %.15g A}}\n"
             "  gear: {ratio: 1750}\n",
             3200 / 1750.0, 0.8 * 3200 / 1750, 0.2 * BLOCKED * 1750 * 0.36, 20 - 0.8 * 18.8);
    read_sheet(&o, sheet);
    assert_int_equal(o.status, SLEW_OK);
    same_motor(&o.scenario.setup.axis[SLEW_ROTATION]);
}

static void a_rotor_without_inertia_has_a_typical_one(void **state)
{
    (void)state;
    outcome o;
    read_sheet(&o,
               "  motor: {rated_voltage: 12 V, no_load_speed: 3200 rpm, no_load_current: 1.2 A,\n"
               "          stall_current: 20 A}\n"
               "  gear: {ratio: 1750, efficiency: 36 %}\n");
    assert_int_equal(o.status, SLEW_OK);
    near("inertia", o.scenario.setup.axis[SLEW_ROTATION].motor.inertia, 0.020 * K * K / 0.6, 1e-12);
    near("given", o.scenario.setup.axis[SLEW_ELEVATION].motor.inertia, 4.5e-5, 0);
}

static void has_text(const char *text, const char *wanted)
{
    if (strstr(text, wanted) == NULL)
        fail_msg("\"%s\" is not in: %s", wanted, text);
}

static void too_little_names_key_and_way_out(void **state)
{
    (void)state;
    outcome o;
    read_sheet(&o, "  motor: {rated_voltage: 12 V, no_load_speed: 3200 rpm, no_load_current: 1 A}\n"
                   "  gear: {ratio: 1750, efficiency: 36 %}\n");
    assert_int_equal(o.errors.count, 1);
    assert_string_equal(o.errors.error[0].key, "rotation.motor.stall_current");
    has_text(o.errors.error[0].message, "armature_resistance, a stall torque or a rated point");
    read_sheet(&o, "  motor: {rated_voltage: 12 V, no_load_speed: 3200 rpm, stall_current: 20 A}\n"
                   "  gear: {ratio: 1750}\n");
    assert_int_equal(o.errors.count, 2);
    assert_string_equal(o.errors.error[1].key, "rotation.gear.efficiency");
    has_text(o.errors.error[1].message, "gearmotor.stall_torque");
}

static void what_is_assumed_is_said(void **state)
{
    (void)state;
    outcome o;
    read_sheet(&o, "  motor: {rated_voltage: 12 V, no_load_speed: 3200 rpm, stall_current: 20 A}\n"
                   "  gear: {ratio: 1750, efficiency: 36 %}\n");
    assert_int_equal(o.status, SLEW_OK);
    assert_int_equal(o.warnings.count, 1);
    assert_string_equal(o.warnings.error[0].key, "rotation.motor.no_load_current");
    has_text(o.warnings.error[0].message, "2 A is assumed, 10 % of the stall current");
    near("assumed", o.scenario.setup.axis[SLEW_ROTATION].motor.no_load_current, 2, 1e-12);
}

static void too_much_names_both_keys(void **state)
{
    (void)state;
    outcome o;
    char *text =
        edit("    stall_current: 20 A\n    inertia: 4.5e-5 kg.m2\n    viscous_share: 30 %\n"
             "    breakaway: 1.2\n  gear: {ratio: 1750",
             "    stall_current: 20 A\n    armature_resistance: 650 mohm\n"
             "    inertia: 4.5e-5 kg.m2\n  gear: {ratio: 1750");
    read_text(&o, text);
    free(text);
    assert_int_equal(o.status, SLEW_OK);
    assert_int_equal(o.warnings.count, 1);
    has_text(o.warnings.error[0].message, "rotation.motor.armature_resistance (650 mohm) and "
                                          "rotation.motor.stall_current (20 A) disagree by 8.3 %");
    near("kept", o.scenario.setup.axis[SLEW_ROTATION].motor.stall_current, 20, 0);
}

static void a_gear_gives_no_more_than_it_gets(void **state)
{
    (void)state;
    outcome o;
    read_sheet(&o,
               "  motor: {rated_voltage: 12 V, no_load_speed: 3200 rpm, no_load_current: 1.2 A,\n"
               "          stall_current: 20 A}\n"
               "  gearmotor: {stall_torque: 4000 N.m}\n"
               "  gear: {ratio: 1750}\n");
    assert_int_equal(o.errors.count, 1);
    assert_string_equal(o.errors.error[0].key, "rotation.gearmotor.stall_torque");
    has_text(o.errors.error[0].message, "more than it gets");
}

static void a_figure_of_the_wrong_shaft_is_seen(void **state)
{
    (void)state;
    outcome o;
    read_sheet(&o, "  motor: {rated_voltage: 12 V, no_load_current: 1.2 A, stall_current: 20 A}\n"
                   "  gearmotor: {no_load_speed: 3200 rpm}\n"
                   "  gear: {ratio: 1750, efficiency: 36 %}\n");
    assert_int_equal(o.errors.count, 1);
    assert_string_equal(o.errors.error[0].key, "rotation.motor.no_load_speed");
    has_text(o.errors.error[0].message, "gearmotor has the figures of the output shaft");
}

/* it would change nothing: what follows from it is settled when the file is read */
static void a_figure_of_the_sheet_does_not_vary(void **state)
{
    (void)state;
    outcome o;
    char *text =
        edit("    elevation.motor.no_load_speed: {normal: {mean: 3200 rpm, sd: 60 rpm}}\n",
             "    elevation.motor.stall_torque: {uniform: {low: 0.6 N.m, high: 0.7 N.m}}\n");
    read_text(&o, text);
    free(text);
    assert_int_equal(o.errors.count, 1);
    has_text(o.errors.error[0].message, "vary no_load_speed, stall_current or efficiency");
}

/* what the file gives in full is untouched, and a sheet from the command line counts as the file's
 */
static void an_assignment_completes_too(void **state)
{
    (void)state;
    outcome o;
    const slew_assignment a[] = {
        {.layer = SLEW_LAYER_FILE, .text = "rotation.motor.armature_resistance=0.5 ohm"}};
    char *text =
        edit("    stall_current: 20 A\n    inertia: 4.5e-5 kg.m2\n    viscous_share: 30 %\n"
             "    breakaway: 1.2\n  gear: {ratio: 1750",
             "    inertia: 4.5e-5 kg.m2\n  gear: {ratio: 1750");
    read_with(&o, text, strlen(text), a, 1);
    free(text);
    assert_int_equal(o.status, SLEW_OK);
    near("stall", o.scenario.setup.axis[SLEW_ROTATION].motor.stall_current, 24, 1e-9);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_sheet_gives_the_same_scenario),
        cmocka_unit_test(a_rotor_without_inertia_has_a_typical_one),
        cmocka_unit_test(too_little_names_key_and_way_out),
        cmocka_unit_test(what_is_assumed_is_said),
        cmocka_unit_test(too_much_names_both_keys),
        cmocka_unit_test(a_gear_gives_no_more_than_it_gets),
        cmocka_unit_test(a_figure_of_the_wrong_shaft_is_seen),
        cmocka_unit_test(a_figure_of_the_sheet_does_not_vary),
        cmocka_unit_test(an_assignment_completes_too),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
