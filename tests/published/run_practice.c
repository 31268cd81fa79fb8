/* run_practice.c - what people who keep monitors know, found again in whole runs. Common practice:
 * there is no published source for these facts. */
#include "../support.h"

static const int R = SLEW_ROTATION, E = SLEW_ELEVATION;

static story run;

static void do_all(const slew_scenario *s)
{
    run_parts(s, SLEW_STOW_AND_DEPLOY, &run);
}

/* ---- Sensor and search: common practice -------------------------------------------------------
 */

static void check_sensor(void *context, const slew_sample *sample)
{
    int *seen = context;
    const slew_setup setup = daily_setup();
    for (int j = 0; j < SLEW_AXES; j++) {
        const double away = fabs(sample->angle[j] - setup.axis[j].home.angle);
        if (away < setup.axis[j].home.operate - 1e-9)
            assert_true(sample->closed[j]);
        if (away > setup.axis[j].home.release + 1e-9)
            assert_false(sample->closed[j]);
        seen[sample->closed[j]]++;
    }
}

/* the sensor is closed over its magnet and open away from it */
static void sensor_is_closed_over_its_magnet(void **state)
{
    const slew_scenario s = daily_scenario();
    slew_result r;
    int seen[2] = {0, 0};
    const slew_observer observer = {.sample = check_sensor, .interval = 0.01, .context = seen};
    (void)state;
    assert_int_equal(slew_run(&s, SLEW_STOW_AND_DEPLOY, &observer, &r, NULL), SLEW_OK);
    assert_true(seen[0] > 100 && seen[1] > 100);
}

/* a search that meets no magnet ends on a hard stop */
static void search_without_a_magnet_ends_on_a_hard_stop(void **state)
{
    (void)state;
    for (int axis = 0; axis < SLEW_AXES; axis++)
        for (int search = -1; search <= 1; search += 2) {
            slew_scenario s = daily_scenario();
            char key[64];
            s.setup.axis[axis].search = search;
            snprintf(key, sizeof key, "%s.home.present", slew_axis_word(axis));
            set_key(&s, SLEW_LAYER_TODAY, key, 0.0);
            do_all(&s);
            const slew_part *stow = &run.result.stow;
            const slew_range stops = s.setup.axis[axis].stops;
            assert_int_equal(stow->fault, SLEW_FAULT_HOME_NOT_FOUND);
            assert_int_equal(stow->axis, axis);
            assert_true(stow->angle[axis] == (search > 0 ? stops.low : stops.high));
            assert_int_equal(count_of(&run, SLEW_EVENT_STOP_CONTACT, axis), 2);
        }
}

/* ---- Clearance: common practice ---------------------------------------------------------------
 */

/* taught at 12.6 V, stowed with the engine running at 14.4 V */
static slew_scenario charged(double elevation)
{
    slew_scenario s = daily_scenario();
    s.stow.point[E] = degrees(elevation);
    set_key(&s, SLEW_LAYER_TEACH, "supply.main.voltage", 12.6);
    set_key(&s, SLEW_LAYER_TODAY, "supply.main.voltage", 14.4);
    return s;
}

/* a point taught next to a hard stop faults; with clearance it does not; on the stop it can't even
 * be taught */
static void point_next_to_a_stop_faults_and_with_clearance_does_not(void **state)
{
    slew_scenario s = charged(-19.9);
    (void)state;
    do_all(&s);
    assert_int_equal(run.result.stow.fault, SLEW_FAULT_HARD_STOP);
    assert_int_equal(run.result.stow.axis, E);
    assert_true(run.result.stow.angle[E] == degrees(-20.0));

    s = charged(-15.0);
    do_all(&s);
    assert_int_equal(run.result.stow.says, SLEW_STOWED);
    assert_int_equal(count_of(&run, SLEW_EVENT_STOP_CONTACT, E), 0);

    s = charged(-20.0);
    try_run(&s, SLEW_STOW_ONLY, &run);
    assert_int_equal(run.status, SLEW_ERROR_TEACH);
}

/* somebody drove to the stop with the watch in hand and stored that time: it faults at the very
 * voltage of that day, for the watch runs on until the barrel no longer moves */
static void time_stored_on_the_stop_faults(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.stow.has_times = true;
    s.stow.times[E] = -3.5;
    do_all(&s);
    assert_int_equal(run.result.stow.fault, SLEW_FAULT_HARD_STOP);
    s.stow.times[E] = -1.5;
    do_all(&s);
    assert_int_equal(run.result.stow.says, SLEW_STOWED);
}

/* the clearance that is needed grows with what the day may differ */
static void more_clearance_never_faults_again(void **state)
{
    bool faulted = true;
    int changes = 0;
    (void)state;
    for (double clearance = 0.1; clearance < 8.0; clearance += 0.25) {
        const slew_scenario s = charged(-20.0 + clearance);
        do_all(&s);
        const bool fault = run.result.stow.fault == SLEW_FAULT_HARD_STOP;
        assert_true(fault || run.result.stow.says == SLEW_STOWED);
        changes += fault != faulted;
        faulted = fault;
    }
    assert_false(faulted);
    assert_int_equal(changes, 1);
}

/* ---- Low voltage: common practice -------------------------------------------------------------
 */

/* raising the barrel for 4 s while flowing, at a source of `voltage` */
static slew_scenario raising(double voltage)
{
    slew_scenario s = daily_scenario();
    s.setup.nozzle.flowing = true;
    s.setup.axis[E].start = 0.0;
    s.setup.supply.main.voltage = voltage;
    s.setup.controller.stall_current = 6.0;
    s.setup.controller.brownout_voltage = 0.0;
    s.deploy.seconds[E] = 4.0;
    return s;
}

static double raised(double voltage)
{
    const slew_scenario s = raising(voltage);
    run_parts(&s, SLEW_DEPLOY_ONLY, &run);
    return run.result.deploy.angle[E];
}

/* low voltage slows and can stall */
static void low_voltage_slows_and_can_stall(void **state)
{
    slew_scenario dry = raising(13.4);
    (void)state;
    dry.setup.nozzle.flowing = false;
    double last = degrees(90.0);
    for (double voltage = 15.0; voltage > 11.0; voltage -= 0.5) {
        dry.setup.supply.main.voltage = voltage;
        run_parts(&dry, SLEW_DEPLOY_ONLY, &run);
        assert_int_equal(run.result.deploy.says, SLEW_DEPLOYED);
        assert_true(run.result.deploy.angle[E] < last - degrees(0.5));
        last = run.result.deploy.angle[E];
    }

    assert_true(raised(5.0) == 0.0);
    assert_int_equal(run.result.deploy.fault, SLEW_FAULT_OVERLOAD);
    assert_int_equal(count_of(&run, SLEW_EVENT_MOVING, ANY_AXIS), 0);
}

/* a feed of `gauge` and `length` [m], everything else the daily machine's */
static void with_feed(double gauge, double length)
{
    slew_scenario s = daily_scenario();
    s.setup.supply.feed.gauge = gauge;
    s.setup.supply.feed.length = length;
    s.stow.has_times = true; /* set on a good day */
    s.stow.times[R] = 0.5, s.stow.times[E] = -1.5;
    do_all(&s);
}

/* a long thin feed is its usual cause: the same battery, the same motor */
static void long_thin_feed_starves_the_motor(void **state)
{
    (void)state;
    with_feed(4.0, 4.0);
    const slew_result good = run.result;
    assert_true(good.stow.says == SLEW_STOWED && !good.below_floor);

    with_feed(14.0, 15.0);
    const slew_result poor = run.result;
    assert_true(poor.stow.says == SLEW_STOWED && poor.below_floor);
    assert_true(poor.lowest_loaded_voltage < good.lowest_loaded_voltage - 1.0);
    assert_true(poor.stow.duration > 1.05 * good.stow.duration);
    assert_true(poor.deploy.angle[E] < good.deploy.angle[E] - degrees(5.0));

    with_feed(16.0, 30.0);
    assert_int_equal(run.result.stow.fault, SLEW_FAULT_UNDERVOLTAGE);
}

/* a minimum voltage at the controller under load is told, and nothing stops below it */
static void minimum_voltage_stops_nothing(void **state)
{
    slew_scenario s = daily_scenario();
    slew_setup setup;
    (void)state;
    slew_scenario_resolve(&s, SLEW_OCCASION_STOW, &setup);
    assert_true(setup.supply.floor == 11.5);
    do_all(&s);
    assert_true(slew_result_ok(&s, SLEW_STOW_AND_DEPLOY, &run.result));

    set_key(&s, SLEW_LAYER_TODAY, "supply.main.voltage", 11.9);
    do_all(&s);
    assert_true(run.result.below_floor && run.result.lowest_loaded_voltage < 11.5);
    assert_true(run.result.stow.says == SLEW_STOWED && run.result.deploy.says == SLEW_DEPLOYED);
    assert_int_equal(count_of(&run, SLEW_EVENT_LOW_VOLTAGE, ANY_AXIS), 1);
    assert_false(slew_result_ok(&s, SLEW_STOW_AND_DEPLOY, &run.result));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sensor_is_closed_over_its_magnet),
        cmocka_unit_test(search_without_a_magnet_ends_on_a_hard_stop),
        cmocka_unit_test(point_next_to_a_stop_faults_and_with_clearance_does_not),
        cmocka_unit_test(time_stored_on_the_stop_faults),
        cmocka_unit_test(more_clearance_never_faults_again),
        cmocka_unit_test(low_voltage_slows_and_can_stall),
        cmocka_unit_test(long_thin_feed_starves_the_motor),
        cmocka_unit_test(minimum_voltage_stops_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
