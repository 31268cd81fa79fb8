/* machine_steps.c - a stepped machine is the run itself: however time is cut, to the last bit. */
#include "machine_steps.h"

static const char *name; /* of the example */

/* ---- The run's own way, by commands ---- */

static void check_example(const char *path, const bench *b)
{
    static const double step[] = {INFINITY, 0.5, 0.01, 0.00137};
    static story run, stepped;
    name = path;
    run_parts(&b->scenario, SLEW_STOW_AND_DEPLOY, &run);
    for (size_t i = 0; i < sizeof step / sizeof *step; i++) {
        slew_machine m;
        stow_and_deploy(b, step[i], &m, &stepped);
        same_events(&run, &stepped);
        same_end(&m, &run.result);
    }
}

static void every_example_stepped_is_the_run_itself(void **state)
{
    (void)state;
    for_every_example(check_example);
}

/* ---- Copies ---- */

static void copy_goes_its_own_way(void **state)
{
    static story first, second, third;
    slew_machine m = daily_machine();
    (void)state;
    slew_machine_stow(&m);
    first.count = 0;
    keep_until(&m, 2.345, 0.1, &first);
    assert_true(m.time == 2.345);
    slew_machine copy = m, other = m;
    second = third = first;
    keep_until(&m, INFINITY, INFINITY, &first);
    keep_until(&copy, 100.0, 0.01, &second);
    same_events(&first, &second);

    /* and is not disturbed by what is done to another one */
    slew_machine_cancel(&other);
    keep_until(&other, INFINITY, INFINITY, &third);
    assert_int_equal(other.fault, SLEW_FAULT_CANCELLED);
    assert_int_equal(m.says, SLEW_STOWED);
    assert_int_equal(copy.says, SLEW_STOWED);
}

/* ---- Looking ---- */

static void looking_changes_nothing_and_sees_the_present(void **state)
{
    static story plain, looked;
    slew_machine m = daily_machine(), twin = m;
    slew_event event;
    double last = 0.0;
    (void)state;
    plain.count = looked.count = 0;
    slew_machine_stow(&m);
    slew_machine_stow(&twin);
    keep_until(&m, 30.0, INFINITY, &plain);
    for (double t = 0.0; t <= 30.0; t += 0.0077) {
        while (slew_machine_advance(&twin, t, &event))
            keep_event(&looked, &event);
        const slew_sample now = slew_machine_look(&twin);
        const slew_meters meters = slew_machine_meters(&twin);
        assert_true(now.time == t && twin.time == t);
        assert_true(meters.charge >= last && meters.lowest_voltage <= now.voltage);
        assert_true(meters.peak_current >= now.current[0] + now.current[1]);
        last = meters.charge;
    }
    keep_until(&twin, 30.0, INFINITY, &looked);
    same_events(&plain, &looked);
    const slew_meters a = slew_machine_meters(&m), b = slew_machine_meters(&twin);
    same_meters(&a, &b);
}

/* ---- Stopping ---- */

typedef struct impatient {
    story story;
    int events, samples; /* still to be seen */
} impatient;

static void see_one_event(void *context, const slew_event *event)
{
    impatient *i = context;
    i->events--;
    keep_event(&i->story, event);
}

static void see_one_sample(void *context, const slew_sample *sample)
{
    (void)sample;
    ((impatient *)context)->samples--;
}

static bool has_seen_enough(void *context)
{
    const impatient *i = context;
    return i->events == 0 || i->samples == 0;
}

static void observer_stops_a_run_where_it_likes(void **state)
{
    static story whole;
    static impatient i;
    const slew_scenario s = daily_scenario();
    slew_observer o = {.event = see_one_event, .context = &i, .stop = has_seen_enough};
    slew_error error;
    (void)state;
    run_parts(&s, SLEW_STOW_AND_DEPLOY, &whole);
    for (int n = 1; n <= whole.count; n++) {
        i = (impatient){.events = n, .samples = -1};
        assert_int_equal(slew_run(&s, SLEW_STOW_AND_DEPLOY, &o, &i.story.result, &error),
                         SLEW_ERROR_STOPPED);
        assert_int_equal(error.status, SLEW_ERROR_STOPPED);
        assert_int_equal(i.story.count, n);
        assert_true(i.story.event[n - 1].time == whole.event[n - 1].time);
        assert_true(i.story.result.end == whole.event[n - 1].time);
    }
    o.sample = see_one_sample;
    o.interval = 0.01;
    i = (impatient){.events = -1, .samples = 100};
    assert_int_equal(slew_run(&s, SLEW_STOW_AND_DEPLOY, &o, &i.story.result, &error),
                     SLEW_ERROR_STOPPED);
    assert_int_equal(i.samples, 0);
    assert_int_equal(i.story.result.stow.says, SLEW_NOT_RUN);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_example_stepped_is_the_run_itself),
        cmocka_unit_test(copy_goes_its_own_way),
        cmocka_unit_test(looking_changes_nothing_and_sees_the_present),
        cmocka_unit_test(observer_stops_a_run_where_it_likes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
