/* speed_travel.c - from stop to stop: against the plant driven by hand, and against the second
 * implementation, which integrates by SUNDIALS CVODE (tests/reference). */
#include "motion_plant.h"

#include "../reference/reference.h"

#include "slewtime/speed.h"

static slew_speed_travel travel(const slew_setup *setup, int axis, int q, double other)
{
    slew_speed_travel out;
    assert_int_equal(slew_speed_travel_run(setup, axis, q, other, &out, NULL), SLEW_OK);
    return out;
}

/* ---- By hand ---- */

static double by_hand(const slew_setup *setup, int axis, int q, double other)
{
    slew_plant_model model = model_of(setup);
    const slew_range *stops = &model.axis[axis].stops;
    double angle[SLEW_AXES];
    slew_plant plant;
    angle[axis] = q > 0 ? stops->low : stops->high;
    angle[!axis] = other;
    slew_plant_start(&model, angle, &plant);
    slew_plant_drive(&model, &plant, axis, setup->axis[axis].reversed ? -q : q);
    while (slew_plant_advance(&model, &plant, 1000.0).kind != SLEW_PLANT_STOP_CONTACT)
        assert_true(plant.time < 1000.0);
    return plant.time;
}

static slew_setup wet(double tilt, double temperature)
{
    slew_setup setup = daily_setup();
    setup.environment.tilt = degrees(tilt);
    setup.environment.tilt_direction = degrees(70.0);
    setup.environment.temperature = celsius(temperature);
    setup.nozzle.flowing = true;
    return setup;
}

static void travel_is_that_of_the_plant(void **state)
{
    (void)state;
    for (int n = 0; n < 16; n++) {
        slew_setup setup = n & 1 ? wet(10.0, -10.0) : daily_setup();
        const int axis = n >> 1 & 1, q = n & 4 ? 1 : -1;
        setup.axis[axis].reversed = n & 8;
        const double other = degrees(axis == R ? 33.0 : -75.0);
        const slew_speed_travel t = travel(&setup, axis, q, other);
        assert_int_equal(t.fault, SLEW_FAULT_NONE);
        assert_true(t.holds);
        near("time", t.time, by_hand(&setup, axis, q, other), TIME);
    }
}

/* rotation on a level base, dry: the load is nothing but friction, so the way is a closed form */
static void travel_of_a_constant_load_is_a_closed_form(void **state)
{
    const slew_setup setup = daily_setup();
    const slew_plant_model model = model_of(&setup);
    const decay d = driven(&model, R);
    const slew_speed_travel t = travel(&setup, R, 1, 0.0);
    (void)state;
    /* 31 s are 1200 time constants: v t - v/rate is the whole way */
    const double turns = degrees(340.0) * model.axis[R].ratio;
    near("time", t.time, turns / d.end + 1.0 / d.rate, TIME);
}

/* ---- The reference ---- */

typedef struct seen {
    int axis;
    double on, contact;
} seen;

static void see(void *context, const slew_event *event)
{
    seen *s = context;
    if (event->axis != s->axis)
        return;
    if (event->kind == SLEW_EVENT_DRIVE_ON)
        s->on = event->time;
    if (event->kind == SLEW_EVENT_STOP_CONTACT && isnan(s->contact))
        s->contact = event->time;
}

static double by_reference(const slew_setup *setup, int axis, int q, double other)
{
    slew_scenario s = daily_scenario();
    slew_setup placed = *setup;
    slew_result result;
    char why[160];
    seen found = {axis, NAN, NAN};
    const ref_options options = {.solver = REF_CVODE, .event = see, .ctx = &found};
    const slew_range *stops = &setup->axis[axis].stops;
    placed.axis[axis].gear.backward_efficiency =
        slew_backward_efficiency(setup->axis[axis].gear.efficiency);
    placed.axis[!axis].gear.backward_efficiency =
        slew_backward_efficiency(setup->axis[!axis].gear.efficiency);
    placed.axis[axis].start = q > 0 ? stops->low : stops->high;
    placed.axis[!axis].start = other;
    s.setup = placed;
    s.deploy.seconds[R] = s.deploy.seconds[E] = 0.0;
    s.deploy.seconds[axis] = q * 59.0;
    if (ref_run(&s, &placed, &placed, &placed, SLEW_DEPLOY_ONLY, &options, &result, NULL, why,
                sizeof why) != 0)
        fail_msg("no reference: %s", why);
    return found.contact - found.on;
}

/* what the two implementations agree on */
static void travel_is_that_of_the_reference(void **state)
{
    (void)state;
    for (int n = 0; n < 8; n++) {
        const slew_setup setup = n & 1 ? wet(12.0, 0.0) : daily_setup();
        const int axis = n >> 1 & 1, q = n & 4 ? 1 : -1;
        const double other = degrees(axis == R ? 20.0 : 40.0);
        near("time", travel(&setup, axis, q, other).time, by_reference(&setup, axis, q, other),
             1e-6);
    }
}

/* ---- What keeps it from getting there ---- */

static void gives_up_as_the_controller_does(void **state)
{
    slew_setup setup = wet(0.0, 20.0);
    (void)state;

    setup.supply.main.voltage = 6.0;
    slew_speed_travel t = travel(&setup, E, 1, 0.0);
    assert_int_equal(t.fault, SLEW_FAULT_UNDERVOLTAGE);
    assert_true(isnan(t.time) && t.holds);

    setup.controller.brownout_voltage = -INFINITY;
    setup.controller.stall_current = 7.0; /* less than it takes to lift against the reaction */
    setup.supply.main.voltage = 13.4;
    assert_int_equal(travel(&setup, E, 1, 0.0).fault, SLEW_FAULT_OVERLOAD);

    setup.controller.stall_current = 13.0;
    setup.controller.move_limit = 20.0;
    assert_int_equal(travel(&setup, E, 1, 0.0).fault, SLEW_FAULT_TIMEOUT);
    setup.controller.move_limit = 20.5;
    near("just in time", travel(&setup, E, 1, 0.0).time, 20.37, 0.005);
}

/* the barrel sinks while the rotation turns: its gear does not hold it */
static void says_that_the_other_axis_slips(void **state)
{
    slew_setup setup = daily_setup();
    (void)state;
    setup.axis[E].gear.backward_efficiency = 0.8;
    setup.axis[E].load.mass = 40.0;
    const slew_speed_travel t = travel(&setup, R, 1, 0.0);
    assert_false(t.holds);
    assert_true(isnan(t.time));
}

static void refuses_what_makes_no_run(void **state)
{
    slew_setup setup = daily_setup();
    slew_speed_travel t;
    slew_error error;
    (void)state;
    assert_int_equal(slew_speed_travel_run(&setup, R, 1, degrees(91.0), &t, &error),
                     SLEW_ERROR_INPUT);
    assert_string_equal(error.key, "elevation.start");
    setup.supply.main.voltage = 0.5;
    assert_int_equal(slew_speed_travel_run(&setup, R, 1, 0.0, &t, &error), SLEW_ERROR_INPUT);
    assert_string_equal(error.key, "supply.main.voltage");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(travel_is_that_of_the_plant),
        cmocka_unit_test(travel_of_a_constant_load_is_a_closed_form),
        cmocka_unit_test(travel_is_that_of_the_reference),
        cmocka_unit_test(gives_up_as_the_controller_does),
        cmocka_unit_test(says_that_the_other_axis_slips),
        cmocka_unit_test(refuses_what_makes_no_run),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
