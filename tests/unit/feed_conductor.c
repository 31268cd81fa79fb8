/*
 * feed_conductor.c - the conductor, length and joints that `feed` asks for are those that runs bear
 * out, and what a measurement stands for.
 */
#include "../support.h"

static const int R = SLEW_ROTATION, E = SLEW_ELEVATION, BOTH = SLEW_FEED_BOTH;
static const int AWG = SLEW_LADDER_AWG, CLASS_5 = SLEW_LADDER_CLASS_5;

static const slew_feed_wish floor_alone = {.together = false};

static slew_feed_figures ask(const slew_setup *setup)
{
    slew_feed_figures f;
    assert_int_equal(slew_feed_ask(setup, &f, NULL), SLEW_OK);
    return f;
}

static bool keeps(const slew_setup *setup)
{
    const slew_feed_figures f = ask(setup);
    return slew_feed_keeps(&f, false, setup->supply.floor);
}

static slew_feed_answer answer_of(const slew_scenario *s)
{
    const slew_feed_question question = {SLEW_OCCASION_STOW, 2, {0.03, 0.10}};
    slew_feed_answer a;
    slew_error error;
    if (slew_feed_run(s, &question, &a, &error) != SLEW_OK)
        fail_msg("%s: %s", error.key, error.message);
    return a;
}

/* ---- Runs ---- */

/* a run that drives each axis both ways, elevation past its worst place at 0 deg */
static slew_scenario travelling(double source, double length, double floor)
{
    slew_scenario s = daily_scenario();
    s.setup.supply.main.voltage = source;
    s.setup.supply.feed.length = length;
    s.setup.supply.floor = floor;
    s.setup.controller.brownout_voltage = 0.0;
    s.setup.controller.stall_current = 100.0;
    s.setup.axis[E].start = degrees(20.0);
    s.stow.has_times = true;
    s.stow.times[R] = 2.0, s.stow.times[E] = -1.5;
    s.deploy.seconds[E] = 6.0;
    return s;
}

/* In its first moments a motor that starts pulls the voltage down; they are not counted for as long
 * as the blank time. What is left of them then is made small. */
static bool run_keeps_floor(const slew_scenario *scenario, slew_ladder ladder, int index)
{
    slew_scenario s = *scenario;
    slew_result r;
    slew_feed_fit(&s.setup, ladder, index);
    s.setup.controller.stall_blank = 0.6;
    assert_int_equal(slew_run(&s, SLEW_STOW_AND_DEPLOY, NULL, &r, NULL), SLEW_OK);
    return r.deploy.says == SLEW_DEPLOYED && !r.below_floor;
}

/* The recommended conductor keeps the floor in a whole run, the next thinner one does not: brute
 * force over lengths and floors. The settled voltage differs from the worst of a run by less than
 * 1e-5 V (feed_voltage.c), by which a floor would have to be missed. */
static void runs_bear_the_recommended_conductor_out(void **state)
{
    int checked = 0;
    (void)state;
    for (double length = 2.0; length < 45.0; length *= 1.5)
        for (double floor = 10.5; floor < 12.6; floor += 0.25) {
            const slew_scenario s = travelling(13.4, length, floor);
            const slew_feed_need need = slew_feed_find_need(&s.setup, &floor_alone);
            for (int ladder = 0; ladder < SLEW_LADDERS; ladder++) {
                const int thinnest = need.thinnest[ladder];
                if (thinnest < 1)
                    continue;
                assert_true(run_keeps_floor(&s, (slew_ladder)ladder, thinnest));
                assert_false(run_keeps_floor(&s, (slew_ladder)ladder, thinnest - 1));
                checked++;
            }
        }
    assert_true(checked > 100);
}

/* ---- Needs ---- */

/* a part in 1e9 more resistance, length or joint loses the floor */
static void limits_are_limits(void **state)
{
    slew_setup setup = daily_setup();
    const slew_feed_need need = slew_feed_find_need(&setup, &floor_alone);
    const double edge[] = {1.0 - 1e-9, 1.0 + 1e-9};
    (void)state;
    for (int i = 0; i < 2; i++) {
        slew_setup tried = setup;
        tried.supply.feed.length = need.length * edge[i];
        assert_int_equal(keeps(&tried), i == 0);
        tried = setup;
        tried.supply.feed.joint_resistance = need.joint * edge[i];
        assert_int_equal(keeps(&tried), i == 0);
        const slew_feed_figures f = ask(&tried);
        close_to("whole feed", f.conductors + f.joints, need.resistance, 3e-9);
    }
}

/* thicker is never worse, so that the thinnest good one separates the ladder */
static void ladder_is_cut_once(void **state)
{
    const slew_scenario s = travelling(13.0, 20.0, 11.5);
    const slew_feed_answer a = answer_of(&s);
    const slew_feed_need *need = &a.climate[SLEW_FEED_AS_IT_IS].floor;
    (void)state;
    for (int ladder = 0; ladder < SLEW_LADDERS; ladder++)
        for (int i = 0; i < slew_ladder_count((slew_ladder)ladder); i++) {
            const slew_feed_trial *t = &a.ladder[ladder][i];
            assert_true(need->thinnest[ladder] >= 0);
            assert_int_equal(t->keeps, i >= need->thinnest[ladder]);
            if (i > 0)
                assert_true(slew_feed_lowest_running(&t->figures, false) >
                            slew_feed_lowest_running(&t[-1].figures, false));
        }
}

/* by drop: conductors and joints take just that share of 12 V while the worse axis runs */
static void drop_is_a_share_of_the_nominal_voltage(void **state)
{
    (void)state;
    for (double share = 0.01; share < 0.3; share *= 1.7) {
        slew_setup setup = daily_setup();
        const slew_feed_wish wish = {.by_drop = true, .drop = share};
        const slew_feed_need need = slew_feed_find_need(&setup, &wish);
        if (need.length < 0.0)
            continue; /* the joints alone lose as much */
        setup.supply.feed.length = need.length;
        const slew_feed_figures f = ask(&setup);
        close_to("drop", fmax(f.running[R].drop, f.running[E].drop), share * 12.0, 1e-11);
        setup.supply.system = 24.0;
        assert_true(slew_feed_find_need(&setup, &wish).length > need.length);
    }
}

/* with both axes at once both count */
static void together_takes_a_thicker_one(void **state)
{
    slew_scenario s = travelling(12.8, 25.0, 11.5);
    (void)state;
    const slew_feed_answer alone = answer_of(&s);
    s.deploy.order = SLEW_TOGETHER;
    const slew_feed_answer both = answer_of(&s);
    assert_true(!alone.together && both.together);
    assert_true(both.climate[0].floor.resistance < alone.climate[0].floor.resistance);
    assert_true(both.climate[0].floor.thinnest[AWG] > alone.climate[0].floor.thinnest[AWG]);
}

/* ---- No conductor, any conductor ---- */

static void hopeless_is_said(void **state)
{
    slew_scenario s = travelling(13.4, 9.0, 13.41);
    (void)state;
    assert_true(slew_feed_find_need(&s.setup, &floor_alone).resistance < 0.0);
    assert_int_equal(slew_feed_find_need(&s.setup, &floor_alone).thinnest[AWG], -1);

    s = travelling(13.4, 9.0, 11.5);
    s.setup.axis[E].load.mass = 400.0;
    const slew_feed_answer a = answer_of(&s);
    assert_true(a.climate[0].floor.resistance < 0.0);
    assert_int_equal(a.ideal.figures.blocked[E], E);
    assert_int_equal(a.ideal.figures.blocked[R], SLEW_NO_AXIS);

    s = travelling(13.4, 9.0, 11.5);
    s.setup.supply.feed.joint_resistance = 0.1;
    const slew_feed_need need = slew_feed_find_need(&s.setup, &floor_alone);
    assert_true(need.resistance > 0.0 && need.length < 0.0 && need.thinnest[CLASS_5] == -1);
}

/* a battery above the floor at the controller needs no feed at all while it lasts */
static void battery_makes_any_conductor_do(void **state)
{
    slew_scenario s = travelling(13.4, 40.0, 11.5);
    s.setup.supply.feed.gauge = 18.0;
    const slew_feed_answer a = answer_of(&s);
    (void)state;
    assert_false(a.auxiliary.without.keeps);
    assert_true(a.auxiliary.with.keeps);
    assert_true(isinf(a.auxiliary.need_with.resistance));
    assert_int_equal(a.auxiliary.need_with.thinnest[AWG], 0);
    assert_true(a.auxiliary.need_without.resistance == a.climate[0].floor.resistance);
}

/* ---- Weather and other changes ---- */

static void weather_is_that_of_the_spread(void **state)
{
    slew_scenario s = travelling(13.4, 9.0, 11.5);
    (void)state;
    slew_feed_answer a = answer_of(&s);
    close_to("cold", a.climate[SLEW_FEED_COLD].temperature, celsius(-20.0), 1e-15);
    close_to("hot", a.climate[SLEW_FEED_HOT].temperature, celsius(60.0), 1e-15);

    s.day.count = 1;
    s.day.item[0] = (slew_variation){.key = slew_key_find("environment.temperature"),
                                     .distribution = SLEW_TABLE,
                                     .count = 3,
                                     .value = {celsius(5.0), celsius(-7.0), celsius(31.0)},
                                     .weight = {1.0, 1.0, 1.0}};
    a = answer_of(&s);
    close_to("cold", a.climate[SLEW_FEED_COLD].temperature, celsius(-7.0), 1e-15);
    close_to("hot", a.climate[SLEW_FEED_HOT].temperature, celsius(31.0), 1e-15);

    s.setup.environment.temperature = celsius(-7.0);
    const slew_feed_figures cold = ask(&s.setup);
    assert_true(a.climate[SLEW_FEED_COLD].own.figures.running[E].voltage ==
                cold.running[E].voltage);
}

/* of a day whose temperature is known there is no colder one */
static void known_weather_has_no_range(void **state)
{
    slew_scenario s = travelling(13.4, 9.0, 11.5);
    const int key = slew_key_find("environment.temperature");
    (void)state;
    s.day.count = 1;
    s.day.item[0] = (slew_variation){
        .key = key, .distribution = SLEW_UNIFORM, .low = celsius(-30.0), .high = celsius(40.0)};
    assert_int_equal(slew_scenario_set_number(&s, SLEW_LAYER_TODAY, key, celsius(12.0)), SLEW_OK);
    slew_feed_answer a = answer_of(&s);
    for (int w = 0; w <= SLEW_FEED_HOT; w++)
        close_to("known", a.climate[w].temperature, celsius(12.0), 1e-15);
}

/* a normal has the ends at which it is cut off, if any */
static void open_spread_has_the_usual_weather(void **state)
{
    slew_scenario s = travelling(13.4, 9.0, 11.5);
    (void)state;
    s.day.count = 1;
    s.day.item[0] = (slew_variation){.key = slew_key_find("environment.temperature"),
                                     .distribution = SLEW_NORMAL,
                                     .mean = celsius(15.0),
                                     .sd = 12.0,
                                     .low = -INFINITY,
                                     .high = celsius(45.0)};
    const slew_feed_answer a = answer_of(&s);
    close_to("cold", a.climate[SLEW_FEED_COLD].temperature, celsius(-20.0), 1e-15);
    close_to("hot", a.climate[SLEW_FEED_HOT].temperature, celsius(45.0), 1e-15);
}

/* each level is the setup with that one value */
static void levels_change_one_thing(void **state)
{
    const slew_scenario s = travelling(13.4, 9.0, 11.5);
    const slew_feed_answer a = answer_of(&s);
    int own = 0;
    (void)state;
    for (int i = 0; i < SLEW_FEED_LEVELS; i++) {
        slew_setup tried = s.setup;
        tried.supply.feed.length = a.length[i].value;
        near("length", a.length[i].trial.figures.running[BOTH].voltage,
             ask(&tried).running[BOTH].voltage, 1e-12);
        tried = s.setup;
        tried.supply.feed.joint_resistance = a.joints[i].value / tried.supply.feed.joints;
        near("joints", a.joints[i].trial.figures.running[E].voltage, ask(&tried).running[E].voltage,
             1e-12);
        tried = s.setup;
        tried.supply.shared_load = a.shared[i].value;
        near("shared", a.shared[i].trial.figures.idle.voltage, ask(&tried).idle.voltage, 1e-12);
        own += a.length[i].own + a.joints[i].own + a.shared[i].own;
    }
    assert_int_equal(own, 3);
}

/* through the stalled motors of the coldest weather, and through a dead short */
static void fault_currents(void **state)
{
    const slew_scenario s = travelling(13.4, 9.0, 11.5);
    const slew_feed_answer a = answer_of(&s);
    const slew_feed_figures *f = &a.climate[SLEW_FEED_AS_IT_IS].own.figures;
    (void)state;
    close_to("short", a.short_circuit, 13.4 / (0.010 + f->conductors + f->joints), 1e-14);
    assert_true(a.most_stall == a.climate[SLEW_FEED_COLD].own.figures.standing[BOTH].line);
    assert_true(a.most_stall > f->standing[BOTH].line);
}

/* ---- Measurements ---- */

static void drop_over_current_is_resistance(void **state)
{
    const slew_setup setup = daily_setup();
    slew_feed_joint j;
    (void)state;
    assert_int_equal(slew_feed_explain_drop(&setup, 0.6, 12.0, &j, NULL), SLEW_OK);
    close_to("resistance", j.resistance, 0.05, 1e-15);
    const slew_feed_figures f = ask(&setup);
    close_to("joints", j.joints, 0.05 - f.conductors, 1e-14);
    close_to("each", j.each, (0.05 - f.conductors) / 8.0, 1e-14);
}

/* a feed with worse joints gives the voltage from which just these are found again */
static void voltage_finds_the_joints_again(void **state)
{
    (void)state;
    for (int auxiliary = 0; auxiliary < 2; auxiliary++)
        for (int drives = 0; drives < SLEW_FEED_DRIVES; drives++)
            for (double each = 0.0; each < 0.02; each += 0.004) {
                slew_setup setup = daily_setup();
                slew_feed_joint j;
                setup.supply.auxiliary_fitted = auxiliary;
                setup.supply.auxiliary.resistance = 0.1;
                setup.supply.feed.joint_resistance = each;
                const slew_feed_figures f = ask(&setup);
                setup.supply.feed.joint_resistance = 0.0015;
                assert_int_equal(
                    slew_feed_explain_voltage(&setup, drives, f.running[drives].voltage, &j, NULL),
                    SLEW_OK);
                near("each", j.each, each, 1e-12);
                near("line", j.state.line, f.running[drives].line, 1e-9);
            }
}

/* ---- What is refused ---- */

static void refuses_voltage(double voltage, const char *part)
{
    slew_setup setup = daily_setup();
    slew_feed_joint j;
    slew_error error;
    assert_int_equal(slew_feed_explain_voltage(&setup, E, voltage, &j, &error), SLEW_ERROR_INPUT);
    assert_non_null(strstr(error.message, part));
}

static void refuses_drop(double drop, double current, const char *part)
{
    const slew_setup setup = daily_setup();
    slew_feed_joint j;
    slew_error error;
    assert_int_equal(slew_feed_explain_drop(&setup, drop, current, &j, &error), SLEW_ERROR_INPUT);
    assert_non_null(strstr(error.message, part));
}

static void impossible_measurements_are_refused(void **state)
{
    slew_setup setup = daily_setup();
    slew_feed_joint j;
    slew_error error;
    (void)state;
    refuses_voltage(13.4, "not below the battery voltage");
    refuses_voltage(NAN, "not below the battery voltage");
    refuses_voltage(1.0, "can't run");
    refuses_drop(0.6, 0.0, "without a current");
    refuses_drop(0.6, -3.0, "without a current");
    refuses_drop(13.4, 12.0, "not below the battery voltage");
    refuses_drop(-0.1, 12.0, "below zero");
    setup.supply.auxiliary_fitted = true;
    setup.supply.shared_load = 0.0;
    assert_int_equal(slew_feed_explain_voltage(&setup, E, 12.4, &j, &error), SLEW_ERROR_INPUT);
    assert_non_null(strstr(error.message, "auxiliary battery brings all"));
}

static void refuses_question(const slew_scenario *s, const slew_feed_question *q, const char *part)
{
    slew_feed_answer a;
    slew_error error;
    assert_int_equal(slew_feed_run(s, q, &a, &error), SLEW_ERROR_INPUT);
    if (strstr(error.message, part) == NULL)
        fail_msg("\"%s\" is not in \"%s\"", part, error.message);
}

static void impossible_questions_are_refused(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    refuses_question(&s, &(slew_feed_question){SLEW_OCCASION_STOW, 1, {0.0}}, "between 0 and");
    refuses_question(&s, &(slew_feed_question){SLEW_OCCASION_STOW, 1, {1.0}}, "between 0 and");
    refuses_question(&s, &(slew_feed_question){SLEW_OCCASION_STOW, 2, {0.03, NAN}},
                     "between 0 and");
    s.deploy.given = false;
    refuses_question(&s, &(slew_feed_question){.occasion = SLEW_OCCASION_DEPLOY}, "no deploy");
    s = daily_scenario();
    set_key(&s, SLEW_LAYER_TODAY, "supply.shared_load", 500.0);
    refuses_question(&s, &(slew_feed_question){.occasion = SLEW_OCCASION_STOW}, "today: ");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(runs_bear_the_recommended_conductor_out),
        cmocka_unit_test(limits_are_limits),
        cmocka_unit_test(ladder_is_cut_once),
        cmocka_unit_test(drop_is_a_share_of_the_nominal_voltage),
        cmocka_unit_test(together_takes_a_thicker_one),
        cmocka_unit_test(hopeless_is_said),
        cmocka_unit_test(battery_makes_any_conductor_do),
        cmocka_unit_test(weather_is_that_of_the_spread),
        cmocka_unit_test(known_weather_has_no_range),
        cmocka_unit_test(open_spread_has_the_usual_weather),
        cmocka_unit_test(levels_change_one_thing),
        cmocka_unit_test(fault_currents),
        cmocka_unit_test(drop_over_current_is_resistance),
        cmocka_unit_test(voltage_finds_the_joints_again),
        cmocka_unit_test(impossible_measurements_are_refused),
        cmocka_unit_test(impossible_questions_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
