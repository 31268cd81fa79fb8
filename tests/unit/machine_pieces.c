/* machine_pieces.c - figures that make no machine end with a name, not with a hang. */
#include "machine_steps.h"

/* Past the ranges of the keys, as somebody's own code may fill a scenario: rotation spins, and has
 * a load that goes with its angle, light enough for such a gear. */
static slew_scenario with_ratio(double ratio)
{
    slew_scenario s = daily_scenario();
    s.setup.axis[R].gear.ratio = ratio;
    s.setup.axis[R].load = (slew_load){0};
    s.setup.environment.tilt = 1e-3 * ratio;
    s.setup.axis[R].stops = (slew_range){-1e30, 1e30};
    return s;
}

static slew_scenario with_auxiliary(double resistance)
{
    slew_scenario s = daily_scenario();
    s.setup.supply.auxiliary_fitted = true;
    s.setup.supply.auxiliary.resistance = resistance;
    s.setup.supply.main.voltage = 13.0; /* the line falls to the battery's voltage, and below */
    return s;
}

/* ---- Given up ---- */

static void teaching_gives_up(const slew_scenario *s)
{
    slew_error error = {.status = SLEW_OK};
    double stored[SLEW_AXES];
    assert_int_equal(slew_teach(s, stored, &error), SLEW_ERROR_PIECES);
    assert_int_equal(error.status, SLEW_ERROR_PIECES);
    assert_non_null(strstr(error.message, "pieces"));
    assert_true(strlen(error.expected) > 0);
}

static void run_gives_up(slew_scenario s)
{
    slew_error error = {.status = SLEW_OK};
    slew_result result;
    s.stow.has_times = true;
    assert_int_equal(slew_run(&s, SLEW_STOW_AND_DEPLOY, NULL, &result, &error), SLEW_ERROR_PIECES);
    assert_int_equal(error.status, SLEW_ERROR_PIECES);
    assert_int_equal(result.stow.says, SLEW_NOT_RUN);
    assert_int_equal(result.deploy.says, SLEW_NOT_RUN);
    assert_false(slew_result_ok(&s, SLEW_STOW_AND_DEPLOY, &result));
}

static void figures_of_no_machine_are_given_up(void **state)
{
    (void)state;
    for (int power = 12; power <= 18; power++) {
        const slew_scenario spins = with_ratio(pow(10.0, -power));
        const slew_scenario chatters = with_auxiliary(pow(10.0, -power));
        teaching_gives_up(&spins);
        run_gives_up(spins);
        if (power >= 17)
            teaching_gives_up(&chatters);
    }
}

/* the gear's friction alone stalls it: no more than a point that can't be taught */
static void axis_that_a_gear_of_no_use_stalls_crowds_nothing(void **state)
{
    slew_scenario s = daily_scenario();
    double stored[SLEW_AXES];
    (void)state;
    s.setup.axis[R].gear.ratio = 1e-15;
    assert_int_equal(slew_teach(&s, stored, NULL), SLEW_ERROR_TEACH);
}

/* a stored time that is no number would be a drive without an end */
static void times_that_are_none_are_refused(void **state)
{
    slew_scenario s = daily_scenario();
    slew_result result;
    slew_error error;
    (void)state;
    s.stow.has_times = true;
    s.stow.times[R] = s.stow.times[E] = NAN;
    assert_int_equal(slew_run(&s, SLEW_STOW_AND_DEPLOY, NULL, &result, &error), SLEW_ERROR_INPUT);
    assert_string_equal(error.key, "stow.times");
}

static void plant_that_gave_up_stands_still_and_says_so(void **state)
{
    const slew_scenario s = with_ratio(1e-15);
    const double angle[SLEW_AXES] = {0.0, 0.0};
    slew_plant_model model;
    slew_plant plant;
    (void)state;
    assert_int_equal(slew_plant_model_build(&s.setup, &model, NULL), SLEW_OK);
    slew_plant_start(&model, angle, &plant);
    slew_plant_drive(&model, &plant, R, 1);
    int events = 0;
    while (!slew_plant_is_over(&plant) && events++ < SLEW_PIECES_MAX)
        slew_plant_advance(&model, &plant, 60.0);
    assert_true(plant.gave_up && !plant.does_not_hold && plant.time < 60.0);
    const double time = plant.time;
    for (int i = 0; i < 3; i++) {
        const slew_plant_event event = slew_plant_advance(&model, &plant, 60.0);
        assert_true(event.kind == SLEW_PLANT_GAVE_UP && event.axis == SLEW_NO_AXIS);
        assert_true(plant.time == time);
    }
}

static void machine_that_gave_up_takes_no_commands(void **state)
{
    slew_scenario s = with_ratio(1e-15);
    slew_event event;
    bench b;
    (void)state;
    s.stow.has_times = true;
    assert_true(prepare_bench(&s, &b));
    slew_machine m = machine_of(&b);
    assert_true(slew_machine_jog(&m, R, 1));
    while (slew_machine_advance(&m, 10.0, &event))
        continue;
    assert_true(m.gave_up && m.holds && m.time < 10.0);
    assert_false(slew_machine_stow(&m) || slew_machine_jog(&m, R, 0) || slew_machine_cancel(&m));
}

/* ---- Far from it ---- */

/* a drive that is switched often is no crowd: commands are the caller's own */
static void many_commands_are_no_crowd(void **state)
{
    const slew_scenario s = daily_scenario();
    const double angle[SLEW_AXES] = {0.0, 0.0};
    slew_plant_model model;
    slew_plant plant;
    (void)state;
    assert_int_equal(slew_plant_model_build(&s.setup, &model, NULL), SLEW_OK);
    slew_plant_start(&model, angle, &plant);
    for (int n = 1; n <= 3 * SLEW_PIECES_MAX; n++) {
        slew_plant_drive(&model, &plant, R, n % 2);
        while (plant.time < n * 1e-5)
            slew_plant_advance(&model, &plant, n * 1e-5);
    }
    assert_false(plant.gave_up);
}

static int most;

static void count_pieces(const char *name, const bench *b)
{
    slew_machine m = machine_of(b);
    slew_event event;
    (void)name;
    slew_machine_stow(&m);
    while (slew_machine_advance(&m, 1000.0, &event))
        most = m.plant.crowd > most ? m.plant.crowd : most;
}

static void examples_are_far_from_the_bound(void **state)
{
    (void)state;
    for_every_example(count_pieces);
    assert_in_range(most, 3, SLEW_PIECES_MAX / 100);
}

/* ---- Ranges of keys ---- */

static void ranges_leave_no_such_figures(void **state)
{
    static const struct {
        const char *key;
        double outside, inside;
    } row[] = {{"rotation.gear.ratio", 0.999, 1.0},
               {"elevation.gear.ratio", 1e-15, 1.0},
               {"supply.auxiliary.resistance", 0.99e-5, 1e-5},
               {"rotation.motor.no_load_speed", 5236.0, 5235.0},
               {"elevation.motor.inertia", 0.99e-9, 1e-9},
               {"controller.pause", 3601.0, 3600.0}};
    slew_scenario s = daily_scenario();
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        const int key = slew_key_find(row[i].key);
        assert_int_equal(slew_scenario_set_number(&s, SLEW_LAYER_FILE, key, row[i].outside),
                         SLEW_ERROR_INPUT);
        assert_int_equal(slew_scenario_set_number(&s, SLEW_LAYER_FILE, key, row[i].inside),
                         SLEW_OK);
    }
}

/* one key at a value that its range allows, on the machine with all that can be fitted */
static bool runs_with(int key, double value)
{
    const slew_error_sink quiet = {NULL, NULL};
    slew_scenario s = daily_scenario();
    slew_result result;
    s.setup.supply.auxiliary_fitted = s.setup.nozzle.flowing = true;
    if (slew_scenario_set_number(&s, SLEW_LAYER_FILE, key, value) != SLEW_OK ||
        slew_scenario_check(&s, quiet, quiet) != SLEW_OK)
        return false;
    if (slew_run(&s, SLEW_STOW_AND_DEPLOY, NULL, &result, NULL) == SLEW_ERROR_PIECES)
        fail_msg("%s = %g comes in too many pieces", slew_key_at(key)->path, value);
    return true;
}

static void no_key_within_its_range_crowds_the_daily_machine(void **state)
{
    int runs = 0;
    (void)state;
    for (int k = 0; k < slew_key_count(); k++) {
        const slew_key *key = slew_key_at(k);
        if (key->kind != SLEW_KEY_NUMBER || !key->layered)
            continue;
        runs += runs_with(k, key->low);
        runs += runs_with(k, key->high);
        for (int power = -15; power <= 15; power += 3)
            runs += runs_with(k, pow(10.0, power)) + runs_with(k, -pow(10.0, power));
    }
    assert_in_range(runs, 500, 5000);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(axis_that_a_gear_of_no_use_stalls_crowds_nothing),
        cmocka_unit_test(figures_of_no_machine_are_given_up),
        cmocka_unit_test(times_that_are_none_are_refused),
        cmocka_unit_test(plant_that_gave_up_stands_still_and_says_so),
        cmocka_unit_test(machine_that_gave_up_takes_no_commands),
        cmocka_unit_test(many_commands_are_no_crowd),
        cmocka_unit_test(examples_are_far_from_the_bound),
        cmocka_unit_test(ranges_leave_no_such_figures),
        cmocka_unit_test(no_key_within_its_range_crowds_the_daily_machine),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
