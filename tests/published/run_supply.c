/* run_supply.c - whole runs at the voltages that standards and batteries give the controller. */
#include "../support.h"

static const int E = SLEW_ELEVATION;

/* ---- ISO 16750-2 ------------------------------------------------------------------------------
 */

/* BS ISO 16750-2:2010, tables 1 and 2: supply voltage ranges at the equipment's terminals. Exact.
 */
static const struct {
    double nominal;
    char code;
    double low, high;
} range[] = {{12, 'A', 6, 16},  {12, 'B', 8, 16},  {12, 'C', 9, 16},  {12, 'D', 10.5, 16},
             {24, 'E', 10, 32}, {24, 'F', 16, 32}, {24, 'G', 22, 32}, {24, 'H', 18, 32}};

enum { CODES = sizeof range / sizeof *range };

/* invented: the daily machine with a motor wound for 24 V, half the currents */
static void wind_for_24_volts(slew_scenario *s)
{
    s->setup.supply.system = 24.0;
    s->setup.controller.stall_current = 6.5;
    for (int j = 0; j < SLEW_AXES; j++) {
        slew_motor_sheet *motor = &s->setup.axis[j].motor;
        motor->rated_voltage = 24.0;
        motor->no_load_current /= 2.0;
        motor->stall_current /= 2.0;
    }
}

/* `voltage` at the controller itself, whatever is drawn; the point is taught at the nominal
 * voltage, and has room for a faster day. Brownout and its dwell are the format's defaults. */
static slew_scenario at_terminals(double nominal, double voltage)
{
    slew_scenario s = daily_scenario();
    if (nominal > 12.0)
        wind_for_24_volts(&s);
    s.setup.supply.floor = s.setup.controller.brownout_voltage = SLEW_NOT_GIVEN;
    s.setup.supply.main = (slew_battery){nominal, 0.0};
    s.setup.supply.shared_load = 0.0;
    s.setup.supply.feed = (slew_feed){.conductor = SLEW_CONDUCTOR_PER_LENGTH};
    s.stow.point[E] = degrees(-10.0);
    s.deploy.seconds[E] = 5.0;
    set_key(&s, SLEW_LAYER_TODAY, "supply.main.voltage", voltage);
    return s;
}

/* A controller that gives up below 9 V (18 V) works at its threshold and above, and gives up a
 * dwell of 50 ms after the start below it. */
static void works_as_its_threshold_says(double nominal, double voltage)
{
    static story run;
    const slew_scenario s = at_terminals(nominal, voltage);
    run_parts(&s, SLEW_STOW_AND_DEPLOY, &run);
    if (voltage >= 0.75 * nominal) {
        if (run.result.stow.says != SLEW_STOWED || run.result.deploy.says != SLEW_DEPLOYED)
            fail_msg("at %.2f V: %s, %s", voltage, slew_fault_word(run.result.stow.fault),
                     slew_fault_word(run.result.deploy.fault));
        near("voltage", run.result.lowest_voltage, voltage, 1e-12);
    } else {
        assert_int_equal(run.result.stow.fault, SLEW_FAULT_UNDERVOLTAGE);
        near("when", nth(&run, SLEW_EVENT_FAULT, ANY_AXIS, 0)->time, 0.05, 1e-12);
        assert_int_equal(run.result.deploy.says, SLEW_NOT_RUN);
    }
}

static void every_code_is_met_as_the_brownout_threshold_says(void **state)
{
    (void)state;
    for (int i = 0; i < CODES; i++)
        for (int k = 0; k <= 40; k++)
            works_as_its_threshold_says(range[i].nominal,
                                        range[i].low + (range[i].high - range[i].low) * k / 40.0);
    for (double nominal = 12.0; nominal <= 24.0; nominal += 12.0) {
        works_as_its_threshold_says(nominal, 0.75 * nominal);
        works_as_its_threshold_says(nominal, nextafter(0.75 * nominal, 0.0));
    }
}

/* codes C, D, G and H lie above the default thresholds with all of their range, the others not */
static void defaults_serve_codes_c_d_g_and_h(void **state)
{
    (void)state;
    for (int i = 0; i < CODES; i++) {
        slew_setup setup;
        const slew_scenario s = at_terminals(range[i].nominal, range[i].low);
        slew_scenario_resolve(&s, SLEW_OCCASION_STOW, &setup);
        const bool all = range[i].low >= setup.controller.brownout_voltage;
        assert_true(all == (strchr("CDGH", range[i].code) != NULL));
    }
}

/* a floor that is left out is the low end of what code D, at 24 V code G, asks of a device */
static void default_floor_is_the_low_end_of_codes_d_and_g(void **state)
{
    (void)state;
    for (int i = 0; i < CODES; i++) {
        slew_setup setup;
        const slew_scenario s = at_terminals(range[i].nominal, range[i].high);
        slew_scenario_resolve(&s, SLEW_OCCASION_STOW, &setup);
        assert_true((setup.supply.floor == range[i].low) == (strchr("DG", range[i].code) != NULL));
    }
}

/* and over the whole of a range the monitor is the faster the more it gets */
static void deploy_goes_the_further_the_higher_the_voltage(void **state)
{
    (void)state;
    for (double nominal = 12.0; nominal <= 24.0; nominal += 12.0) {
        double last = -INFINITY;
        for (double share = 0.75; share <= 1.334; share += 0.0583) {
            slew_scenario s = at_terminals(nominal, share * nominal);
            slew_result r;
            s.setup.axis[E].start = 0.0;
            assert_int_equal(slew_run(&s, SLEW_DEPLOY_ONLY, NULL, &r, NULL), SLEW_OK);
            assert_true(r.deploy.angle[E] > last + degrees(1.0));
            last = r.deploy.angle[E];
        }
    }
}

/* ---- Low-voltage alarm ------------------------------------------------------------------------
 */

/* A fire apparatus' low-voltage alarm: 11.8 V (23.6 V) for more than 120 s, after NFPA 1901; from
 * memory. As the floor it is told as soon as a motor runs; the 11.5 V of the daily machine are not
 * yet reached. */
static void alarm_voltage_as_the_floor_is_told_before_the_usual_one(void **state)
{
    static story run;
    slew_scenario s = daily_scenario();
    (void)state;
    set_key(&s, SLEW_LAYER_TODAY, "supply.main.voltage", 12.3);
    run_parts(&s, SLEW_STOW_AND_DEPLOY, &run);
    assert_true(run.result.lowest_loaded_voltage > 11.5);
    assert_true(run.result.lowest_loaded_voltage < 11.8);
    assert_false(run.result.below_floor);

    s.setup.supply.floor = 11.8;
    run_parts(&s, SLEW_STOW_AND_DEPLOY, &run);
    assert_true(run.result.below_floor);
    assert_int_equal(count_of(&run, SLEW_EVENT_LOW_VOLTAGE, ANY_AXIS), 1);

    /* the alarm itself would not sound: it is all over long before 120 s */
    assert_true(run.result.end < 120.0 && run.result.deploy.says == SLEW_DEPLOYED);
}

/* ---- Battery ----------------------------------------------------------------------------------
 */

/* Lead-acid battery at 26.7 degC, open-circuit voltage by state of charge, after a table of the BCI
 * type. Spread between such tables is 0.15 V: only the order is tested. */
static void emptier_battery_gives_less_under_load(void **state)
{
    static const double open_circuit[] = {11.89, 12.06, 12.24, 12.45, 12.65};
    double last = 0.0, furthest = -INFINITY;
    (void)state;
    for (int i = 0; i < 5; i++) {
        slew_scenario s = daily_scenario();
        slew_result r;
        set_key(&s, SLEW_LAYER_TODAY, "supply.main.voltage", open_circuit[i]);
        assert_int_equal(slew_run(&s, SLEW_STOW_AND_DEPLOY, NULL, &r, NULL), SLEW_OK);
        assert_true(r.stow.says == SLEW_STOWED && r.deploy.says == SLEW_DEPLOYED);
        assert_true(r.lowest_loaded_voltage > last && r.lowest_loaded_voltage < open_circuit[i]);
        assert_true(r.deploy.angle[E] > furthest);
        last = r.lowest_loaded_voltage, furthest = r.deploy.angle[E];
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_code_is_met_as_the_brownout_threshold_says),
        cmocka_unit_test(defaults_serve_codes_c_d_g_and_h),
        cmocka_unit_test(default_floor_is_the_low_end_of_codes_d_and_g),
        cmocka_unit_test(deploy_goes_the_further_the_higher_the_voltage),
        cmocka_unit_test(alarm_voltage_as_the_floor_is_told_before_the_usual_one),
        cmocka_unit_test(emptier_battery_gives_less_under_load),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
