/* physics_gear.c - worms and screws of textbooks: efficiency both ways, holding, lowering. */
#include "slewtime/physics.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "../near.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

static const double PI = 3.14159265358979323846;

static double radians(double degrees)
{
    return degrees * PI / 180.0;
}

/* a square-threaded screw under an axial load: "output torque" is the load times lead / 2 pi, which
 * is what turning it without friction would take */
typedef struct screw {
    double lead, diameter; /* mean diameter; any one unit of length */
    double friction;
    double load;
} screw;

static double lead_angle(screw s)
{
    return atan(s.lead / (PI * s.diameter));
}

static double screw_forward(screw s)
{
    return slew_worm_forward_efficiency(lead_angle(s), 0.0, s.friction);
}

static double screw_torque(screw s, double direction)
{
    const double forward = screw_forward(s);
    const double backward = slew_worm_backward_efficiency(lead_angle(s), 0.0, s.friction);
    return slew_gear_torque(direction * s.load * s.lead / (2.0 * PI), forward, backward);
}

static double torque_to_raise(screw s)
{
    return screw_torque(s, 1.0);
}

/* positive: it has to be turned down; negative: it has to be held back */
static double torque_to_lower(screw s)
{
    return screw_torque(s, -1.0);
}

/* ---- Worms ---- */

/* Jindal, Machine Design, example 28-4: worm of 2 threads, q = 8, pressure angle 20 degrees,
 * friction 0.032; 1.2 kW in, 1.047 kW out, 0.153 kW lost. Half a unit of the digits. */
static void power_through_a_worm(void **state)
{
    const double efficiency = slew_worm_forward_efficiency(atan(2.0 / 8.0), radians(20.0), 0.032);
    (void)state;
    near("efficiency", efficiency, 0.8725, 0.0005);
    near("out", 1.2 * efficiency, 1.047, 0.0005);
    near("lost", 1.2 * (1.0 - efficiency), 0.153, 0.0005);
}

/* The same book, example 28-3: 2 threads, q = 10, friction 0.08, 20 degrees; 1591.5 N along the
 * worm's circumference, 5487 N along its axis. The two do the same work but for the efficiency.
 * (The radial force printed there, 1188 N, takes the wrong angle and is not used.) */
static void axial_force_of_a_worm(void **state)
{
    const double slope = 2.0 / 10.0;
    const double efficiency = slew_worm_forward_efficiency(atan(slope), radians(20.0), 0.08);
    (void)state;
    near("axial force", 1591.55 * efficiency / slope, 5487.0, 0.5);
}

/* Shigley, Mechanical Engineering Design, table "Efficiency of worm gearsets for f = 0.05": 25.2 %
 * at 1 degree, 62.6 at 5 and 82.7 at 15 with 14.5 degrees of pressure angle [from memory]. The
 * other figures are worked out from the book's equation, independently of this library. Half a
 * digit. */
static void efficiency_table_for_friction_of_a_twentieth(void **state)
{
    static const double pressure_angle[] = {14.5, 20.0, 25.0};
    static const struct {
        double lead_angle, percent[COUNT(pressure_angle)];
    } row[] = {
        {1, {25.2, 24.7, 24.0}},   {2.5, {45.7, 45.0, 44.1}}, {5, {62.6, 61.9, 61.0}},
        {7.5, {71.3, 70.7, 70.0}}, {10, {76.6, 76.1, 75.4}},  {15, {82.7, 82.2, 81.7}},
        {20, {85.9, 85.6, 85.1}},  {30, {89.1, 88.7, 88.4}},
    };
    (void)state;
    for (size_t i = 0; i < COUNT(row); ++i)
        for (size_t k = 0; k < COUNT(pressure_angle); ++k)
            near("efficiency",
                 100.0 * slew_worm_forward_efficiency(radians(row[i].lead_angle),
                                                      radians(pressure_angle[k]), 0.05),
                 row[i].percent[k], 0.051);
}

/* ---- Screws ---- */

/* Tayal, Engineering Mechanics, example 7.10: screw jack of 12.5 mm pitch, 100 mm mean diameter,
 * friction 0.20, 50 kN, lever 0.5 m. At the lever 1.208561 kN raise it, efficiency 16.461202 %.
 * Lowering is printed as -0.794732 kN, a push down: this screw holds its load, the torque is one
 * that has to be brought. */
static void screw_jack_that_holds(void **state)
{
    const screw jack = {.lead = 0.0125, .diameter = 0.1, .friction = 0.2, .load = 50.0};
    (void)state;
    near("raise", torque_to_raise(jack) / 0.5, 1.208561, 5e-7);
    near("lower", torque_to_lower(jack) / 0.5, 0.794732, 5e-7);
    near("efficiency", 100.0 * screw_forward(jack), 16.461202, 1e-6);
}

/* adaptivebooks.org, Applied Mechanics: Statics, section 5.6, problem 2: 10000 lb, 2 threads to the
 * inch, 2 in mean diameter, friction 0.2: 2840 in lbf, printed to the nearest ten. */
static void screw_of_two_threads_to_the_inch(void **state)
{
    const screw s = {.lead = 0.5, .diameter = 2.0, .friction = 0.2, .load = 10000.0};
    (void)state;
    near("raise", torque_to_raise(s), 2840.0, 5.0);
    near("raise, more digits", torque_to_raise(s), 2840.99, 0.005);
}

/* Shigley, example 8-1: square double thread, pitch 4 mm, mean diameter 30 mm, friction 0.08,
 * 6.4 kN. Thread alone: 15.94 N m to raise, efficiency 0.511, and it runs down by itself, held back
 * with 0.466 N m. With a collar of 40 mm and the same friction, 10.24 N m more either way: 26.18,
 * 9.77 and 0.311 [these three from memory]. Half a unit of the digits. */
static void power_screw_that_only_its_collar_holds(void **state)
{
    const screw s = {.lead = 8.0, .diameter = 30.0, .friction = 0.08, .load = 6.4};
    const double collar = 0.08 * 6.4 * 40.0 / 2.0;
    (void)state;
    near("raise", torque_to_raise(s), 15.94, 0.005);
    near("lower", torque_to_lower(s), -0.466, 0.0005);
    near("efficiency", screw_forward(s), 0.511, 0.0005);
    near("raise with collar", torque_to_raise(s) + collar, 26.18, 0.005);
    near("lower with collar", torque_to_lower(s) + collar, 9.77, 0.005);
    near("efficiency with collar", s.load * s.lead / (2.0 * PI) / (torque_to_raise(s) + collar),
         0.311, 0.0005);
}

/* The same example read as a single thread, as it circulates: lead 4 mm, 11.79 N m, and the screw
 * then holds by itself. */
static void power_screw_read_as_a_single_thread_is_another(void **state)
{
    const screw s = {.lead = 4.0, .diameter = 30.0, .friction = 0.08, .load = 6.4};
    (void)state;
    near("raise", torque_to_raise(s), 11.79, 0.005);
    assert_true(torque_to_lower(s) > 0.0);
}

/* ---- Self-locking ---- */

/* A worm or screw that holds its load has a forward efficiency below 50 % (adaptivebooks.org, as
 * above, problem 3; a theorem). Over lead angles, pressure angles and frictions; holding begins
 * where tan(lead) = friction / cos(pressure angle). */
static void self_locking_means_less_than_half(void **state)
{
    int holding = 0, running = 0;
    (void)state;
    for (double lead = 0.5; lead < 45.0; lead += 0.5)
        for (double pressure = 0.0; pressure < 31.0; pressure += 5.0)
            for (double friction = 0.011; friction < 0.5; friction += 0.02) {
                const double l = radians(lead), p = radians(pressure);
                const bool locked = slew_worm_backward_efficiency(l, p, friction) <= 0.0;
                assert_true(locked == (tan(l) <= friction / cos(p)));
                if (locked)
                    assert_true(slew_worm_forward_efficiency(l, p, friction) < 0.5);
                holding += locked;
                running += !locked;
            }
    assert_true(holding > 1000 && running > 1000);
}

/* 2 - 1/forward against the exact backward efficiency. With t = tan(lead) and the friction
 * m = f / cos(pressure angle), algebra gives exact - rule = 2 m^2 (1 + t^2)/(1 - m^2 t^2): the rule
 * errs by little, and always towards holding. */
static void rule_for_the_way_back_is_a_little_low(void **state)
{
    (void)state;
    for (double lead = 1.0; lead < 45.0; lead += 1.0)
        for (double pressure = 0.0; pressure < 31.0; pressure += 10.0)
            for (double friction = 0.02; friction < 0.2; friction += 0.02) {
                const double l = radians(lead), p = radians(pressure);
                const double m = friction / cos(p), t = tan(l);
                const double exact = slew_worm_backward_efficiency(l, p, friction);
                const double rule =
                    slew_backward_efficiency(slew_worm_forward_efficiency(l, p, friction));
                assert_true(rule < exact);
                near("gap", exact - rule, 2.0 * m * m * (1.0 + t * t) / (1.0 - m * m * t * t),
                     1e-12 * (1.0 + fabs(rule)));
            }
}

/* The gap in figures, for the manual: 0.006 for a good worm, 0.013 for the screw of example 8-1,
 * 0.08 for the jack. */
static void rule_for_the_way_back_in_figures(void **state)
{
    const double worm = slew_worm_forward_efficiency(radians(5.0), radians(20.0), 0.05);
    const double worm_back = slew_worm_backward_efficiency(radians(5.0), radians(20.0), 0.05);
    const screw power = {.lead = 8.0, .diameter = 30.0, .friction = 0.08};
    const screw jack = {.lead = 12.5, .diameter = 100.0, .friction = 0.2};
    (void)state;
    near("worm", worm_back - slew_backward_efficiency(worm), 0.0057, 5e-5);
    near("power screw",
         slew_worm_backward_efficiency(lead_angle(power), 0.0, 0.08) -
             slew_backward_efficiency(screw_forward(power)),
         0.0129, 5e-5);
    near("jack",
         slew_worm_backward_efficiency(lead_angle(jack), 0.0, 0.2) -
             slew_backward_efficiency(screw_forward(jack)),
         0.0801, 1e-4);
}

/* M3.9: the losses of a screw go with its coefficient of friction, f (cot la + tan la) over (1 - f
 * tan la) forward (Shigley): 20 % more friction is 20 % more loss, but for 1 - f tan la. */
static void losses_go_with_the_friction_of_the_oil(void **state)
{
    const double lead = 0.1, warm = SLEW_ZERO_CELSIUS + 25.0, cold = warm - 40.0;
    (void)state;
    for (double f = 0.02; f < 0.2; f += 0.04) {
        const double forward = slew_worm_forward_efficiency(lead, 0.0, f);
        const double backward = slew_worm_backward_efficiency(lead, 0.0, f);
        near("forward", slew_forward_efficiency_at(forward, -0.005, cold),
             slew_worm_forward_efficiency(lead, 0.0, 1.2 * f), 0.2 * f * tan(lead));
        near("backward", slew_backward_efficiency_at(backward, -0.005, cold),
             slew_worm_backward_efficiency(lead, 0.0, 1.2 * f), 0.5 * f * f);
    }
}

static void losses_without_a_coefficient_stay_to_the_last_digit(void **state)
{
    (void)state;
    for (double eta = 0.01; eta <= 1.0; eta += 0.0137) {
        near("forward", slew_forward_efficiency_at(eta, 0.0, 250.0), eta, 0.0);
        near("backward", slew_backward_efficiency_at(2.0 - 1.0 / eta, 0.0, 250.0), 2.0 - 1.0 / eta,
             0.0);
    }
}

/* whatever the keys take: some losses are left, and both ways stay one gear (M3.1) */
static void losses_never_turn_into_gains(void **state)
{
    (void)state;
    for (double eta = 0.02; eta < 1.0; eta += 0.07)
        for (double t = SLEW_ZERO_CELSIUS - 60.0; t <= SLEW_ZERO_CELSIUS + 100.0; t += 20.0)
            for (double c = -0.01; c < 0.011; c += 0.005) {
                const double there = slew_forward_efficiency_at(eta, c, t);
                assert_true(there > 0.0 && there < 1.0);
                near("backward", slew_backward_efficiency_at(slew_backward_efficiency(eta), c, t),
                     slew_backward_efficiency(there), 1e-12 / eta);
            }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(power_through_a_worm),
        cmocka_unit_test(axial_force_of_a_worm),
        cmocka_unit_test(efficiency_table_for_friction_of_a_twentieth),
        cmocka_unit_test(screw_jack_that_holds),
        cmocka_unit_test(screw_of_two_threads_to_the_inch),
        cmocka_unit_test(power_screw_that_only_its_collar_holds),
        cmocka_unit_test(power_screw_read_as_a_single_thread_is_another),
        cmocka_unit_test(self_locking_means_less_than_half),
        cmocka_unit_test(rule_for_the_way_back_is_a_little_low),
        cmocka_unit_test(rule_for_the_way_back_in_figures),
        cmocka_unit_test(losses_go_with_the_friction_of_the_oil),
        cmocka_unit_test(losses_without_a_coefficient_stay_to_the_last_digit),
        cmocka_unit_test(losses_never_turn_into_gains),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
