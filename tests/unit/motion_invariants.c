/* motion_invariants.c - what must hold whatever the numbers: symmetry, sameness, order. */
#include "../support.h"

static const int R = SLEW_ROTATION, E = SLEW_ELEVATION;

/* ---- Mirror ---- */

static slew_range mirrored_range(slew_range range)
{
    return (slew_range){-range.high, -range.low};
}

static slew_approach mirrored_approach(slew_approach approach)
{
    return approach == SLEW_APPROACH_RISING    ? SLEW_APPROACH_FALLING
           : approach == SLEW_APPROACH_FALLING ? SLEW_APPROACH_RISING
                                               : SLEW_APPROACH_EITHER;
}

/* left becomes right */
static slew_scenario mirrored(const slew_scenario *scenario)
{
    slew_scenario s = *scenario;
    slew_axis_setup *axis = &s.setup.axis[R];
    axis->start = -axis->start;
    axis->stops = mirrored_range(axis->stops);
    axis->home.angle = -axis->home.angle;
    axis->load.reaction_arm = -axis->load.reaction_arm;
    axis->search = -axis->search;
    axis->approach = mirrored_approach(axis->approach);
    s.setup.environment.tilt_direction = -s.setup.environment.tilt_direction;
    s.stow.point[R] = -s.stow.point[R];
    s.deploy.seconds[R] = -s.deploy.seconds[R];
    s.deploy.target[R] = mirrored_range(s.deploy.target[R]);
    for (int i = 0; i < s.keepout.count; i++)
        s.keepout.box[i].axis[R] = mirrored_range(s.keepout.box[i].axis[R]);
    return s;
}

/* Every number of the equations only changes its sign, or not: the two runs may differ by the
 * rounding of sines and of a bound taken from the other end, 1e-12 rad and s. */
static void mirrored_event(const slew_event *a, const slew_event *b)
{
    slew_event c = *b;
    if (c.axis == R)
        c.direction = -c.direction;
    if (!same_sort(a, &c))
        fail_msg("%s at %.9f s against %s", slew_event_word(a->kind), a->time,
                 slew_event_word(b->kind));
    near("time", b->time, a->time, 1e-12);
    near("rotation", b->angle[R], -a->angle[R], 1e-12);
    near("elevation", b->angle[E], a->angle[E], 1e-12);
    near("voltage", b->voltage, a->voltage, 1e-10);
    near("energy", b->energy, a->energy, 1e-12);
}

static void runs_mirrored(const slew_scenario *scenario)
{
    static story left, right;
    const slew_scenario other = mirrored(scenario);
    run_parts(scenario, SLEW_STOW_AND_DEPLOY, &left);
    run_parts(&other, SLEW_STOW_AND_DEPLOY, &right);
    assert_in_range(left.count, 20, STORY_MAX);
    assert_int_equal(left.count, right.count);
    for (int i = 0; i < left.count; i++)
        mirrored_event(&left.event[i], &right.event[i]);
    near("stored", right.result.stored[R], -left.result.stored[R], 1e-12);
    near("charge", right.result.charge, left.result.charge, 1e-9);
    near("end", right.result.end, left.result.end, 1e-12);
}

static void turning_left_is_turning_right_in_a_mirror(void **state)
{
    slew_scenario s = daily_scenario();
    (void)state;
    s.stow.point[R] = degrees(12.0);
    s.deploy.seconds[R] = 1.5;
    s.keepout.count = 1;
    s.keepout.box[0].axis[R] = (slew_range){degrees(3.0), degrees(9.0)};
    s.keepout.box[0].axis[E] = (slew_range){-INFINITY, INFINITY};
    runs_mirrored(&s);

    s.setup.environment.tilt = degrees(15.0);
    s.setup.environment.tilt_direction = degrees(70.0);
    s.setup.nozzle.flowing = true;
    runs_mirrored(&s);

    s.setup.controller.stop = SLEW_COAST;
    s.deploy.order = SLEW_TOGETHER;
    runs_mirrored(&s);

    s.setup.axis[R].home.present = false;
    s.stow.has_times = true;
    runs_mirrored(&s);
}

/* ---- Sameness ---- */

static slew_scenario busy_scenario(void)
{
    slew_scenario s = daily_scenario();
    s.setup.environment.tilt = degrees(10.0);
    s.setup.environment.tilt_direction = degrees(30.0);
    s.setup.nozzle.flowing = true;
    s.setup.supply.auxiliary_fitted = true;
    s.stow.point[R] = degrees(12.0);
    s.stow.order = SLEW_TOGETHER;
    s.deploy.seconds[R] = -2.5;
    s.deploy.order = SLEW_TOGETHER;
    return s;
}

static void same_part(const slew_part *a, const slew_part *b)
{
    assert_true(a->says == b->says && a->fault == b->fault && a->axis == b->axis);
    assert_true(a->holds == b->holds && a->on_target == b->on_target);
    assert_memory_equal(a->angle, b->angle, sizeof a->angle);
    assert_true(a->duration == b->duration || (isnan(a->duration) && isnan(b->duration)));
}

static void same_story(const story *a, const story *b)
{
    assert_int_equal(a->count, b->count);
    for (int i = 0; i < a->count; i++) {
        const slew_event *x = &a->event[i], *y = &b->event[i];
        assert_true(same_sort(x, y));
        assert_true(x->time == y->time && x->voltage == y->voltage && x->current == y->current);
        assert_memory_equal(x->angle, y->angle, sizeof x->angle);
    }
}

static void same_result(const slew_result *a, const slew_result *b)
{
    same_part(&a->stow, &b->stow);
    same_part(&a->deploy, &b->deploy);
    assert_memory_equal(a->stored, b->stored, sizeof a->stored);
    assert_true(a->end == b->end && a->below_floor == b->below_floor);
}

static void same_meters(const slew_result *a, const slew_result *b)
{
    assert_true(a->charge == b->charge && a->peak_current == b->peak_current);
    assert_true(a->lowest_voltage == b->lowest_voltage);
    assert_true(a->lowest_loaded_voltage == b->lowest_loaded_voltage);
}

static void same_scenario_gives_the_same_bits(void **state)
{
    static story first, second;
    const slew_scenario s = busy_scenario();
    (void)state;
    run_parts(&s, SLEW_STOW_AND_DEPLOY, &first);
    run_parts(&s, SLEW_STOW_AND_DEPLOY, &second);
    same_story(&first, &second);
    same_result(&first.result, &second.result);
    same_meters(&first.result, &second.result);
}

typedef struct sampled {
    story story;
    int64_t count, on_grid;
    double interval, last, largest_gap;
} sampled;

static void keep_sampled_event(void *context, const slew_event *event)
{
    keep_event(&((sampled *)context)->story, event);
}

static void count_sample(void *context, const slew_sample *sample)
{
    sampled *s = context;
    const double line = s->interval * (double)s->on_grid;
    assert_true(sample->time >= s->last);
    s->largest_gap = fmax(s->largest_gap, sample->time - s->last);
    s->last = sample->time;
    s->count++;
    if (sample->time == line)
        s->on_grid++;
}

/* by no observer, one of events, and samples on several grids */
static void same_whoever_watches(const slew_scenario *s)
{
    static const double interval[] = {0.5, 0.01, 0.00137};
    static story plain;
    static sampled traced;
    slew_result alone;

    run_parts(s, SLEW_STOW_AND_DEPLOY, &plain);
    assert_int_equal(slew_run(s, SLEW_STOW_AND_DEPLOY, NULL, &alone, NULL), SLEW_OK);
    same_result(&plain.result, &alone);
    same_meters(&plain.result, &alone);
    for (size_t i = 0; i < sizeof interval / sizeof *interval; i++) {
        memset(&traced, 0, sizeof traced);
        traced.interval = interval[i];
        const slew_observer observer = {.event = keep_sampled_event,
                                        .sample = count_sample,
                                        .interval = interval[i],
                                        .context = &traced};
        slew_result *result = &traced.story.result;
        assert_int_equal(slew_run(s, SLEW_STOW_AND_DEPLOY, &observer, result, NULL), SLEW_OK);
        same_story(&plain, &traced.story);
        same_result(&plain.result, result);
        same_meters(&plain.result, result);
        assert_true(traced.largest_gap <= interval[i] * (1.0 + 1e-9));
        near("grid", (double)traced.on_grid, floor(result->end / interval[i]) + 1.0, 1.0);
    }
}

static void sampling_changes_nothing(void **state)
{
    const slew_scenario s = busy_scenario();
    (void)state;
    same_whoever_watches(&s);
}

typedef struct lowest {
    double voltage, since; /* [V]; of the drive [s] */
} lowest;

/* of voltages longer than the blank time after a drive-on, one axis at a time */
static void see_lowest(void *context, const slew_sample *sample)
{
    lowest *l = context;
    if (!sample->drive[R] && !sample->drive[E])
        l->since = sample->time;
    else if (sample->time > l->since + 0.2)
        l->voltage = fmin(l->voltage, sample->voltage);
}

/* The current turns twice between two nodes of a step, 0.3 s after a start: only who sampled there
 * saw the 4.6e-6 V. What a fine grid sees of an extreme is within its curvature, 1e-9 V. */
static void what_nobody_samples_is_found_all_the_same(void **state)
{
    static slew_scenario s;
    slew_result alone, seen;
    lowest l = {.voltage = INFINITY};
    const slew_observer observer = {.sample = see_lowest, .interval = 0.00037, .context = &l};
    (void)state;
    assert_int_equal(slew_scenario_read_file("examples/approach-either-right.yaml", NULL, &s),
                     SLEW_OK);
    set_key(&s, SLEW_LAYER_FILE, "rotation.reversed", 1.0);
    set_key(&s, SLEW_LAYER_FILE, "rotation.load.friction", 3.04122);
    set_key(&s, SLEW_LAYER_FILE, "elevation.motor.stall_current", 54.5508);
    set_key(&s, SLEW_LAYER_FILE, "supply.auxiliary.fitted", 1.0);
    same_whoever_watches(&s);
    assert_int_equal(slew_run(&s, SLEW_STOW_AND_DEPLOY, NULL, &alone, NULL), SLEW_OK);
    assert_int_equal(slew_run(&s, SLEW_STOW_AND_DEPLOY, &observer, &seen, NULL), SLEW_OK);
    same_result(&alone, &seen);
    same_meters(&alone, &seen);
    near("lowest under load", alone.lowest_loaded_voltage, l.voltage, 1e-9);
}

static void prepared_scenario_runs_any_number_of_times(void **state)
{
    static story whole;
    const slew_scenario s = busy_scenario();
    slew_prepared prepared;
    slew_result again;
    (void)state;
    run_parts(&s, SLEW_STOW_AND_DEPLOY, &whole);
    assert_int_equal(slew_prepare(&s, SLEW_STOW_AND_DEPLOY, &prepared, NULL), SLEW_OK);
    for (int i = 0; i < 3; i++) {
        slew_run_prepared(&s, &prepared, SLEW_STOW_AND_DEPLOY, NULL, &again);
        same_result(&whole.result, &again);
    }
}

/* ---- Order ---- */

/* how far a drive of 2 s takes elevation [rad] */
static double climb(slew_scenario s)
{
    slew_result result;
    s.deploy.seconds[E] = 2.0;
    assert_int_equal(slew_run(&s, SLEW_DEPLOY_ONLY, NULL, &result, NULL), SLEW_OK);
    assert_int_equal(result.deploy.says, SLEW_DEPLOYED);
    return result.deploy.angle[E] - s.setup.axis[E].start;
}

static void expect_order(const char *what, double less, double more)
{
    if (!(more > less + degrees(0.01)))
        fail_msg("%s: %.6f deg is not beyond %.6f deg", what, more / degrees(1.0),
                 less / degrees(1.0));
}

static void more_help_goes_further(void **state)
{
    slew_scenario s = daily_scenario();
    const double as_it_is = climb(s);
    (void)state;

    double last = 0.0;
    for (double voltage = 10.5; voltage < 15.0; voltage += 0.5) {
        s.setup.supply.main.voltage = voltage;
        const double now = climb(s);
        expect_order("voltage", last, now);
        last = now;
    }
    s = daily_scenario(), s.setup.supply.feed.length *= 2.0;
    expect_order("shorter feed", climb(s), as_it_is);
    s = daily_scenario(), s.setup.axis[E].load.mass += 4.0;
    expect_order("less weight", climb(s), as_it_is);
    s = daily_scenario(), s.setup.axis[E].load.friction += 10.0;
    expect_order("less friction", climb(s), as_it_is);
    s = daily_scenario(), s.setup.axis[E].gear.efficiency -= 0.05;
    expect_order("better gear", climb(s), as_it_is);
    s = daily_scenario(), s.setup.environment.temperature = celsius(-10.0);
    expect_order("warmer grease", climb(s), as_it_is);
    s = daily_scenario(), s.setup.nozzle.flowing = true;
    expect_order("no reaction above the pivot", climb(s), as_it_is);
    const double flowing = climb(s);
    s.setup.axis[E].load.water_mass = 0.0;
    expect_order("no water in the barrel", flowing, climb(s));
    s = daily_scenario(), s.setup.controller.stop = SLEW_COAST;
    expect_order("coasting", as_it_is, climb(s));
}

/* with both axes driven each has less of the line */
static void together_each_goes_less_far(void **state)
{
    slew_scenario s = daily_scenario();
    slew_result one, both;
    (void)state;
    s.deploy.seconds[R] = s.deploy.seconds[E] = 2.0;
    assert_int_equal(slew_run(&s, SLEW_DEPLOY_ONLY, NULL, &one, NULL), SLEW_OK);
    s.deploy.order = SLEW_TOGETHER;
    assert_int_equal(slew_run(&s, SLEW_DEPLOY_ONLY, NULL, &both, NULL), SLEW_OK);
    expect_order("rotation", both.deploy.angle[R], one.deploy.angle[R]);
    expect_order("elevation", both.deploy.angle[E], one.deploy.angle[E]);
    assert_true(both.peak_current > one.peak_current && both.end < one.end);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(turning_left_is_turning_right_in_a_mirror),
        cmocka_unit_test(same_scenario_gives_the_same_bits),
        cmocka_unit_test(sampling_changes_nothing),
        cmocka_unit_test(what_nobody_samples_is_found_all_the_same),
        cmocka_unit_test(prepared_scenario_runs_any_number_of_times),
        cmocka_unit_test(more_help_goes_further),
        cmocka_unit_test(together_each_goes_less_far),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
