/* feed_work.c - the conductor that is recommended does the work, and the next thinner one does not:
 * on samples of its own, and on the independent reference. */
#include "../support.h"

#include "../reference/reference.h"

/* invented: 24 V on a long cable, some days much weaker than others */
static slew_scenario truck(void)
{
    static const char text[] =
        "format: 1\n"
        "title: Invented 24 V truck on a long cable\n"
        "supply:\n"
        "  system: 24 V\n"
        "  floor: 23 V\n"
        "  main: {voltage: 26.4 V, resistance: 12 mohm}\n"
        "  feed: {area: 10 mm2, length: 25 m, joints: 6, joint_resistance: 1 mohm}\n"
        "controller: {stall: {current: 12 A}}\n"
        "rotation:\n"
        "  start: 40 deg\n"
        "  stops: {low: -150 deg, high: 150 deg}\n"
        "  motor: {rated_voltage: 24 V, no_load_speed: 2800 rpm, no_load_current: 0.9 A,\n"
        "          stall_current: 26.7 A, inertia: 6e-5 kg.m2}\n"
        "  gear: {ratio: 1200, efficiency: 38 %}\n"
        "  load: {inertia: 4 kg.m2, friction: 10 N.m}\n"
        "  home: {angle: 0 deg}\n"
        "  search: right\n"
        "elevation:\n"
        "  start: 35 deg\n"
        "  stops: {low: -45 deg, high: 90 deg}\n"
        "  motor: {rated_voltage: 24 V, no_load_speed: 3000 rpm, no_load_current: 0.8 A,\n"
        "          stall_current: 21.8 A, inertia: 5e-5 kg.m2}\n"
        "  gear: {ratio: 1800, efficiency: 36 %}\n"
        "  load: {inertia: 3 kg.m2, friction: 9 N.m, mass: 14 kg, centre_of_mass: 0.4 m}\n"
        "  home: {angle: -30 deg}\n"
        "  search: down\n"
        "stow:\n"
        "  home_order: elevation, rotation\n"
        "  order: rotation, elevation\n"
        "  point: {rotation: 0 deg, elevation: -20 deg}\n"
        "spread:\n"
        "  day:\n"
        "    supply.main.voltage: {uniform: {low: 23 V, high: 28.8 V}}\n"
        "    environment.temperature: {uniform: {low: -25 degC, high: 45 degC}}\n";
    slew_scenario s;
    assert_int_equal(slew_scenario_read_memory(text, strlen(text), "truck", NULL, &s), SLEW_OK);
    return s;
}

static slew_feed_work work_of(const slew_scenario *s)
{
    slew_feed_work w;
    slew_sampling how = slew_sampling_default();
    how.samples = 512;
    assert_int_equal(slew_feed_work_run(s, SLEW_LADDER_CLASS_5, &how, &w, NULL), SLEW_OK);
    return w;
}

/* the file's own voltage would let 18 AWG pass for the steady point; the work tells otherwise */
static void thin_conductors_are_found_out(void **state)
{
    (void)state;
    slew_scenario s = truck();
    slew_feed_work w = work_of(&s);
    slew_feed_answer steady;
    const slew_feed_question question = {.occasion = SLEW_OCCASION_STOW};
    assert_int_equal(slew_feed_run(&s, &question, &steady, NULL), SLEW_OK);
    assert_true(slew_ladder_size(SLEW_LADDER_AWG, w.size[w.runs[0]].index) == 10);
    near("steady", slew_ladder_size(SLEW_LADDER_AWG, steady.climate[0].floor.thinnest[0]), 18, 0);
    for (int i = 1; i <= 3; i++) /* 18, 16, 14 AWG */
        assert_int_equal(w.size[i].limit, SLEW_FEED_LIMITED_BY_TEACHING);
    assert_int_equal(w.size[4].limit, SLEW_FEED_LIMITED_BY_BROWNOUT);
    assert_int_equal(w.size[4].weakest, SLEW_FEED_LIMITED_BY_BROWNOUT);
    assert_int_equal(w.runs_judged[0].meets, SLEW_MEETS);
    assert_true(w.runs_judged[0].samples >= 4096);
    /* 23 V from the battery on some days: no conductor keeps a floor of 23 V then */
    assert_int_equal(w.keeps[0], -1);
}

/* 12 AWG fails on the weakest day of the spread, not on a known good one */
static void a_known_day_is_not_made_weaker(void **state)
{
    (void)state;
    const slew_error_sink none = {0};
    slew_scenario s = truck();
    slew_scenario_set(&s, SLEW_LAYER_TODAY, "supply.main.voltage", "28.8 V", none);
    slew_scenario_set(&s, SLEW_LAYER_TODAY, "environment.temperature", "20 degC", none);
    slew_feed_work w = work_of(&s);
    /* a known day's work without a fault; 23 V it does not keep */
    assert_int_equal(w.size[4].weakest, SLEW_FEED_LIMITED_BY_FLOOR);
    assert_int_equal(w.size[4].limit, SLEW_FEED_LIMITED_BY_FLOOR);
}

static slew_judgment judged(const slew_scenario *s, slew_ladder ladder, int index)
{
    slew_scenario fitted = *s;
    slew_judgment j;
    slew_sampling how = slew_sampling_default();
    how.samples = 4000;
    how.seed = 771;
    how.points = SLEW_PSEUDO_RANDOM;
    slew_feed_fit(&fitted.setup, ladder, index);
    assert_int_equal(slew_demands_run(&fitted, SLEW_STOW_AND_DEPLOY, &how, &j, NULL), SLEW_OK);
    return j;
}

static void what_is_recommended_holds_on_other_samples(void **state)
{
    (void)state;
    slew_scenario s = truck();
    slew_feed_work w = work_of(&s);
    for (int k = 0; k < 2; k++) {
        const slew_feed_size *size = &w.size[w.runs[k]], *thinner = size - 1;
        assert_int_equal(judged(&s, size->ladder, size->index).of[SLEW_DEMAND_FAULT].misses, 0);
        assert_int_equal(judged(&s, thinner->ladder, thinner->index).of[SLEW_DEMAND_FAULT].meets,
                         SLEW_MEETS_NOT);
    }
}

/* with a floor that the battery itself keeps, a size is named that keeps it, too */
static void the_floor_counts(void **state)
{
    (void)state;
    slew_scenario s = truck();
    s.setup.supply.floor = 20;
    slew_feed_work w = work_of(&s);
    assert_true(w.keeps[0] >= w.runs[0]);
    const slew_feed_size *size = &w.size[w.keeps[0]];
    assert_true(judged(&s, size->ladder, size->index).of[SLEW_DEMAND_FLOOR].missed.value <= 0.05);
    assert_true(judged(&s, size->ladder, size->index - 1).of[SLEW_DEMAND_FLOOR].missed.value >
                0.05);
}

static slew_result on_the_reference(slew_scenario s, slew_ladder ladder, int index)
{
    const slew_error_sink none = {0};
    slew_result result;
    s.truck.count = s.day.count = 0;
    slew_feed_fit(&s.setup, ladder, index);
    assert_int_equal(slew_scenario_set(&s, SLEW_LAYER_TODAY, "supply.main.voltage", "23 V", none),
                     SLEW_OK);
    assert_int_equal(
        slew_scenario_set(&s, SLEW_LAYER_TODAY, "environment.temperature", "-25 degC", none),
        SLEW_OK);
    slew_setup teach, stow, deploy;
    char why[200];
    slew_scenario_resolve(&s, SLEW_OCCASION_TEACH, &teach);
    slew_scenario_resolve(&s, SLEW_OCCASION_STOW, &stow);
    slew_scenario_resolve(&s, SLEW_OCCASION_DEPLOY, &deploy);
    assert_int_equal(
        ref_run(&s, &teach, &stow, &deploy, SLEW_STOW_ONLY, NULL, &result, NULL, why, sizeof why),
        0);
    return result;
}

static void the_reference_says_the_same_of_the_weakest_day(void **state)
{
    (void)state;
    slew_scenario s = truck();
    slew_feed_work w = work_of(&s);
    int index = w.size[w.runs[0]].index;
    assert_int_equal(on_the_reference(s, SLEW_LADDER_AWG, index).stow.says, SLEW_STOWED);
    assert_int_equal(on_the_reference(s, SLEW_LADDER_AWG, index - 1).stow.fault,
                     SLEW_FAULT_UNDERVOLTAGE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(thin_conductors_are_found_out),
        cmocka_unit_test(a_known_day_is_not_made_weaker),
        cmocka_unit_test(what_is_recommended_holds_on_other_samples),
        cmocka_unit_test(the_floor_counts),
        cmocka_unit_test(the_reference_says_the_same_of_the_weakest_day),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
