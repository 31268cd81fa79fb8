/*
 * feed_voltage.c - what `feed` tells of one feed is what the machine does: at rest, running,
 * starting and stalled.
 */
#include "../support.h"

#include "motion/dynamics.h"
#include "motion/steady.h"

static const int R = SLEW_ROTATION, E = SLEW_ELEVATION, BOTH = SLEW_FEED_BOTH;

static slew_feed_figures ask(const slew_setup *setup)
{
    slew_feed_figures f;
    slew_error error;
    if (slew_feed_ask(setup, &f, &error) != SLEW_OK)
        fail_msg("%s: %s", error.key, error.message);
    return f;
}

/* ---- Closed forms ---- */

/* idle: a divider of source, feed and shared load; standing: the armature and its drive besides.
 * Round-off of a dozen operations. */
static void resting_voltages_are_ohms_law(void **state)
{
    slew_setup setup = daily_setup();
    setup.environment.temperature = celsius(25.0); /* of the motors' data sheet */
    const slew_feed_figures f = ask(&setup);
    const double copper = 1.0 + 0.00393 * 5.0;
    const double area = slew_awg_area(8.0);
    const double conductors = 2.0 * 9.0 * 1.7241e-8 * 1.02 / area * copper, joints = 8.0 * 0.0015;
    const double line = 0.010 + conductors + joints, armature = 12.0 / 20.0 + 0.020;
    (void)state;
    close_to("conductors", f.conductors, conductors, 1e-14);
    close_to("joints", f.joints, joints, 1e-14);
    close_to("idle", f.idle.voltage, 13.4 - 6.0 * line, 1e-14);
    close_to("idle drop", f.idle.drop, 6.0 * (conductors + joints), 1e-13);

    const double one = (13.4 - 6.0 * line - 0.6) / (armature + line);
    close_to("one motor", f.standing[R].current, one, 1e-13);
    close_to("its line", f.standing[R].line, one + 6.0, 1e-13);
    close_to("its voltage", f.standing[R].voltage, 13.4 - line * (one + 6.0), 1e-13);

    const double both = (13.4 - 6.0 * line - 0.6) / (armature / 2.0 + line);
    close_to("both motors", f.standing[BOTH].current, both, 1e-13);
    close_to("drop", f.standing[BOTH].drop, (conductors + joints) * (both + 6.0), 1e-13);
}

/* the battery brings what it can behind its resistance, the feed the rest (Kirchhoff) */
static void battery_and_feed_share_the_current(void **state)
{
    slew_setup setup = daily_setup();
    (void)state;
    setup.supply.auxiliary_fitted = true;
    setup.supply.auxiliary = (slew_battery){12.9, 0.03};
    const slew_feed_figures f = ask(&setup);
    const slew_feed_state *s[] = {&f.idle, &f.running[R], &f.running[E], &f.running[BOTH],
                                  &f.standing[E]};
    for (size_t i = 0; i < sizeof s / sizeof *s; i++) {
        const double line = (13.4 - s[i]->voltage) / (0.010 + f.conductors + f.joints);
        near("line", s[i]->line, line, 1e-10);
        near("node", s[i]->line + s[i]->auxiliary, s[i]->current + 6.0, 1e-10);
        near("battery", s[i]->auxiliary, fmax(0.0, (12.9 - s[i]->voltage) / 0.03), 1e-10);
    }
    assert_true(f.idle.auxiliary == 0.0 && f.standing[E].auxiliary > 1.0);
}

/* At rest: above what the feed brings it carries a part of the other load; above the source itself
 * it pushes current back through the feed; below it rests. */
static void battery_discharges_into_the_feed_as_its_voltage_says(void **state)
{
    slew_setup setup = daily_setup();
    (void)state;
    setup.supply.auxiliary_fitted = true; /* idle without it: 13.04 V */
    setup.supply.auxiliary.voltage = 13.0;
    assert_true(ask(&setup).idle.auxiliary == 0.0);
    setup.supply.auxiliary.voltage = 13.3;
    slew_feed_state idle = ask(&setup).idle;
    assert_true(idle.auxiliary > 0.0 && idle.line > 0.0 && idle.line < 6.0);
    setup.supply.auxiliary.voltage = 13.8;
    idle = ask(&setup).idle;
    assert_true(idle.auxiliary > 6.0 && idle.line < 0.0 && idle.drop < 0.0);
    assert_true(idle.voltage > 13.4 && idle.voltage < 13.8);
}

/* ---- Against the plant ---- */

static double drawn(uint64_t *seed, double low, double high)
{
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    return low + (high - low) * (double)(*seed >> 11) / 9007199254740992.0;
}

/* a level machine without a barrel: the load is friction, the same everywhere */
static slew_setup friction_machine(uint64_t *seed)
{
    slew_setup setup = daily_setup();
    setup.supply.main.voltage = drawn(seed, 8.0, 15.0);
    setup.supply.feed.length = drawn(seed, 0.0, 60.0);
    setup.supply.feed.gauge = floor(drawn(seed, 4.0, 17.0));
    setup.supply.shared_load = drawn(seed, 0.0, 8.0);
    setup.supply.auxiliary_fitted = drawn(seed, 0.0, 1.0) > 0.5;
    setup.supply.auxiliary.voltage = drawn(seed, 9.0, 14.0);
    setup.environment.temperature = celsius(drawn(seed, -20.0, 60.0));
    setup.axis[E].load.mass = 0.0;
    for (int j = 0; j < SLEW_AXES; j++) {
        setup.axis[j].motor.breakaway = 1.0;
        setup.axis[j].reversed = drawn(seed, 0.0, 1.0) > 0.5;
        setup.axis[j].load.friction = drawn(seed, 0.0, 400.0);
        setup.axis[j].stops = (slew_range){-1e6, 1e6};
    }
    return setup;
}

/* drives kept on for 3 s: some hundred time constants */
static slew_plant driven_for_long(const slew_plant_model *model, int drives)
{
    static const double zero[SLEW_AXES] = {0.0, 0.0};
    slew_plant plant;
    slew_plant_start(model, zero, &plant);
    for (int j = 0; j < SLEW_AXES; j++)
        if (drives == BOTH || drives == j)
            slew_plant_drive(model, &plant, j, 1);
    while (slew_plant_advance(model, &plant, 3.0).kind != SLEW_PLANT_NOTHING)
        assert_false(plant.does_not_hold);
    return plant;
}

static void compare_with_plant(const slew_setup *setup, int seen[2])
{
    slew_plant_model model;
    assert_int_equal(slew_plant_model_build(setup, &model, NULL), SLEW_OK);
    const slew_feed_figures f = ask(setup);
    for (int drives = 0; drives < SLEW_FEED_DRIVES; drives++) {
        const slew_plant plant = driven_for_long(&model, drives);
        bool moves = true;
        for (int j = 0; j < SLEW_AXES; j++)
            moves = moves && (!plant.drive[j] || plant.moving[j]);
        seen[moves]++;
        assert_int_equal(f.moves[drives], moves);
        near("voltage", f.running[drives].voltage, plant.voltage, 1e-9);
        near("current", f.running[drives].current, plant.current[0] + plant.current[1], 1e-9);
    }
}

/* Random machines driven until nothing changes: voltage, current, and whether they go on. 1e-9 is
 * the round-off of the plant's steps; what is left of the start after 3 s is exp(-30) or less. */
static void settled_plant_is_what_is_told(void **state)
{
    uint64_t seed = 7;
    int seen[2] = {0, 0}, machines = 0;
    (void)state;
    while (machines < 400) {
        const slew_setup setup = friction_machine(&seed);
        slew_plant_model model;
        if (slew_plant_model_build(&setup, &model, NULL) != SLEW_OK)
            continue;
        machines++;
        compare_with_plant(&setup, seen);
    }
    assert_true(seen[0] > 100 && seen[1] > 100);
}

/* with a barrel: it starts at the worst place exactly where it is said to */
static void starts_as_the_plant_does(void **state)
{
    int starts = 0;
    (void)state;
    for (double voltage = 1.0; voltage < 14.0; voltage += 0.25) {
        slew_setup setup = daily_setup();
        slew_plant_model model;
        slew_plant plant;
        setup.supply.main.voltage = voltage;
        setup.supply.shared_load = 0.0;
        setup.axis[E].load.mass = 60.0;
        assert_int_equal(slew_plant_model_build(&setup, &model, NULL), SLEW_OK);
        const slew_feed_figures f = ask(&setup);
        const double angle[SLEW_AXES] = {0.0, f.place[E].angle[E]};
        slew_plant_start(&model, angle, &plant);
        slew_plant_drive(&model, &plant, E, f.place[E].direction);
        near("voltage", f.standing[E].voltage, plant.voltage, 1e-12);
        const bool moving = slew_plant_advance(&model, &plant, 0.0).kind == SLEW_PLANT_MOVING;
        assert_int_equal(f.starts[E], moving);
        assert_int_equal(f.blocked[E], moving && f.moves[E] ? SLEW_NO_AXIS : E);
        starts += moving;
    }
    assert_true(starts > 5 && starts < 45);
}

/* ---- The worst place ---- */

/* No place of a fine grid is worse, and the worst is as good as one: its gradient is bounded by the
 * largest torque, and a place of the grid is within half a step of it, in both angles. */
static void no_place_is_worse(const slew_setup *setup)
{
    enum { STEPS = 240 };
    slew_plant_model model;
    assert_int_equal(slew_plant_model_build(setup, &model, NULL), SLEW_OK);
    const slew_range *turn = &model.axis[R].stops, *lift = &model.axis[E].stops;
    for (int j = 0; j < SLEW_AXES; j++) {
        const slew_feed_place worst = slew_feed_worst_place(&model, j);
        const double step =
            fmax(turn->high - turn->low, lift->high - lift->low) / STEPS; /* [rad] */
        double most = 0.0;
        for (int i = 0; i <= STEPS; i++)
            for (int k = 0; k <= STEPS; k++) {
                const double angle[SLEW_AXES] = {turn->low + (turn->high - turn->low) * i / STEPS,
                                                 lift->low + (lift->high - lift->low) * k / STEPS};
                most = fmax(most, fabs(slew_plant_load_torque(&model, j, angle)));
            }
        const double scale = model.axis[j].largest_torque;
        assert_true(most <= worst.torque + 1e-12 * scale);
        assert_true(worst.torque <= most + scale * step);
        assert_true(worst.anywhere == (worst.torque == 0.0));
        if (!worst.anywhere && !isnan(worst.angle[R]))
            close_to("there", worst.direction * slew_plant_load_torque(&model, j, worst.angle),
                     worst.torque, 1e-14);
    }
}

static void worst_place_is_the_worst(void **state)
{
    uint64_t seed = 3;
    (void)state;
    for (int i = 0; i < 40; i++) {
        slew_setup setup = daily_setup();
        setup.environment.tilt = i % 4 ? drawn(&seed, 0.0, degrees(30.0)) : 0.0;
        setup.environment.tilt_direction = drawn(&seed, degrees(-180.0), degrees(180.0));
        setup.nozzle.flowing = i % 3 > 0;
        for (int j = 0; j < SLEW_AXES; j++)
            setup.axis[j].load.reaction_arm = drawn(&seed, -0.05, 0.05);
        const double low = drawn(&seed, degrees(-120.0), 0.0);
        setup.axis[R].stops = (slew_range){low, low + drawn(&seed, 0.5, 8.0)};
        setup.axis[E].stops =
            (slew_range){degrees(drawn(&seed, -60.0, 0.0)), degrees(drawn(&seed, 10.0, 120.0))};
        no_place_is_worse(&setup);
    }
}

/* ---- Against runs ---- */

typedef struct follower {
    slew_plant_model model;
    double settling;        /* [s] */
    double since;           /* of the last jump [s] */
    double dip;             /* at the last jump [V] */
    double past, past_time; /* steady voltage of the sample before [V], [s] */
    double fastest;         /* of its changes since the jump [V/s] */
    int drive[SLEW_AXES];   /* of the sample before */
    bool moving[SLEW_AXES];
    int compared;
    double worst; /* difference [V] */
} follower;

static bool has_jumped(follower *f, const slew_sample *s)
{
    bool jumped = false;
    for (int j = 0; j < SLEW_AXES; j++) {
        const bool moving = s->speed[j] != 0.0;
        jumped = jumped || s->drive[j] != f->drive[j] || moving != f->moving[j];
        f->drive[j] = s->drive[j];
        f->moving[j] = moving;
    }
    return jumped;
}

/* where the voltage settles, were the load of this place there everywhere; false: an axis stands */
static bool settles_at(const slew_plant_model *model, const slew_sample *s, double *voltage)
{
    double torque[SLEW_AXES];
    slew_plant steady;
    slew_torque_values(model, s->angle, torque);
    slew_steady(model, s->drive, torque, &steady);
    *voltage = steady.voltage;
    return (!s->drive[R] || steady.moving[R]) && (!s->drive[E] || steady.moving[E]);
}

/* The speed follows its steady value with a first-order lag, so that the voltage is a mean of past
 * steady voltages weighted with exp(-t/settling): off by at most settling times their fastest
 * change since the last jump, and what is left of the jump itself. */
static void follow(void *context, const slew_sample *s)
{
    follower *f = context;
    double steady;
    bool driven = false, moves = true;
    const bool jumped = has_jumped(f, s);
    for (int j = 0; j < SLEW_AXES; j++) {
        driven = driven || s->drive[j];
        moves = moves && (!s->drive[j] || s->speed[j] * s->drive[j] > 0.0);
    }
    const bool known = driven && moves && settles_at(&f->model, s, &steady);
    if (!known || jumped) {
        f->since = s->time;
        f->dip = known ? fabs(s->voltage - steady) : 0.0;
        f->fastest = 0.0;
    } else if (s->time > f->past_time) {
        const double change = fabs(steady - f->past) / (s->time - f->past_time);
        f->fastest = fmax(f->fastest, change);
        const double off = fabs(s->voltage - steady);
        const double lag = f->settling * f->fastest;
        const double left = f->dip * exp(-(s->time - f->since) / f->settling);
        if (s->time - f->since > 0.05) {
            near("voltage", s->voltage, steady, 1.01 * (lag + left) + 1e-9);
            f->compared++;
            f->worst = fmax(f->worst, off);
        }
    }
    f->past = known ? steady : NAN;
    f->past_time = s->time;
}

/* of the slower of both modes: two axes hinder each other by their line's share of all resistance,
 * here less than a third */
static double slowest_settling(const slew_setup *setup)
{
    const slew_feed_figures f = ask(setup);
    return 1.5 * fmax(f.settling[R], f.settling[E]);
}

static int follow_part(const slew_scenario *s, slew_parts parts, slew_occasion occasion)
{
    slew_setup setup;
    slew_result result;
    slew_scenario_resolve(s, occasion, &setup);
    follower f = {.settling = slowest_settling(&setup), .past = NAN};
    assert_int_equal(slew_plant_model_build(&setup, &f.model, NULL), SLEW_OK);
    const slew_observer observer = {.sample = follow, .interval = 0.002, .context = &f};
    assert_int_equal(slew_run(s, parts, &observer, &result, NULL), SLEW_OK);
    return f.compared;
}

static const char *const examples[] = {
    "daily",        "clearance-enough",       "clearance-pressed",
    "foam-trailer", "fireboat-24v",           "freezing-morning",
    "reaction-arm", "foam-trailer-auxiliary", "warm-stow-cold-deploy"};
enum { EXAMPLES = sizeof examples / sizeof *examples };

static slew_scenario read_example(const char *name)
{
    slew_scenario s;
    char path[200];
    snprintf(path, sizeof path, "examples/%s.yaml", name);
    assert_int_equal(slew_scenario_read_file(path, NULL, &s), SLEW_OK);
    return s;
}

/* every sample of every example in which the axes run */
static void runs_have_the_voltage_that_is_told(void **state)
{
    (void)state;
    for (int i = 0; i < EXAMPLES; i++) {
        const slew_scenario s = read_example(examples[i]);
        assert_true(follow_part(&s, SLEW_STOW_ONLY, SLEW_OCCASION_STOW) > 500);
        if (s.deploy.given)
            assert_true(follow_part(&s, SLEW_DEPLOY_ONLY, SLEW_OCCASION_DEPLOY) > 500);
    }
}

static slew_feed_answer answer_of(const slew_scenario *s, slew_occasion occasion)
{
    const slew_feed_question question = {.occasion = occasion};
    slew_feed_answer a;
    assert_int_equal(slew_feed_run(s, &question, &a, NULL), SLEW_OK);
    return a;
}

/* Examples that lift their barrel past the worst place: `run` names the same voltage. At that place
 * the steady voltage is at its lowest, so that the lag of the speed counts in second order: the
 * voltage found there is above by at most (settling * output speed)^2 of what the load takes. */
static void lowest_loaded_voltage_of_runs_is_told(void **state)
{
    static const struct {
        const char *name;
        slew_occasion occasion;
    } row[] = {{"daily", SLEW_OCCASION_STOW},
               {"foam-trailer", SLEW_OCCASION_STOW},
               {"foam-trailer-auxiliary", SLEW_OCCASION_STOW},
               {"freezing-morning", SLEW_OCCASION_STOW},
               {"reaction-arm", SLEW_OCCASION_DEPLOY},
               {"warm-stow-cold-deploy", SLEW_OCCASION_DEPLOY}};
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        const slew_scenario s = read_example(row[i].name);
        const slew_feed_answer a = answer_of(&s, row[i].occasion);
        const slew_feed_figures *f = &a.climate[SLEW_FEED_AS_IT_IS].own.figures;
        slew_result result;
        assert_int_equal(slew_run(&s, SLEW_STOW_AND_DEPLOY, NULL, &result, NULL), SLEW_OK);
        const slew_axis_setup *axis = &a.setup.axis[E];
        const double speed = axis->motor.no_load_speed / axis->gear.ratio; /* [rad/s], and more */
        const double share = f->settling[E] * speed;
        const double lowest = slew_feed_lowest_running(f, a.together);
        const double tolerance = share * share * (f->idle.voltage - lowest) + 1e-9;
        near(row[i].name, result.lowest_loaded_voltage, lowest, tolerance);
        assert_true(tolerance < 1e-3);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(resting_voltages_are_ohms_law),
        cmocka_unit_test(battery_and_feed_share_the_current),
        cmocka_unit_test(battery_discharges_into_the_feed_as_its_voltage_says),
        cmocka_unit_test(settled_plant_is_what_is_told),
        cmocka_unit_test(starts_as_the_plant_does),
        cmocka_unit_test(worst_place_is_the_worst),
        cmocka_unit_test(runs_have_the_voltage_that_is_told),
        cmocka_unit_test(lowest_loaded_voltage_of_runs_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
