/*
 * offset_demands.c - what is recommended meets the demands, is told from samples that did not
 * choose it, and ends the same on the independent reference.
 */
#include "offset_ask.h"

#include "motion_both.h"

/* A monitor that deploys rotation first, and low, beside its folded mast. Of three times the second
 * ends amid the target, and below the mast on strong days; the first misses the target in a few
 * percent, and never comes near it. Invented. */
static slew_scenario beside_the_mast(void)
{
    slew_scenario s = daily_scenario();
    vary(&s.day, VOLTAGE, uniform(12.6, 13.8));
    s.deploy.order = SLEW_ROTATION_FIRST;
    offer(&s, R, 3, 1.8, 0.1);
    offer(&s, E, 1, 7.5, 0);
    aim(&s, R, 18.28, 21.9);
    s.keepout.count = 1;
    s.keepout.box[0] = (slew_keepout_box){
        .name = "mast", .axis = {{degrees(21.4), degrees(40)}, {degrees(-20), degrees(10)}}};
    return s;
}

static bool is_missed(const slew_offset_choice *c, slew_demand demand)
{
    return c->judged.of[demand].meets == SLEW_MEETS_NOT;
}

/* ---- The one that is most often inside is not the best ---- */

static void what_strikes_is_not_recommended(void **state)
{
    const slew_scenario s = beside_the_mast();
    const slew_sampling how = samples(3200);
    (void)state;
    slew_offset o = offset_of(&s, &how);
    const slew_offset_choice *amid = &o.choice[1], *best = &o.told[SLEW_TOLD_BEST];
    print_message("best %.2f s inside %.3f; amid %.3f, strikes %.3f\n", best->seconds[R],
                  best->inside.value, amid->inside.value, amid->keepout.value);
    assert_true(amid->inside.value > o.choice[0].inside.value);
    assert_true(amid->room > o.choice[0].room);
    assert_true(is_missed(amid, SLEW_DEMAND_KEEPOUT) &&
                is_missed(&o.choice[2], SLEW_DEMAND_KEEPOUT));
    assert_int_equal(o.best, 0);
    assert_int_equal(slew_offset_decides(&s, &o.choice[0], amid), SLEW_MERIT_DEMANDS);
    assert_int_equal(best->judged.meets, SLEW_MEETS);
    assert_int_equal(best->judged.of[SLEW_DEMAND_KEEPOUT].misses, 0);
    assert_true(best->inside.value >= s.demands.deploy_inside);
    slew_offset_free(&o);
}

/* without the mast it is the one amid the target */
static void of_those_that_meet_all_the_one_with_most_room(void **state)
{
    slew_scenario s = beside_the_mast();
    const slew_sampling how = samples(3200);
    (void)state;
    s.keepout.count = 0;
    slew_offset o = offset_of(&s, &how);
    assert_int_equal(o.best, 1);
    assert_int_equal(o.choice[0].judged.meets, SLEW_MEETS);
    assert_int_equal(slew_offset_decides(&s, &o.choice[1], &o.choice[0]), SLEW_MERIT_ROOM);
    slew_offset_free(&o);
}

/* 256 samples do not tell 1 in 1000: the estimates rank alike */
static void few_samples_recommend_what_they_see(void **state)
{
    const slew_scenario s = beside_the_mast();
    const slew_sampling how = samples(256);
    (void)state;
    slew_offset o = offset_of(&s, &how);
    assert_int_equal(o.best, 0);
    assert_int_equal(o.told[SLEW_TOLD_BEST].judged.meets, SLEW_NOT_TOLD);
    assert_true(o.told[SLEW_TOLD_BEST].judged.of[SLEW_DEMAND_KEEPOUT].enough == 2995);
    slew_offset_free(&o);
}

/* finer seconds are sought by the target alone: those that strike go back until they do not */
static void finer_seconds_do_not_strike(void **state)
{
    slew_scenario s = beside_the_mast();
    const slew_sampling how = samples(1024);
    slew_finer finer;
    (void)state;
    s.deploy.choice_count[R] = 2; /* 1.8 and 1.9 s */
    aim(&s, R, 18.28, 23.5);
    slew_offset o = offset_of(&s, &how);
    assert_int_equal(slew_finer_run(&s, &how, &o, &finer, NULL), SLEW_OK);
    const slew_offset_choice *any = &finer.at[SLEW_FINER_ANY];
    print_message("any time: %.2f s inside %.4f\n", any->seconds[R], any->inside.value);
    assert_true(finer.held_back[SLEW_FINER_ANY]);
    assert_int_equal(any->judged.of[SLEW_DEMAND_KEEPOUT].misses, 0);
    assert_true(any->seconds[R] > 1.8 && any->seconds[R] < 1.9);
    assert_true(any->inside.value > o.told[SLEW_TOLD_BEST].inside.value);
    slew_offset_free(&o);
}

/* ---- Which of those that miss something ---- */

/* none is inside; both enter the zone, one of them runs into a stop as well */
static void of_strikes_fewer_kinds(void **state)
{
    slew_scenario s = beside_the_mast();
    const slew_sampling how = samples(128);
    (void)state;
    offer(&s, R, 1, 2.5, 0);
    offer(&s, E, 2, 20, -14);
    aim(&s, E, 88, 89);
    s.setup.axis[E].stops.high = degrees(89);
    slew_offset o = offset_of(&s, &how);
    assert_int_equal(o.best, 1);
    assert_int_equal(slew_offset_decides(&s, &o.choice[1], &o.choice[0]), SLEW_MERIT_STOP);
    slew_offset_free(&o);
}

/* ---- Nothing varies ---- */

/* all three end inside, for sure; the rotation has no more room in one than in another */
static void without_a_spread_the_most_central_is_taken(void **state)
{
    slew_scenario s = daily_scenario();
    const slew_sampling how = samples(8);
    (void)state;
    aim(&s, E, 15, 45);
    aim(&s, R, -0.5, 0.5);
    offer(&s, E, 3, 4.8, 1.2);
    slew_offset o = offset_of(&s, &how);
    const slew_offset_choice *best = &o.told[SLEW_TOLD_BEST];
    for (int i = 0; i < 3; i++)
        print_message("%.2f deg\n", o.choice[i].angle[E].median / degrees(1));
    assert_int_equal(o.best, 1);
    assert_int_equal(slew_offset_decides(&s, &o.choice[1], &o.choice[0]), SLEW_MERIT_MEDIANS);
    assert_true(best->judged.certain && best->judged.meets == SLEW_MEETS);
    assert_true(best->inside.low == 1 && best->inside.high == 1);
    assert_true(best->keepout.low == 0 && best->keepout.high == 0);
    assert_int_equal(o.fresh, 0);
    slew_offset_free(&o);
}

/* ---- Truth ---- */

static double voltage_at(double share)
{
    return 12.6 + share * (13.8 - 12.6);
}

/* whether a day of that voltage ends inside */
static bool ends_inside(const slew_scenario *s, const double seconds[SLEW_AXES], double share)
{
    slew_scenario trial = *s;
    slew_prepared p;
    slew_result r;
    trial.day.count = 0;
    trial.setup.supply.main.voltage = voltage_at(share);
    memcpy(trial.deploy.seconds, seconds, sizeof trial.deploy.seconds);
    assert_int_equal(slew_prepare(&trial, SLEW_STOW_AND_DEPLOY, &p, NULL), SLEW_OK);
    slew_run_prepared(&trial, &p, SLEW_STOW_AND_DEPLOY, NULL, &r);
    return r.deploy.says == SLEW_DEPLOYED && r.deploy.on_target;
}

/* One number varies and the angle grows with it: what is inside lies between two voltages. */
static double edge(const slew_scenario *s, const double seconds[SLEW_AXES], double in, double out)
{
    if (ends_inside(s, seconds, out))
        return out;
    for (int i = 0; i < 22; i++) {
        double middle = (in + out) / 2;
        *(ends_inside(s, seconds, middle) ? &in : &out) = middle;
    }
    return in;
}

static double true_share(const slew_scenario *s, const double seconds[SLEW_AXES])
{
    double in = 0.5;
    for (int i = 0; i < 64 && !ends_inside(s, seconds, in); i++)
        in = (i + 0.5) / 64;
    return edge(s, seconds, in, 1) - edge(s, seconds, in, 0);
}

static bool covers(const slew_share *told, double truth)
{
    return told->low <= truth && truth <= told->high;
}

/* the voltage alone, one day for stow and deploy, taught at 13.2 V; a narrow target, tenths of a
 * second to choose from */
static slew_scenario narrow_scenario(void)
{
    slew_scenario s = daily_scenario();
    vary(&s.day, VOLTAGE, uniform(12.6, 13.8));
    set_key(&s, SLEW_LAYER_TEACH, VOLTAGE, 13.2);
    s.deploy.same_day = true;
    offer(&s, E, 9, 6.9, 0.1);
    aim(&s, E, 39, 42);
    return s;
}

/* Of independent samples. Those that chose the best say too much of it, by several percent. */
static void what_is_told_covers_the_truth(void **state)
{
    enum { SEEDS = 200 };
    const slew_scenario s = narrow_scenario();
    slew_sampling how = samples(48);
    double truth[9], above = 0;
    int told = 0, chosen = 0;
    (void)state;
    how.points = SLEW_PSEUDO_RANDOM;
    for (int i = 0; i < 9; i++)
        truth[i] = true_share(&s, (const double[]){0, s.deploy.choices[E][i]});
    for (int seed = 1; seed <= SEEDS; seed++) {
        how.seed = (uint64_t)seed;
        slew_offset o = offset_of(&s, &how);
        told += covers(&o.told[SLEW_TOLD_BEST].inside, truth[o.best]);
        chosen += covers(&o.choice[o.best].inside, truth[o.best]);
        above += (o.choice[o.best].inside.value - truth[o.best]) / SEEDS;
        slew_offset_free(&o);
    }
    print_message("of %d: told %d, by the choosing samples %d, these %.4f above the truth\n", SEEDS,
                  told, chosen, above);
    assert_true(told >= 0.92 * SEEDS);
    assert_true(chosen < told && above > 0.01);
}

/* two stages of choice: the same of finer seconds */
static void finer_seconds_cover_the_truth(void **state)
{
    enum { SEEDS = 60 };
    slew_scenario s = narrow_scenario();
    slew_sampling how = samples(48);
    int told = 0;
    (void)state;
    how.points = SLEW_PSEUDO_RANDOM;
    offer(&s, E, 2, 6.8, 0.9);
    for (int seed = 1; seed <= SEEDS; seed++) {
        slew_finer finer;
        how.seed = (uint64_t)seed;
        slew_offset o = offset_of(&s, &how);
        assert_int_equal(slew_finer_run(&s, &how, &o, &finer, NULL), SLEW_OK);
        const slew_offset_choice *any = &finer.at[SLEW_FINER_ANY];
        told += covers(&any->inside, true_share(&s, any->seconds));
        slew_offset_free(&o);
    }
    print_message("any time: %d of %d\n", told, SEEDS);
    assert_true(told >= 0.92 * SEEDS);
}

/* ---- On the independent reference ---- */

static void keep_voltages(void *context, const slew_scenario *drawn, const slew_prepared *prepared,
                          double *figures)
{
    (void)context;
    figures[0] = prepared->stow_setup.supply.main.voltage;
    figures[1] = drawn->deploy.same_day ? figures[0] : prepared->deploy_setup.supply.main.voltage;
}

/* days drawn anew, on CVODE: the recommended choice is inside as often as told, and never strikes
 */
static void the_reference_does_not_strike_either(void **state)
{
    enum { DAYS = 24 };
    slew_scenario s = beside_the_mast();
    const slew_sampling how = samples(3200);
    slew_sampling days = samples(DAYS);
    slew_ensemble e;
    static story both;
    char why[200] = "";
    int inside = 0;
    (void)state;
    slew_offset o = offset_of(&s, &how);
    memcpy(s.deploy.seconds, o.told[SLEW_TOLD_BEST].seconds, sizeof s.deploy.seconds);
    days.seed = 4711;
    assert_int_equal(
        slew_ensemble_run(&s, SLEW_STOW_AND_DEPLOY, &days, keep_voltages, NULL, 2, &e, NULL),
        SLEW_OK);
    s.day.count = 0;
    for (int i = 0; i < DAYS; i++) {
        ref_options options = {.solver = REF_CVODE};
        slew_scenario day = s;
        set_key(&day, SLEW_LAYER_TODAY, VOLTAGE, e.figure[2 * i]);
        set_key(&day, SLEW_LAYER_DEPLOY_DAY, VOLTAGE, e.figure[2 * i + 1]);
        if (run_reference(&day, &options, &both, why, sizeof why) != 0)
            fail_msg("day %d: %s", i, why);
        assert_int_equal(both.result.visit_count, 0);
        inside += both.result.deploy.on_target;
    }
    print_message("reference: %d of %d inside\n", inside, DAYS);
    assert_true(inside >= DAYS - 3);
    slew_ensemble_free(&e);
    slew_offset_free(&o);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_strikes_is_not_recommended),
        cmocka_unit_test(of_those_that_meet_all_the_one_with_most_room),
        cmocka_unit_test(few_samples_recommend_what_they_see),
        cmocka_unit_test(finer_seconds_do_not_strike),
        cmocka_unit_test(of_strikes_fewer_kinds),
        cmocka_unit_test(without_a_spread_the_most_central_is_taken),
        cmocka_unit_test(what_is_told_covers_the_truth),
        cmocka_unit_test(finer_seconds_cover_the_truth),
        cmocka_unit_test(the_reference_does_not_strike_either),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
