/* motion_inductance.c - what the model leaves out: the reference's motor with inductance against a
 * published step response, and what an inductance would change on the daily machine. */
#include "motion_both.h"

/* ---- Published step response ---- */

/* Control Tutorials for MATLAB and Simulink (University of Michigan, Carnegie Mellon, Detroit
 * Mercy), "DC Motor Speed: System Analysis": J = 0.01, b = 0.1, K = 0.01, R = 1 ohm, L = 0.5 H,
 * 1 V. Published: 0.1 rad/s, 2.07 s to within 2 %. The other digits are worked out by partial
 * fractions. */
static double tutorial_speed(double t, double *current)
{
    double speed;
    assert_int_equal(ref_motor_step(0.01, 0.1, 0.01, 1.0, 0.5, 1.0, t, &speed, current), 0);
    return speed;
}

static double tutorial_time(double share)
{
    double low = 0.0, high = 10.0, current;
    while (high - low > 1e-10) {
        const double middle = (low + high) / 2.0;
        if (tutorial_speed(middle, &current) < share * 0.1 / 1.001)
            low = middle;
        else
            high = middle;
    }
    return low;
}

static void reference_motor_follows_the_tutorial(void **state)
{
    static const double row[][2] = {
        {0.5, 0.05417009996}, {1.0, 0.08303711117}, {2.0, 0.09762348890}, {3.0, 0.09959276376}};
    double current;
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++)
        near("speed", tutorial_speed(row[i][0], &current), row[i][1], 1e-9);
    tutorial_speed(1.0, &current);
    near("current", current, 0.86413015, 1e-8);
    const double settled = tutorial_speed(30.0, &current);
    near("settled speed", settled, 0.0999000999, 1e-8);
    near("settled speed, printed", settled, 0.1, 0.0005);
    near("settled current", current, 0.999000999, 1e-8);
    near("settling time", tutorial_time(0.98), 2.0651886194, 1e-8);
    near("settling time, printed", tutorial_time(0.98), 2.07, 0.006);
    near("63 %", tutorial_time(1.0 - exp(-1.0)), 0.6102340648, 1e-8);
    near("10 to 90 %", tutorial_time(0.9) - tutorial_time(0.1), 1.1350291335, 1e-8);
}

/* ---- The daily machine ---- */

/* M2.7: the peak of a motor without friction, electrical and mechanical time constants te and tm,
 * over its stall current. With friction it starts later and from more current: the true peak lies
 * between this and stall current. */
static double peak_share(const slew_scenario *s, double inductance)
{
    slew_setup setup;
    slew_plant_model model;
    slew_scenario_resolve(s, SLEW_OCCASION_STOW, &setup);
    assert_int_equal(slew_plant_model_build(&setup, &model, NULL), SLEW_OK);
    const slew_plant_axis *axis = &model.axis[SLEW_ELEVATION];
    const double total = axis->resistance + model.line_resistance;
    const double te = inductance / total;
    const double tm = axis->inertia * total / (axis->constant * axis->constant);
    return pow(te / tm, te / (tm - te));
}

/* L/R of the motor alone 1 ms */
static void inductance_only_blunts_the_peaks(void **state)
{
    static story without, with;
    const slew_scenario s = daily_scenario();
    const slew_motor_sheet motor = daily_motor();
    const double inductance = 1e-3 * motor.rated_voltage / motor.stall_current;
    ref_options options = {
        .solver = REF_CVODE, .inductance = true, .inductance_h = {inductance, inductance}};
    char why[256] = "";
    (void)state;
    run_parts(&s, SLEW_STOW_AND_DEPLOY, &without);
    if (run_reference(&s, &options, &with, why, sizeof why))
        fail_msg("no run with inductance: %s", why);
    const slew_result *a = &without.result, *b = &with.result;
    print_message("inductance %.2g H: peak %.2f A instead of %.2f, lowest %.3f V instead of %.3f\n",
                  inductance, b->peak_current, a->peak_current, b->lowest_voltage,
                  a->lowest_voltage);
    for (int j = 0; j < SLEW_AXES; j++)
        print_message("  %s: stowed %+.4f deg, deployed %+.4f deg off\n", slew_axis_word(j),
                      (b->stow.angle[j] - a->stow.angle[j]) / degrees(1.0),
                      (b->deploy.angle[j] - a->deploy.angle[j]) / degrees(1.0));
    const double share = peak_share(&s, inductance);
    assert_true(share > 0.8 && share < 0.9);
    assert_true(b->peak_current > share * a->peak_current);
    assert_true(b->peak_current < 0.95 * a->peak_current);
    assert_true(b->lowest_voltage > a->lowest_voltage);
    assert_true(b->stow.says == SLEW_STOWED && b->deploy.says == SLEW_DEPLOYED);

    /* a tenth of the way that the axes go in a tick of the controller's clock, 0.1 degrees */
    for (int j = 0; j < SLEW_AXES; j++) {
        near("stowed", b->stow.angle[j], a->stow.angle[j], degrees(0.01));
        near("deployed", b->deploy.angle[j], a->deploy.angle[j], degrees(0.01));
    }
    near("under load", b->lowest_loaded_voltage, a->lowest_loaded_voltage, 0.001);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reference_motor_follows_the_tutorial),
        cmocka_unit_test(inductance_only_blunts_the_peaks),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
