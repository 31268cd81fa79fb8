/* physics_supply.c - two sources seen as one, against the circuit itself. */
#include "slewtime/physics.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "../near.h"

typedef struct circuit {
    double main_voltage, line, shared_load;
    double battery_voltage, battery_resistance; /* behind an ideal isolator */
} circuit;

static const circuit truck = {13.4, 0.035, 6.0, 12.7, 0.020};

static slew_source main_source(circuit c)
{
    return slew_source_main(c.main_voltage, c.line, c.shared_load);
}

static slew_source joint_source(circuit c)
{
    return slew_source_joint(main_source(c), c.battery_voltage, c.battery_resistance);
}

static double terminal(slew_source source, double current)
{
    return source.voltage - source.resistance * current;
}

/* currents that flow into the controller's node at `voltage`, less those that are drawn */
static double surplus(circuit c, double voltage, double current)
{
    const double from_main = (c.main_voltage - voltage) / c.line;
    const double from_battery = fmax(0.0, (c.battery_voltage - voltage) / c.battery_resistance);
    return from_main + from_battery - c.shared_load - current;
}

/* node voltage by bisection on the sum of currents, which falls with the voltage; 200 halvings end
 * at the last bit */
static double solved_node(circuit c, double current)
{
    double low = -1e3, high = 1e3;
    for (int i = 0; i < 200; ++i) {
        const double middle = 0.5 * (low + high);
        if (surplus(c, middle, current) > 0.0)
            low = middle;
        else
            high = middle;
    }
    return 0.5 * (low + high);
}

/* the regime that is consistent with itself */
static double node(circuit c, double current)
{
    const double alone = terminal(main_source(c), current);
    return alone < c.battery_voltage ? terminal(joint_source(c), current) : alone;
}

static void main_source_loses_its_line(void **state)
{
    const slew_source stiff = slew_source_main(12.0, 0.0, 30.0);
    (void)state;
    near("at rest", terminal(main_source(truck), 0.0), 13.4 - 0.035 * 6.0, 1e-14);
    near("20 A", terminal(main_source(truck), 20.0), 13.4 - 0.035 * 26.0, 1e-14);
    near("no resistance", terminal(stiff, 100.0), 12.0, 0.0);
}

/* Regenerated to heavily loaded, in both regimes. 1e-12 V: some tens of roundings of 13 V. */
static void regimes_agree_with_the_circuit(void **state)
{
    int alone = 0, joint = 0;
    (void)state;
    for (double line = 0.005; line < 0.2; line *= 2.0)
        for (double battery = 11.0; battery < 14.0; battery += 0.4)
            for (double current = -30.0; current <= 60.0; current += 1.5) {
                const circuit c = {13.4, line, 6.0, battery, 0.020};
                const double voltage = solved_node(c, current);
                near("node", node(c, current), voltage, 1e-12);
                *(voltage < battery ? &joint : &alone) += 1;
            }
    assert_true(alone > 100 && joint > 100);
}

/* The current at which the main source alone comes down to the battery's voltage. */
static void regimes_meet_at_the_battery_voltage(void **state)
{
    const slew_source main = main_source(truck);
    const double current = (main.voltage - truck.battery_voltage) / main.resistance;
    (void)state;
    near("main", terminal(main, current), truck.battery_voltage, 1e-13);
    near("joint", terminal(joint_source(truck), current), truck.battery_voltage, 1e-13);
}

/* Below the meeting point the joint source says "above the battery", beyond it "below", as the main
 * source alone does: one regime is consistent, never both or none. */
static void regimes_exclude_each_other(void **state)
{
    (void)state;
    for (double current = -20.0; current < 60.0; current += 0.7) {
        const bool main_above = terminal(main_source(truck), current) >= truck.battery_voltage;
        const bool joint_above = terminal(joint_source(truck), current) >= truck.battery_voltage;
        assert_true(main_above == joint_above);
    }
}

/* Two like sources are one of half the resistance; a third of conductance adds to both. */
static void joint_adds_conductances(void **state)
{
    const slew_source pair = slew_source_joint((slew_source){12.0, 0.04}, 12.0, 0.04);
    const slew_source unlike = slew_source_joint((slew_source){12.0, 0.03}, 13.0, 0.06);
    (void)state;
    near("pair, voltage", pair.voltage, 12.0, 1e-14);
    near("pair, resistance", pair.resistance, 0.02, 1e-16);
    near("unlike, voltage", unlike.voltage, 12.0 + 1.0 / 3.0, 1e-14);
    near("unlike, resistance", unlike.resistance, 0.02, 1e-16);
}

/* A battery can't be worse than none while it carries current, and it never lifts the node above
 * itself. */
static void battery_helps_under_load(void **state)
{
    (void)state;
    for (double current = 15.0; current < 60.0; current += 1.0) {
        const double alone = terminal(main_source(truck), current);
        const double joint = terminal(joint_source(truck), current);
        assert_true(alone < joint && joint < truck.battery_voltage);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(main_source_loses_its_line),
        cmocka_unit_test(regimes_agree_with_the_circuit),
        cmocka_unit_test(regimes_meet_at_the_battery_voltage),
        cmocka_unit_test(regimes_exclude_each_other),
        cmocka_unit_test(joint_adds_conductances),
        cmocka_unit_test(battery_helps_under_load),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
