/* speed_point.c - where a driven axis settles is where the machine itself ends up when it runs
 * long, and the slowest and fastest places are those of a search through all of the travel. */
#include "motion_plant.h"

#include "motion/dynamics.h"
#include "motion/steady.h"

/* one axis carries a load that does not depend on the angle, and no stop is ever met */
static slew_plant_model endless(int axis, double load)
{
    slew_plant_model model = daily_model();
    model.gravity_up = model.gravity_side = 0.0;
    for (int j = 0; j < SLEW_AXES; j++) {
        model.reaction[j] = model.axis[j].largest_torque = j == axis ? load : 0.0;
        model.axis[j].stops = (slew_range){-1e6, 1e6};
        model.axis[j].home.present = false;
    }
    return model;
}

/* 10 s are more than 300 time constants: nothing is left of the start but rounding, some units of
 * the last place of sums of a few terms */
static const double SETTLED = 1e-12;

static void settles_as_told(const slew_plant_model *model, int axis, int direction)
{
    const double angle[SLEW_AXES] = {0.0, 0.0};
    const slew_speed_point told = slew_speed_at(model, axis, direction, angle);
    slew_plant plant = plant_at(model, 0.0, 0.0);
    slew_plant_drive(model, &plant, axis, (int)model->axis[axis].sign * direction);
    while (slew_plant_advance(model, &plant, 10.0).kind != SLEW_PLANT_NOTHING)
        assert_false(plant.does_not_hold);
    assert_int_equal(told.state, SLEW_SPEED_RUNS);
    close_to("speed", told.speed, direction * slew_plant_output_speed(model, &plant, axis),
             SETTLED);
    close_to("current", told.current, plant.current[axis], 1e-10);
    close_to("voltage", told.voltage, plant.voltage, SETTLED);
}

/* loads that hinder and help, gears that lock and that are driven back by them, so far that the
 * motor feeds back */
static void steady_point_is_that_of_the_plant_running_long(void **state)
{
    static const double loads[] = {0.0, 40.0, -40.0, 150.0, -150.0};
    static const double backward[] = {-0.78, 0.0, 0.5, 0.9};
    (void)state;
    for (size_t i = 0; i < sizeof loads / sizeof *loads; i++)
        for (size_t k = 0; k < sizeof backward / sizeof *backward; k++)
            for (int axis = 0; axis < SLEW_AXES; axis++) {
                slew_plant_model model = endless(axis, loads[i]);
                model.axis[axis].backward = backward[k];
                model.axis[axis].sign = k % 2 ? -1.0 : 1.0;
                settles_as_told(&model, axis, 1);
                settles_as_told(&model, axis, -1);
            }
}

/* driven together they share a line: each other's currents hinder them, also one that is too weak
 * to turn and draws its stall current */
static void both_axes_settle_as_the_plant_running_long(void **state)
{
    /* friction of rotation, torque of elevation against its drive */
    static const double loads[][SLEW_AXES] = {{40.0, 90.0},   {60.0, -30.0},  {0.0, 0.0},
                                              {3000.0, 50.0}, {70.0, 3000.0}, {3000.0, 3000.0}};
    static const int drives[][SLEW_AXES] = {{1, 1}, {1, -1}, {-1, 1}, {-1, -1}};
    const double angle[SLEW_AXES] = {0.0, 0.0};
    int standing = 0;
    (void)state;
    for (size_t i = 0; i < sizeof loads / sizeof *loads; i++)
        for (size_t k = 0; k < sizeof drives / sizeof *drives; k++) {
            slew_plant_model model = endless(E, drives[k][E] * loads[i][E]);
            model.axis[E].largest_torque = fabs(loads[i][E]);
            model.axis[R].friction = loads[i][R];
            double torque[SLEW_AXES];
            slew_plant steady, plant = plant_at(&model, 0.0, 0.0);
            slew_torque_values(&model, angle, torque);
            slew_steady(&model, drives[k], torque, &steady);
            for (int j = 0; j < SLEW_AXES; j++)
                slew_plant_drive(&model, &plant, j, drives[k][j]);
            while (slew_plant_advance(&model, &plant, 10.0).kind != SLEW_PLANT_NOTHING)
                assert_false(plant.does_not_hold);
            for (int j = 0; j < SLEW_AXES; j++) {
                assert_int_equal(steady.moving[j], plant.moving[j]);
                near("speed", steady.speed[j], plant.speed[j], SETTLED * 400.0);
                close_to("current", steady.current[j], plant.current[j], 1e-10);
                standing += plant.moving[j] == 0;
            }
            close_to("voltage", steady.voltage, plant.voltage, SETTLED);
        }
    assert_int_equal(standing, 4 * 4);
}

/* both regimes of the supply, and the voltage of the battery from one to the other */
static void auxiliary_battery_is_in_its_regime(void **state)
{
    (void)state;
    int helped = 0, alone = 0;
    for (double voltage = 12.0; voltage < 14.6; voltage += 0.05) {
        slew_setup setup = daily_setup();
        setup.supply.auxiliary_fitted = true;
        setup.supply.main.voltage = voltage;
        slew_plant_model model = model_of(&setup);
        for (int j = 0; j < SLEW_AXES; j++)
            model.axis[j].stops = (slew_range){-1e6, 1e6};
        model.gravity_up = 0.0;
        settles_as_told(&model, R, 1);
        const double angle[SLEW_AXES] = {0.0, 0.0};
        const slew_speed_point told = slew_speed_at(&model, R, 1, angle);
        helped += told.voltage < 12.7;
        alone += told.voltage >= 12.7;
    }
    assert_true(helped > 5 && alone > 5);
}

/* With the barrel's weight, at any angle: torque meets drag, and the voltages add up. */
static void torques_balance_at_every_angle(void **state)
{
    const slew_plant_model model = daily_model();
    const slew_plant_axis *a = &model.axis[E];
    (void)state;
    for (int degree = -20; degree <= 90; degree += 5)
        for (int q = -1; q <= 1; q += 2) {
            const double angle[SLEW_AXES] = {0.3, degrees(degree)};
            const slew_speed_point p = slew_speed_at(&model, E, q, angle);
            const double weight = 11.0 * SLEW_GRAVITY * 0.34 * cos(angle[E]);
            const double carried =
                slew_gear_torque(q * weight + a->friction, a->forward, a->backward) / a->ratio;
            const double speed = p.speed * a->ratio;
            close_to("torque", a->constant * p.current, a->coulomb + a->viscous * speed + carried,
                     1e-11);
            close_to("drive", p.voltage, a->drop + a->resistance * p.current + a->constant * speed,
                     1e-12);
            close_to("line", p.voltage, model.line_voltage - model.line_resistance * p.current,
                     1e-12);
        }
}

/* ---- Standing ---- */

static void blocked_axis_draws_stall_current(void **state)
{
    slew_plant_model model = endless(E, 3000.0);
    const double angle[SLEW_AXES] = {0.0, 0.0};
    const slew_plant_axis *a = &model.axis[E];
    const slew_speed_point up = slew_speed_at(&model, E, 1, angle);
    (void)state;
    const double current = (model.line_voltage - a->drop) / (a->resistance + model.line_resistance);
    assert_int_equal(up.state, SLEW_SPEED_STANDS);
    assert_true(up.speed == 0.0);
    close_to("current", up.current, current, 1e-14);
    close_to("blocked", slew_speed_blocked_current(&model, E), current, 1e-14);
    close_to("voltage", up.voltage, model.line_voltage - model.line_resistance * current, 1e-14);

    model.axis[E].backward = 0.9;
    assert_int_equal(slew_speed_at(&model, E, 1, angle).state, SLEW_SPEED_DRAGGED_BACK);
    slew_plant plant = plant_at(&model, 0.0, 0.0);
    slew_plant_drive(&model, &plant, E, 1);
    next(&model, &plant, 1.0, SLEW_PLANT_DOES_NOT_HOLD);
}

/* Against a hair less it starts, against a hair more it does not; between that and the torque that
 * sliding friction leaves it runs on. */
static void start_torque_is_where_it_starts(void **state)
{
    const double angle[SLEW_AXES] = {0.0, 0.0};
    (void)state;
    for (int axis = 0; axis < SLEW_AXES; axis++) {
        slew_plant_model model = endless(axis, 0.0);
        const double torque = slew_speed_start_torque(&model, axis);
        const slew_plant_axis *a = &model.axis[axis];
        const double sliding = (a->breakaway - 1.0) * a->coulomb * a->ratio * a->forward;
        assert_true(torque > 50.0 && sliding > 1.0);
        model.reaction[axis] = torque * (1.0 - 1e-9);
        assert_int_equal(slew_speed_at(&model, axis, 1, angle).state, SLEW_SPEED_RUNS);
        model.reaction[axis] = torque * (1.0 + 1e-9);
        assert_int_equal(slew_speed_at(&model, axis, 1, angle).state, SLEW_SPEED_RUNS_ON);
        model.reaction[axis] = (torque + sliding) * (1.0 - 1e-9);
        assert_int_equal(slew_speed_at(&model, axis, 1, angle).state, SLEW_SPEED_RUNS_ON);
        model.reaction[axis] = (torque + sliding) * (1.0 + 1e-9);
        assert_int_equal(slew_speed_at(&model, axis, 1, angle).state, SLEW_SPEED_STANDS);
    }
}

/* ---- Places ---- */

static double speed_there(const slew_plant_model *model, int axis, int q,
                          const double angle[SLEW_AXES])
{
    return slew_speed_at(model, axis, q, angle).speed;
}

static int steps(slew_range range)
{
    return (int)ceil((range.high - range.low) / degrees(1.0));
}

static double part_of(slew_range range, int i, int of)
{
    return i == of ? range.high : range.low + (range.high - range.low) * i / of;
}

/* They are the extremes of a search on a grid of a degree. In each angle the load torque can be at
 * most largest_torque (half a step)^2 / 2 beyond the grid's at an extreme of its own; where the
 * fastest place is one without load (a self-locking gear), largest_torque half a step from it. The
 * speed goes with the torque by the slope of the motor. */
static void places_are_extreme(const slew_plant_model *model, int axis, int q,
                               const slew_range range[SLEW_AXES])
{
    const slew_speed_places p = slew_speed_find_places(model, axis, q, range);
    const double slowest = speed_there(model, axis, q, p.slowest);
    const double fastest = speed_there(model, axis, q, p.fastest);
    double low = INFINITY, high = -INFINITY;
    const int turns = steps(range[R]), lifts = steps(range[E]);
    for (int i = 0; i <= turns; i++)
        for (int k = 0; k <= lifts; k++) {
            const double angle[SLEW_AXES] = {part_of(range[R], i, turns),
                                             part_of(range[E], k, lifts)};
            const double speed = speed_there(model, axis, q, angle);
            low = fmin(low, speed), high = fmax(high, speed);
        }
    for (int j = 0; j < SLEW_AXES; j++) {
        assert_true(p.slowest[j] >= range[j].low && p.slowest[j] <= range[j].high);
        assert_true(p.fastest[j] >= range[j].low && p.fastest[j] <= range[j].high);
    }
    assert_true(slowest <= low * (1.0 + 1e-12));
    assert_true(fastest >= high * (1.0 - 1e-12));
    const slew_plant_axis *a = &model->axis[axis];
    const double slope = 1.0 / (a->forward * a->ratio * a->ratio) /
                         (a->constant * a->constant / (a->resistance + model->line_resistance));
    const double beyond = slope * a->largest_torque * degrees(0.5) * degrees(0.5);
    near("slowest", slowest, low, beyond);
    near("fastest", fastest, high,
         beyond + (a->backward < 0.0) * slope * a->largest_torque * degrees(1.0));
}

static slew_plant_model tilted(double tilt, double downhill, double arm, double backward)
{
    slew_setup setup = daily_setup();
    setup.environment.tilt = degrees(tilt);
    setup.environment.tilt_direction = degrees(downhill);
    setup.nozzle.flowing = true;
    setup.axis[R].load.reaction_arm = arm / 4.0;
    setup.axis[E].load.reaction_arm = arm;
    setup.axis[R].gear.backward_efficiency = setup.axis[E].gear.backward_efficiency = backward;
    return model_of(&setup);
}

static void slowest_and_fastest_places_are_extremes(void **state)
{
    static const double tilt[] = {0.0, 15.0, 40.0}, downhill[] = {0.0, 50.0, -160.0};
    static const double arm[] = {0.0, 0.03, -0.02}, backward[] = {-0.7, 0.4};
    (void)state;
    for (int n = 0; n < 54; n++) {
        const slew_plant_model model =
            tilted(tilt[n % 3], downhill[n / 3 % 3], arm[n / 9 % 3], backward[n / 27]);
        const slew_range whole[SLEW_AXES] = {{degrees(-170.0), degrees(170.0)},
                                             {degrees(-20.0), degrees(90.0)}};
        const slew_range part[SLEW_AXES] = {{degrees(20.0), degrees(70.0)},
                                            {degrees(10.0), degrees(33.0)}};
        for (int axis = 0; axis < SLEW_AXES; axis++)
            for (int q = -1; q <= 1; q += 2) {
                places_are_extreme(&model, axis, q, whole);
                places_are_extreme(&model, axis, q, part);
            }
    }
}

/* where an angle makes no difference it is the home sensor's; a range of one angle is that angle */
static void places_where_nothing_differs(void **state)
{
    const slew_plant_model model = daily_model();
    const slew_range whole[SLEW_AXES] = {model.axis[R].stops, model.axis[E].stops};
    const slew_range fixed[SLEW_AXES] = {{0.5, 0.5}, {0.7, 0.7}};
    (void)state;
    slew_speed_places p = slew_speed_find_places(&model, R, 1, whole);
    assert_true(p.slowest[R] == 0.0 && p.slowest[E] == 0.0 && p.fastest[R] == 0.0);
    p = slew_speed_find_places(&model, E, 1, whole);
    assert_true(p.slowest[R] == 0.0 && p.slowest[E] == 0.0);
    near("straight up", p.fastest[E], degrees(90.0), 1e-12);
    p = slew_speed_find_places(&model, E, -1, fixed);
    assert_true(p.slowest[R] == 0.5 && p.slowest[E] == 0.7 && p.fastest[E] == 0.7);
}

static void words_of_states(void **state)
{
    (void)state;
    assert_string_equal(slew_speed_word(SLEW_SPEED_RUNS_ON), "runs_on");
    assert_string_equal(slew_speed_word((slew_speed_state)99), "?");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(steady_point_is_that_of_the_plant_running_long),
        cmocka_unit_test(both_axes_settle_as_the_plant_running_long),
        cmocka_unit_test(auxiliary_battery_is_in_its_regime),
        cmocka_unit_test(torques_balance_at_every_angle),
        cmocka_unit_test(blocked_axis_draws_stall_current),
        cmocka_unit_test(start_torque_is_where_it_starts),
        cmocka_unit_test(slowest_and_fastest_places_are_extremes),
        cmocka_unit_test(places_where_nothing_differs),
        cmocka_unit_test(words_of_states),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
