/*
 * motion_refusals.c - what a program may hand over by mistake is refused, without an abort, a hang
 * or a write beyond the end.
 */
#include "../support.h"

static const int E = SLEW_ELEVATION;

static slew_prepared prepared_daily(const slew_scenario *s)
{
    slew_prepared p;
    assert_int_equal(slew_prepare(s, SLEW_STOW_AND_DEPLOY, &p, NULL), SLEW_OK);
    return p;
}

static void a_plant_refuses_what_is_no_drive_and_no_place(void **state)
{
    (void)state;
    const slew_scenario s = daily_scenario();
    const slew_prepared p = prepared_daily(&s);
    const double beyond[] = {0, degrees(120)}, none[] = {NAN, 0}, fine[] = {0, 0};
    slew_plant plant = {.time = -1}, before;
    assert_int_equal(slew_plant_start(&p.stow, beyond, &plant), SLEW_ERROR_INPUT);
    assert_int_equal(slew_plant_start(&p.stow, none, &plant), SLEW_ERROR_INPUT);
    assert_true(plant.time == -1);
    assert_int_equal(slew_plant_start(&p.stow, fine, &plant), SLEW_OK);
    before = plant;
    assert_false(slew_plant_drive(&p.stow, &plant, 9, 1));
    assert_false(slew_plant_drive(&p.stow, &plant, -1, 1));
    assert_false(slew_plant_drive(&p.stow, &plant, E, 2));
    assert_memory_equal(&plant, &before, sizeof plant);
    assert_true(slew_plant_drive(&p.stow, &plant, E, 1));
}

/* a run under an infinite voltage goes on for seconds until it has too many pieces */
static void a_supply_without_end_makes_no_machine(void **state)
{
    (void)state;
    for (int i = 0; i < 4; i++) {
        slew_setup setup = daily_setup();
        slew_plant_model model;
        slew_error error = {0};
        double *const figure[] = {&setup.supply.main.voltage, &setup.supply.main.resistance,
                                  &setup.supply.shared_load, &setup.supply.auxiliary.voltage};
        setup.supply.auxiliary_fitted = i == 3;
        *figure[i] = INFINITY;
        assert_int_equal(slew_plant_model_build(&setup, &model, &error), SLEW_ERROR_INPUT);
        assert_string_equal(error.key, "supply");
    }
}

static void time_that_is_none_does_not_pass(void **state)
{
    (void)state;
    const slew_scenario s = daily_scenario();
    const slew_prepared p = prepared_daily(&s);
    slew_plant plant;
    const double fine[] = {0, 0};
    slew_plant_start(&p.stow, fine, &plant);
    slew_plant_advance(&p.stow, &plant, 1);
    slew_plant_advance(&p.stow, &plant, NAN);
    slew_plant_advance(&p.stow, &plant, 0.5);
    assert_true(plant.time == 1);
}

static void a_machine_refuses_what_is_no_axis_and_no_time(void **state)
{
    (void)state;
    const slew_scenario s = daily_scenario();
    const slew_prepared p = prepared_daily(&s);
    slew_machine m;
    slew_event event;
    slew_machine_start(&s, &p, SLEW_OCCASION_STOW, &m);
    assert_false(slew_machine_jog(&m, 9, 1));
    assert_false(slew_machine_jog(&m, -1, 1));
    assert_false(slew_machine_jog(&m, E, -3));
    assert_int_equal(slew_machine_load(&m, 2, 1), SLEW_ERROR_INPUT);
    assert_false(slew_machine_advance(&m, NAN, &event));
    assert_false(slew_machine_advance(&m, -1, &event));
    assert_true(m.time == 0);
}

static void ignore(void *context, const slew_sample *sample)
{
    (void)context;
    (void)sample;
}

/* samples without end */
static void an_interval_that_is_none_is_refused(void **state)
{
    (void)state;
    static const double intervals[] = {0, -1, 1e-9, NAN};
    const slew_scenario s = daily_scenario();
    slew_result result;
    slew_error error;
    for (size_t i = 0; i < sizeof intervals / sizeof *intervals; i++) {
        const slew_observer o = {.sample = ignore, .interval = intervals[i]};
        assert_int_equal(slew_run(&s, SLEW_STOW_ONLY, &o, &result, &error), SLEW_ERROR_INPUT);
        assert_non_null(strstr(error.message, "too close together"));
    }
    const slew_observer events_alone = {.interval = 0};
    assert_int_equal(slew_run(&s, SLEW_STOW_ONLY, &events_alone, &result, &error), SLEW_OK);
}

/* Within the ranges of the keys, but what follows from them is no number: a run told NaN, and that
 * all was well. */
static void figures_from_which_no_number_follows_are_refused(void **state)
{
    (void)state;
    static const struct {
        const char *key;
        double value;
    } row[] = {
        {"rotation.gear.efficiency", 1e-200}, {"elevation.gear.efficiency", 1e-40},
        {"supply.main.voltage", 1e100},       {"elevation.motor.rated_voltage", 1e100},
        {"rotation.load.friction", 1e100},    {"elevation.load.mass", 1e100},
        {"supply.main.resistance", 1e100},
    };
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        slew_scenario s = daily_scenario();
        slew_result result;
        slew_error error;
        s.stow.has_times = true;
        s.setup.axis[SLEW_ROTATION].load.friction =
            0; /* nothing on the gear, but its lack of use */
        set_key(&s, SLEW_LAYER_FILE, row[i].key, row[i].value);
        if (slew_run(&s, SLEW_STOW_AND_DEPLOY, NULL, &result, &error) != SLEW_ERROR_INPUT)
            fail_msg("%s = %g runs to %g s", row[i].key, row[i].value, result.end);
        assert_true(error.key[0] != '\0');
    }
}

static slew_status built(const slew_setup *setup, slew_error *error)
{
    slew_plant_model model;
    return slew_plant_model_build(setup, &model, error);
}

/* each figure of an axis that makes no machine, and the last that still makes one */
static void a_setup_that_makes_no_machine_is_refused(void **state)
{
    (void)state;
    slew_setup s = daily_setup();
    slew_error error;
    for (int j = 0; j < SLEW_AXES; j++) {
        slew_axis_setup *a = &s.axis[j];
        a->load.inertia = s.controller.drive_resistance = 0;
        const struct {
            double *figure, last, beyond;
        } edges[] = {{&a->gear.ratio, 1e-3, 0},
                     {&a->gear.efficiency, 1e-3, 0},
                     {&a->load.friction, 0, -0.1},
                     {&a->motor.breakaway, 1, 0.99},
                     {&a->motor.viscous_share, 0, -0.1},
                     {&a->motor.viscous_share, 1, 1.1},
                     {&a->motor.rated_voltage, 1, NAN},
                     {&a->load.inertia, 0, NAN},
                     {&a->motor.inertia, 1e-9, 0},
                     {&a->motor.no_load_current, 19.9, a->motor.stall_current},
                     {&a->motor.stall_current, 1e9, INFINITY},
                     {&a->stops.low, a->stops.high - 1e-6, a->stops.high}};
        for (size_t i = 0; i < sizeof edges / sizeof *edges; i++) {
            const double kept = *edges[i].figure;
            *edges[i].figure = edges[i].last;
            assert_int_equal(built(&s, &error), SLEW_OK);
            *edges[i].figure = edges[i].beyond;
            assert_int_equal(built(&s, &error), SLEW_ERROR_INPUT);
            assert_string_equal(error.key, j ? "elevation" : "rotation");
            *edges[i].figure = kept;
        }
    }
}

/* two sources without anything between them share a current in no particular way */
static void a_supply_that_feeds_no_machine_is_refused(void **state)
{
    (void)state;
    slew_setup s = daily_setup();
    slew_error error;
    s.supply.main = (slew_battery){13.4, 0};
    s.supply.feed.length = s.supply.feed.joints = 0;
    assert_int_equal(built(&s, &error), SLEW_OK);
    s.supply.auxiliary_fitted = true;
    assert_int_equal(built(&s, &error), SLEW_ERROR_INPUT);
    assert_string_equal(error.key, "supply.feed.length");
    s.supply.main.resistance = 1e-9;
    assert_int_equal(built(&s, &error), SLEW_OK);

    s = daily_setup();
    s.supply.shared_load = 0;
    s.controller.drive_drop = s.supply.main.voltage;
    assert_int_equal(built(&s, &error), SLEW_OK);
    s.controller.drive_drop += 1e-6;
    assert_int_equal(built(&s, &error), SLEW_ERROR_INPUT);
    assert_string_equal(error.key, "supply.main.voltage");
    s.supply.auxiliary_fitted = true; /* its 14 V hold more */
    s.supply.auxiliary.voltage = 14;
    assert_int_equal(built(&s, &error), SLEW_OK);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_plant_refuses_what_is_no_drive_and_no_place),
        cmocka_unit_test(a_supply_without_end_makes_no_machine),
        cmocka_unit_test(time_that_is_none_does_not_pass),
        cmocka_unit_test(a_machine_refuses_what_is_no_axis_and_no_time),
        cmocka_unit_test(figures_from_which_no_number_follows_are_refused),
        cmocka_unit_test(an_interval_that_is_none_is_refused),
        cmocka_unit_test(a_setup_that_makes_no_machine_is_refused),
        cmocka_unit_test(a_supply_that_feeds_no_machine_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
