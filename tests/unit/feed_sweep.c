/* feed_sweep.c - the sweep of `feed` over conductors and lengths is what single feeds are told. */
#include "../support.h"

static slew_feed_answer answer;
static slew_feed_sweep sweep;

enum { MIDDLE = (SLEW_FEED_POINTS - 1) / 2 };

static void ask(const slew_scenario *s, slew_ladder metric)
{
    const slew_feed_question question = {.occasion = SLEW_OCCASION_STOW};
    assert_int_equal(slew_feed_run(s, &question, &answer, NULL), SLEW_OK);
    slew_feed_sweep_run(&answer, metric, &sweep);
}

static slew_scenario daily_at(double celsius_now)
{
    slew_scenario s = daily_scenario();
    s.setup.environment.temperature = celsius(celsius_now);
    return s;
}

static void same_state(const slew_feed_state *a, const slew_feed_state *b)
{
    near("voltage", a->voltage, b->voltage, 0.0);
    near("line", a->line, b->line, 0.0);
    near("drop", a->drop, b->drop, 0.0);
}

static void same_trial(const slew_feed_trial *a, const slew_feed_trial *b)
{
    assert_int_equal(a->status, b->status);
    assert_int_equal(a->keeps, b->keeps);
    near("conductors", a->figures.conductors, b->figures.conductors, 0.0);
    near("joints", a->figures.joints, b->figures.joints, 0.0);
    same_state(&a->figures.idle, &b->figures.idle);
    for (int d = 0; d < SLEW_FEED_DRIVES; d++) {
        assert_int_equal(a->figures.moves[d], b->figures.moves[d]);
        same_state(&a->figures.running[d], &b->figures.running[d]);
        same_state(&a->figures.standing[d], &b->figures.standing[d]);
    }
}

/* ---- which conductors and lengths ---- */

static void has_each_conductor_once(void **state)
{
    const slew_scenario s = daily_at(20.0);
    int next = 0;
    (void)state;
    ask(&s, SLEW_LADDER_CLASS_2);
    assert_int_equal(sweep.curve[next++].index, SLEW_FEED_OWN);
    for (int k = SLEW_LADDER_AWG; k <= SLEW_LADDER_CLASS_2; k++)
        for (int i = 0; i < slew_ladder_count((slew_ladder)k); i++, next++) {
            assert_int_equal(sweep.curve[next].ladder, k);
            assert_int_equal(sweep.curve[next].index, i);
        }
    assert_int_equal(sweep.count, next);
    ask(&s, SLEW_LADDER_CLASS_5);
    assert_int_equal(sweep.curve[sweep.count - 1].ladder, SLEW_LADDER_CLASS_5);
}

static void lengths_are_around_the_own_one(void **state)
{
    slew_scenario s = daily_at(20.0);
    const slew_feed_point *point = sweep.curve[3].point;
    (void)state;
    ask(&s, SLEW_LADDER_CLASS_5);
    near("first", point[0].length, 0.0, 0.0);
    near("own", point[MIDDLE].length, s.setup.supply.feed.length, 0.0);
    near("last", point[SLEW_FEED_POINTS - 1].length, 2.0 * s.setup.supply.feed.length, 1e-14);
    for (int i = 1; i < SLEW_FEED_POINTS; i++)
        assert_true(point[i].length > point[i - 1].length);
    s.setup.supply.feed.length = 0.0;
    ask(&s, SLEW_LADDER_CLASS_5);
    near("where there is none", point[SLEW_FEED_POINTS - 1].length, 20.0, 1e-14);
}

/* ---- what is told of each ---- */

/* each setup built by hand, at each of the three temperatures */
static void points_are_what_single_feeds_are_told(void **state)
{
    const slew_scenario s = daily_at(20.0);
    (void)state;
    ask(&s, SLEW_LADDER_CLASS_2);
    for (int c = 0; c < sweep.count; c++)
        for (int i = 0; i < SLEW_FEED_POINTS; i += 5)
            for (int w = 0; w < SLEW_FEED_WEATHERS; w++) {
                const slew_feed_curve *curve = &sweep.curve[c];
                slew_setup setup = s.setup;
                if (curve->index != SLEW_FEED_OWN)
                    slew_feed_fit(&setup, curve->ladder, curve->index);
                setup.supply.feed.length = curve->point[i].length;
                setup.environment.temperature = answer.climate[w].temperature;
                const slew_feed_trial alone = slew_feed_try(&setup, answer.together);
                same_trial(&curve->point[i].trial[w], &alone);
            }
}

/* at the own length it is what the answer itself says */
static void the_middle_is_the_answer(void **state)
{
    const slew_scenario s = daily_at(20.0);
    (void)state;
    ask(&s, SLEW_LADDER_CLASS_5);
    for (int w = 0; w < SLEW_FEED_WEATHERS; w++)
        same_trial(&sweep.curve[0].point[MIDDLE].trial[w], &answer.climate[w].own);
    for (int c = 1; c < sweep.count; c++) {
        const slew_feed_curve *curve = &sweep.curve[c];
        same_trial(&curve->point[MIDDLE].trial[SLEW_FEED_AS_IT_IS],
                   &answer.ladder[curve->ladder][curve->index]);
    }
}

/* colder than the cold that is usual: both are the same day */
static void the_own_temperature_can_be_the_coldest(void **state)
{
    const slew_scenario s = daily_at(-30.0);
    const slew_feed_point *last = &sweep.curve[4].point[SLEW_FEED_POINTS - 1];
    (void)state;
    ask(&s, SLEW_LADDER_CLASS_5);
    same_trial(&last->trial[SLEW_FEED_COLD], &last->trial[SLEW_FEED_AS_IT_IS]);
    assert_true(last->trial[SLEW_FEED_HOT].figures.conductors >
                last->trial[SLEW_FEED_COLD].figures.conductors);
}

/* Where other equipment leaves no voltage at rest no state is known, but copper and joints are:
 * Ohm's law at 20 degC, where the factor of copper is 1. */
static void resistances_are_known_where_nothing_works(void **state)
{
    slew_scenario s = daily_at(20.0);
    const double joints = 8.0 * 0.0015;
    int unknown = 0;
    (void)state;
    s.setup.supply.shared_load = 30.0;
    ask(&s, SLEW_LADDER_CLASS_5);
    for (int i = 0; i < SLEW_FEED_POINTS; i++) {
        const slew_feed_point *p = &sweep.curve[1].point[i]; /* 18 AWG */
        const slew_feed_trial *t = &p->trial[SLEW_FEED_AS_IT_IS];
        const double stranding = s.setup.supply.feed.stranding;
        const double copper =
            2.0 * p->length * slew_ladder_resistance(SLEW_LADDER_AWG, 0, stranding);
        near("conductors", t->figures.conductors, copper, 1e-14);
        near("joints", t->figures.joints, joints, 1e-15);
        if (t->status != SLEW_OK) {
            assert_true(!t->keeps && t->figures.idle.voltage == 0.0);
            unknown++;
        }
    }
    assert_true(unknown > 10 && unknown < SLEW_FEED_POINTS);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(has_each_conductor_once),
        cmocka_unit_test(lengths_are_around_the_own_one),
        cmocka_unit_test(points_are_what_single_feeds_are_told),
        cmocka_unit_test(the_middle_is_the_answer),
        cmocka_unit_test(the_own_temperature_can_be_the_coldest),
        cmocka_unit_test(resistances_are_known_where_nothing_works),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
