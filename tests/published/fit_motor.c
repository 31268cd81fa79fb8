/*
 * fit_motor.c - a real geared brushed motor through the functions of `fit` and `speed`.
 *
 * Source: philohome.com, "motor comparison", a medium geared motor under one constant load at six
 * supply voltages. The readings of speed are multiples of 3 rpm, those of current of 0.01 A; the
 * temperature is not told.
 */
#include "../support.h"

#include "slewtime/fit.h"
#include "slewtime/speed.h"

enum { R = SLEW_ROTATION, READINGS = 6 };

static const struct {
    double volts, amps, rpm;
} MEASURED[READINGS] = {{4.5, 0.29, 24},  {6.0, 0.28, 63},   {7.5, 0.29, 105},
                        {9.0, 0.30, 138}, {10.5, 0.31, 180}, {12.0, 0.32, 213}};

/* a digit of 3 rpm, of 0.01 A */
static const double SPEED_SD = 3 / 3.4641016, CURRENT_SD = 0.01 / 3.4641016;

/* The motor with its load as one thing: what it draws under that load counts as running free. On a
 * source without resistance; the figures to start from are a guess. */
static slew_scenario bench(double volts)
{
    slew_scenario s = daily_scenario();
    slew_setup *setup = &s.setup;
    setup->environment.temperature = celsius(25);
    setup->supply.main = (slew_battery){volts, 0};
    setup->supply.shared_load = 0;
    setup->supply.feed = (slew_feed){.conductor = SLEW_CONDUCTOR_PER_LENGTH};
    setup->controller.drive_drop = setup->controller.drive_resistance = 0;
    setup->controller.brownout_voltage = 0;
    setup->nozzle.flow = 0;
    setup->axis[R] = (slew_axis_setup){.stops = {-1e3, 1e3},
                                       .motor = {.rated_voltage = 12,
                                                 .no_load_speed = rpm(250),
                                                 .no_load_current = 0.25,
                                                 .stall_current = 1.2,
                                                 .inertia = 1e-4,
                                                 .viscous_share = 0.2,
                                                 .breakaway = 1},
                                       .gear = {1, 1, SLEW_NOT_GIVEN, 0},
                                       .search = 1};
    return s;
}

/* 50 turns at each voltage, timed by what the speed was */
static void travels(slew_timings *out)
{
    const double turns = 50;
    out->count = READINGS;
    for (int i = 0; i < READINGS; i++) {
        slew_timing *row = &out->row[i];
        double seconds = 60 * turns / MEASURED[i].rpm;
        *row = slew_timing_default();
        row->line = i + 2;
        row->axis = R;
        row->direction = 1;
        row->from = (slew_place){SLEW_PLACE_ANGLE, 0};
        row->to = (slew_place){SLEW_PLACE_ANGLE, turns * rpm(60)};
        row->supply = MEASURED[i].volts;
        row->temperature = celsius(25);
        row->input_sd[SLEW_INPUT_TEMPERATURE] = 1e-3;
        row->input_sd[SLEW_INPUT_SUPPLY] = row->input_sd[SLEW_INPUT_ANGLE] = 1e-3;
        row->measured[SLEW_MEASURE_SECONDS] =
            (slew_measured){seconds, seconds * SPEED_SD / MEASURED[i].rpm, true};
        row->measured[SLEW_MEASURE_CURRENT] = (slew_measured){MEASURED[i].amps, CURRENT_SD, true};
    }
}

/* fitted to all six; little is known before but that the instruments are right
 */
static slew_scenario fitted(void)
{
    static slew_timings rows;
    static slew_fit fit;
    slew_error error;
    slew_scenario s = bench(12);
    const slew_fit_question q = {.timings = &rows,
                                 .keys = 7,
                                 .key = {slew_key_find("rotation.motor.no_load_speed"),
                                         slew_key_find("rotation.motor.no_load_current"),
                                         slew_key_find("rotation.motor.stall_current"),
                                         slew_key_find("rotation.motor.viscous_share"),
                                         SLEW_FIT_BIAS, SLEW_FIT_CURRENT_OFFSET,
                                         SLEW_FIT_SUPPLY_OFFSET},
                                 .tolerance = {rpm(200), 0.2, 1, 0.3, 1e-4, 1e-4, 1e-4}};
    travels(&rows);
    if (slew_fit_run(&s, &q, &fit, &error) != SLEW_OK)
        fail_msg("line %d %s: %s", error.line, error.key, error.message);
    for (int j = 0; j < 4; j++)
        slew_scenario_set_number(&s, SLEW_LAYER_FILE, q.key[j], fit.figure[j].value);
    return s;
}

static double speed_at(const slew_scenario *s, double volts)
{
    slew_speed speed;
    slew_scenario at = *s;
    at.setup.supply.main.voltage = volts;
    slew_speed_question q = slew_speed_question_default(&at, SLEW_OCCASION_STOW);
    q.from = volts / 2;
    q.to = volts;
    assert_int_equal(slew_speed_run(&at, &q, &speed, NULL), SLEW_OK);
    assert_true(speed.curve[1].axis == R && speed.curve[1].direction == 1);
    double out = speed.curve[1].own.slowest.speed / rpm(1);
    slew_speed_free(&speed);
    return out;
}

/* ---- the checks ---- */

/* with R and K as least squares of V = I R + K w have them, worked out independently */
static slew_scenario of_constants(double ohms, double K, double amps)
{
    slew_scenario s = bench(12);
    slew_motor_sheet *m = &s.setup.axis[R].motor;
    m->no_load_current = m->viscous_share = 0;
    m->no_load_speed = m->rated_voltage / K;
    m->stall_current = m->rated_voltage / ohms;
    s.setup.axis[R].load.friction = K * amps;
    return s;
}

/* 12.66 ohm and 0.3544 V s leave each speed to 3.15 rpm, one of its digits; the load as large as
 * each current says */
static void constants_give_the_speeds(void **state)
{
    (void)state;
    for (int i = 0; i < READINGS; i++) {
        const slew_scenario s = of_constants(12.6609, 0.354407, MEASURED[i].amps);
        near("speed", speed_at(&s, MEASURED[i].volts), MEASURED[i].rpm, 3.15);
    }
}

/* those of the lowest three voltages, 12.6505 ohm and 0.353937 V s, give 214.5 rpm at 12 V, where
 * 213 were measured */
static void lowest_three_tell_the_highest(void **state)
{
    const slew_scenario s = of_constants(12.6505, 0.353937, 0.32);
    (void)state;
    near("speed", speed_at(&s, 12), 214.5, 0.05);
}

/* `fit` takes no current for exact, so its speeds are a straight line over the voltage; the best
 * one, by plain least squares, leaves 3.5 rpm */
static void fit_gives_the_speeds(void **state)
{
    const slew_scenario s = fitted();
    (void)state;
    for (int i = 0; i < READINGS; i++)
        near("speed", speed_at(&s, MEASURED[i].volts), MEASURED[i].rpm, 3.5);
}

/* to half a digit of the current, 0.005 A of 0.3, and of the middle speed, 1.5 rpm of 120 */
static void fit_gives_the_constants(void **state)
{
    const slew_scenario s = fitted();
    const slew_motor_sheet *m = &s.setup.axis[R].motor;
    double ohms = m->rated_voltage / m->stall_current;
    double K = (m->rated_voltage - m->no_load_current * ohms) / m->no_load_speed;
    (void)state;
    near("resistance", ohms, 12.66, 12.66 * 0.005 / 0.3);
    near("constant", K, 0.3544, 0.3544 * 1.5 / 120);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(constants_give_the_speeds),
                                       cmocka_unit_test(lowest_three_tell_the_highest),
                                       cmocka_unit_test(fit_gives_the_speeds),
                                       cmocka_unit_test(fit_gives_the_constants)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
