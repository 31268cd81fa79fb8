/*
 * offset_seconds.c - finer seconds where it is not plain which are best: steps, both axes at once,
 * a stop, an axis that is blocked; never worse than what is coarser.
 */
#include "offset_ask.h"

enum { SAMPLES = 256 };

/* voltage and temperature vary; 6, 7.5 and 9 s of elevation */
static slew_scenario varied_scenario(void)
{
    slew_scenario s = daily_scenario();
    vary(&s.day, VOLTAGE, uniform(11, 15));
    vary(&s.day, "environment.temperature", uniform(celsius(0), celsius(30)));
    offer(&s, E, 3, 6, 1.5);
    return s;
}

static slew_finer finer_of(const slew_scenario *s)
{
    const slew_sampling how = samples(SAMPLES);
    slew_offset offset = offset_of(s, &how);
    slew_finer finer;
    assert_int_equal(slew_finer_run(s, &how, &offset, &finer, NULL), SLEW_OK);
    slew_offset_free(&offset);
    return finer;
}

/* how often `count` choices of each axis, from `first` in steps, are inside at best */
static double brute_force(slew_scenario s, const int count[2], const double first[2],
                          const double step[2])
{
    const slew_sampling how = samples(SAMPLES);
    for (int j = 0; j < SLEW_AXES; j++)
        offer(&s, j, count[j], first[j], step[j]);
    slew_offset offset = offset_of(&s, &how);
    double best = offset.choice[offset.best].inside.value;
    slew_offset_free(&offset);
    return best;
}

static double share_at(const slew_scenario *s, const double seconds[2])
{
    const int once[2] = {1, 1};
    const double no_step[2] = {0, 0};
    return brute_force(*s, once, seconds, no_step);
}

/* 0 s are as good for the rotation as any time, though not in the middle of what it may have */
static void seconds_that_do_are_kept(void **state)
{
    slew_scenario s = varied_scenario();
    (void)state;
    aim(&s, R, -3, 9);
    slew_finer f = finer_of(&s);
    near("rotation stays", f.at[SLEW_FINER_ANY].seconds[R], 0, 0);
    near("alone too", f.needed[R], 0, 0);
    assert_true(f.at[SLEW_FINER_ANY].seconds[E] != 7.5);
}

/* two samples may lie within a millisecond of the end of their stretch */
static void steps_are_those_of_brute_force(void **state)
{
    const int halves[2] = {1, 5}, tenths[2] = {1, 21};
    const double first[2] = {0, 6}, half[2] = {0, 0.75}, tenth[2] = {0, 0.15};
    slew_scenario s = varied_scenario();
    (void)state;
    aim(&s, E, 33, 39);
    slew_finer f = finer_of(&s);
    const slew_offset_choice *h = &f.at[SLEW_FINER_HALF], *t = &f.at[SLEW_FINER_TENTH];
    near("present step", f.step[E], 1.5, 0);
    near("no step", f.step[R], 0, 0);
    near("on the grid", remainder(h->seconds[E] - 6, 0.75), 0, 1e-9);
    near("on the grid", remainder(t->seconds[E] - 6, 0.15), 0, 1e-9);
    near("half", h->inside.value, brute_force(s, halves, first, half), 2.0 / SAMPLES);
    near("tenth", t->inside.value, brute_force(s, tenths, first, tenth), 2.0 / SAMPLES);
    near("half", h->inside.value, share_at(&s, h->seconds), 0);
    assert_true(t->inside.value > h->inside.value);
}

/* both axes at once, which meet in the supply; a grid of 8 by 8 about the best pair and the rounded
 * seconds as above */
static void both_axes_together(void **state)
{
    const int count[2] = {8, 8};
    slew_scenario s = varied_scenario();
    (void)state;
    s.deploy.order = SLEW_TOGETHER;
    aim(&s, R, 20, 28);
    aim(&s, E, 33, 45);
    s.deploy.choice_count[R] = 2;
    s.deploy.choices[R][1] = 4.0;
    slew_finer f = finer_of(&s);
    const slew_offset_choice *any = &f.at[SLEW_FINER_ANY];
    const double first[2] = {any->seconds[R] - 0.35, any->seconds[E] - 0.35}, step[2] = {0.1, 0.1};
    double best = brute_force(s, count, first, step);
    print_message("together: %.2f s and %.2f s inside in %.4f, grid %.4f\n", any->seconds[R],
                  any->seconds[E], any->inside.value, best);
    assert_true(any->inside.value >= best - 0.01);
    assert_true(any->inside.value > 0.5);
    near("told is simulated", any->inside.value, share_at(&s, any->seconds), 0);
}

/* on a thin line the rotation, once it is driven too, slows the elevation down */
static void other_seconds_of_one_change_those_of_the_other(void **state)
{
    const int count[2] = {1, 41};
    slew_scenario s = varied_scenario();
    (void)state;
    s.deploy.order = SLEW_TOGETHER;
    s.setup.supply.feed.length = 25;
    aim(&s, R, 15, 35);
    aim(&s, E, 33, 39);
    slew_finer f = finer_of(&s);
    const slew_offset_choice *any = &f.at[SLEW_FINER_ANY];
    const double first[2] = {any->seconds[R], any->seconds[E] - 1}, step[2] = {0, 0.05};
    double best = brute_force(s, count, first, step);
    print_message("thin line: %.2f s inside in %.4f, grid %.4f\n", any->seconds[E],
                  any->inside.value, best);
    assert_true(any->seconds[R] > 2.0); /* the choices leave it at 0 s */
    assert_true(any->inside.value >= best - 0.01);
}

/* up to the hard stop, beyond which the controller faults: there the drive has to end in time */
static void a_target_that_ends_on_a_stop(void **state)
{
    slew_scenario s = varied_scenario();
    (void)state;
    s.setup.axis[E].stops.high = degrees(50);
    aim(&s, E, 30, 50);
    slew_finer f = finer_of(&s);
    slew_scenario without = varied_scenario();
    slew_finer g = finer_of(&without);
    /* resting on the stop is inside, unless the stall is noticed */
    assert_true(f.at[SLEW_FINER_ANY].inside.value >= g.at[SLEW_FINER_ANY].inside.value);
    assert_true(f.at[SLEW_FINER_ANY].seconds[E] >= g.at[SLEW_FINER_ANY].seconds[E]);
}

static void an_axis_that_can_not_get_there(void **state)
{
    slew_scenario s = varied_scenario();
    (void)state;
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, "elevation.load.friction", 900.0);
    slew_finer f = finer_of(&s);
    assert_true(isnan(f.needed[E]));
    near("reachable", f.reachable[E].value, 0, 0);
    near("inside", f.at[SLEW_FINER_ANY].inside.value, 0, 0);
    near("the other axis", f.reachable[R].value, 0, 0); /* the elevation, first, ends the deploy */
}

static void finer_is_never_worse(void **state)
{
    slew_scenario s = varied_scenario();
    (void)state;
    for (double width = 4; width < 20; width += 5) {
        aim(&s, E, 41 - width / 2, 41 + width / 2);
        const slew_sampling how = samples(SAMPLES);
        slew_offset offset = offset_of(&s, &how);
        slew_finer f = finer_of(&s);
        double before = offset.choice[offset.best].inside.value;
        for (int k = 0; k < SLEW_FINER_COUNT; k++) {
            assert_true(f.at[k].inside.value >= before);
            before = f.at[k].inside.value;
        }
        slew_offset_free(&offset);
    }
}

static bool stop_at_once(void *context, int64_t done)
{
    (void)context;
    (void)done;
    return false;
}

static void it_can_be_stopped(void **state)
{
    const slew_scenario s = varied_scenario();
    slew_sampling how = samples(SAMPLES);
    slew_offset offset = offset_of(&s, &how);
    slew_finer finer;
    (void)state;
    how.progress = stop_at_once;
    how.threads = 1;
    assert_int_equal(slew_finer_run(&s, &how, &offset, &finer, NULL), SLEW_ERROR_STOPPED);
    slew_offset_free(&offset);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(seconds_that_do_are_kept),
        cmocka_unit_test(steps_are_those_of_brute_force),
        cmocka_unit_test(both_axes_together),
        cmocka_unit_test(other_seconds_of_one_change_those_of_the_other),
        cmocka_unit_test(a_target_that_ends_on_a_stop),
        cmocka_unit_test(an_axis_that_can_not_get_there),
        cmocka_unit_test(finer_is_never_worse),
        cmocka_unit_test(it_can_be_stopped),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
