/*
 * offset_finer.c - finer deploy seconds against every time of a grid tried one by one.
 */
#include "offset_ask.h"

enum { SAMPLES = 256 };

/* truck, day and deploy day; choices 1.5 s apart */
static slew_scenario coarse_scenario(void)
{
    slew_scenario s = daily_scenario();
    vary(&s.truck, "elevation.motor.no_load_speed", normal(rpm(3200), rpm(60)));
    vary(&s.day, VOLTAGE, uniform(11.8, 14.2));
    vary(&s.day, "environment.temperature", uniform(celsius(0), celsius(30)));
    aim(&s, E, 34, 46);
    offer(&s, E, 6, 1.5, 1.5);
    return s;
}

static void finer_of(const slew_scenario *s, const slew_sampling *how, slew_finer *out)
{
    slew_offset offset = offset_of(s, how);
    assert_int_equal(slew_finer_run(s, how, &offset, out, NULL), SLEW_OK);
    const slew_offset_choice *best = &offset.choice[offset.best];
    double before = best->inside.value;
    for (int k = 0; k < SLEW_FINER_COUNT; k++) {
        double inside = inside_in(*s, how, out->at[k].seconds);
        assert_true(inside >= before);
        before = inside;
    }
    slew_offset_free(&offset);
}

/* the greatest share inside over `count` elevation seconds */
static double best_of_grid(slew_scenario s, const slew_sampling *how, int count, double from,
                           double step)
{
    offer(&s, E, count, from, step);
    slew_offset offset = offset_of(&s, how);
    double most = most_inside(&offset);
    slew_offset_free(&offset);
    return most;
}

/* of the same samples, so to the sample; any time is rounded to 0.01 s, on which one may depend */
static void as_good_as_any_time_tried_one_by_one(void **state)
{
    const slew_scenario s = coarse_scenario();
    const slew_sampling how = samples(SAMPLES);
    slew_finer finer;
    (void)state;
    finer_of(&s, &how, &finer);
    double half = best_of_grid(s, &how, 5, 6, 0.75), tenth = best_of_grid(s, &how, 21, 6, 0.15);
    double any = fmax(best_of_grid(s, &how, 32, 6.9, 0.01), best_of_grid(s, &how, 32, 7.21, 0.01));
    double share[SLEW_FINER_COUNT];
    for (int k = 0; k < SLEW_FINER_COUNT; k++)
        share[k] = inside_in(s, &how, finer.at[k].seconds);
    print_message("half %.4f, tenth %.4f, any %.4f (%.2f s)\n", share[0], share[1], share[2],
                  finer.at[2].seconds[E]);
    near("step", finer.step[E], 1.5, 1e-12);
    near("no step", finer.step[R], 0, 0);
    near("half", share[SLEW_FINER_HALF], half, 1e-12);
    near("tenth", share[SLEW_FINER_TENTH], tenth, 1e-12);
    near("any", share[SLEW_FINER_ANY], any, 1.0 / SAMPLES + 1e-12);
    assert_true(any > half);
}

/* 0.4 deg are passed in 0.05 s */
static void any_time_is_found_to_a_hundredth(void **state)
{
    slew_scenario s = coarse_scenario();
    const slew_sampling how = samples(64);
    slew_finer finer;
    (void)state;
    s.truck.count = 0;
    s.day.count = 0;
    vary(&s.day, VOLTAGE, uniform(13.39, 13.41));
    aim(&s, E, 41.2, 41.6);
    finer_of(&s, &how, &finer);
    double seconds = finer.at[SLEW_FINER_ANY].seconds[E];
    near("inside", finer.at[SLEW_FINER_ANY].inside.value, 1, 0);
    near("hundredths", 100 * seconds, round(100 * seconds), 1e-9);
    assert_true(fabs(10 * seconds - round(10 * seconds)) > 0.2);
}

static void what_is_told_of_it_comes_from_fresh_samples(void **state)
{
    slew_scenario s = coarse_scenario();
    const slew_sampling how = samples(SAMPLES);
    slew_finer finer;
    (void)state;
    finer_of(&s, &how, &finer);
    offer(&s, E, 1, finer.at[SLEW_FINER_ANY].seconds[E], 0);
    offer(&s, R, 1, finer.at[SLEW_FINER_ANY].seconds[R], 0);
    const slew_sampling fresh = slew_sampling_fresh(&how);
    slew_offset offset = offset_of(&s, &fresh);
    assert_memory_equal(&offset.choice[0], &finer.at[SLEW_FINER_ANY], sizeof offset.choice[0]);
    slew_offset_free(&offset);
}

/* both axes, far from every choice: the seconds needed do it */
static void seconds_needed_land_it(void **state)
{
    slew_scenario s = coarse_scenario();
    const slew_sampling how = samples(64);
    slew_finer finer;
    (void)state;
    aim(&s, E, 60, 89);
    aim(&s, R, -40, -20);
    finer_of(&s, &how, &finer);
    offer(&s, E, 1, finer.needed[E], 0);
    offer(&s, R, 1, finer.needed[R], 0);
    slew_offset offset = offset_of(&s, &how);
    near("inside", offset.choice[0].inside.value, 1, 1.0 / 64);
    near("reachable", finer.reachable[R].value, 1, 0);
    for (int j = 0; j < SLEW_AXES; j++) {
        double seconds = finer.at[SLEW_FINER_ANY].seconds[j];
        near("hundredths", 100 * seconds, round(100 * seconds), 1e-9);
    }
    assert_true(finer.needed[R] < 0 && finer.needed[E] > 9);
    slew_offset_free(&offset);
}

static void reversed_motor_needs_the_other_sign(void **state)
{
    slew_scenario s = coarse_scenario();
    const slew_sampling how = samples(64);
    slew_finer finer;
    (void)state;
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, "elevation.reversed", 1);
    finer_of(&s, &how, &finer);
    assert_true(finer.needed[E] < -6);
    assert_true(finer.at[SLEW_FINER_ANY].inside.value > 0.5);
}

static void blocked_axis_has_no_seconds(void **state)
{
    slew_scenario s = coarse_scenario();
    const slew_sampling how = samples(64);
    slew_finer finer;
    (void)state;
    set_key(&s, SLEW_LAYER_DEPLOY_DAY, "elevation.load.friction", 600);
    finer_of(&s, &how, &finer);
    assert_true(isnan(finer.needed[E]));
    near("reachable", finer.reachable[E].value, 0, 0);
    near("inside", finer.at[SLEW_FINER_ANY].inside.value, 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(as_good_as_any_time_tried_one_by_one),
        cmocka_unit_test(any_time_is_found_to_a_hundredth),
        cmocka_unit_test(what_is_told_of_it_comes_from_fresh_samples),
        cmocka_unit_test(seconds_needed_land_it),
        cmocka_unit_test(reversed_motor_needs_the_other_sign),
        cmocka_unit_test(blocked_axis_has_no_seconds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
