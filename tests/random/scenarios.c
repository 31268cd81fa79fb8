/*
 * scenarios.c - random scenarios run: figures are numbers, events come in an order in which they
 * can happen, and nothing changes by who watches.
 *
 * A few thousand in `make check`, 100 000 in `make check-random`. SLEW_RANDOM_FIRST and
 * SLEW_RANDOM_N say which: N valid ones from scenario number FIRST on. A scenario that fails is
 * told by its number and as a file.
 */
#include "order.h"
#include "random.h"

#include "../unit/machine_steps.h"

#include "motion/stowed.h"

enum { EVENTS_MAX = 2000, PORTIONS = 100, QUICK = 2000 };

static bench b;

static double share_of(uint32_t dimension)
{
    return slew_random_unit(7, random_number, dimension);
}

/* ---- who watches ---- */

typedef struct watched {
    story story;
    double last;
} watched;

static void keep_watched(void *context, const slew_event *event)
{
    keep_event(&((watched *)context)->story, event);
}

static void check_sample(void *context, const slew_sample *s)
{
    watched *w = context;
    assert_true(s->time >= w->last);
    w->last = s->time;
    for (int j = 0; j < SLEW_AXES; j++)
        assert_true(isfinite(s->angle[j] + s->speed[j] + s->current[j] + s->voltage));
}

static void same_without_anybody(const story *run)
{
    slew_result alone;
    assert_int_equal(
        slew_run_prepared(&b.scenario, &b.prepared, SLEW_STOW_AND_DEPLOY, NULL, &alone), SLEW_OK);
    same_result(&run->result, &alone);
}

static void same_with_samples(const story *run)
{
    static watched w;
    w.last = 0;
    w.story.count = 0;
    const double interval = run->result.end / (1 + PORTIONS * share_of(0));
    const slew_observer o = {.event = keep_watched,
                             .sample = check_sample,
                             .interval = fmax(interval, SLEW_LEAST_INTERVAL),
                             .context = &w};
    assert_int_equal(
        slew_run_prepared(&b.scenario, &b.prepared, SLEW_STOW_AND_DEPLOY, &o, &w.story.result),
        SLEW_OK);
    same_events(run, &w.story);
    same_result(&run->result, &w.story.result);
}

/* A brownout between stow and deploy is a fault of the run, which lets the deploy follow; a machine
 * between two tasks has none. */
static bool fails_in_between(const story *run)
{
    const slew_event *done = seek(run, SLEW_EVENT_DONE, ANY_AXIS, 0);
    bool fails = done != NULL && run->result.deploy.fault == SLEW_FAULT_UNDERVOLTAGE;
    for (const slew_event *e = done; fails && e < run->event + run->count; e++)
        fails = e->kind != SLEW_EVENT_DRIVE_ON;
    return fails;
}

static void same_step_by_step(const story *run)
{
    static story stepped;
    static slew_machine m;
    if (fails_in_between(run))
        return;
    stow_and_deploy(&b, run->result.end / (1 + PORTIONS * share_of(1)), &m, &stepped);
    same_events(run, &stepped);
    same_end(&m, &run->result);
}

static void same_after_a_common_stow(const story *run)
{
    static slew_stowed stowed;
    static slew_deploys deploys;
    const double *seconds = b.scenario.deploy.seconds;
    const double other[SLEW_AXES] = {0.7 * seconds[R], 0.3 * seconds[E]};
    slew_result result;
    if (!b.scenario.deploy.given)
        return;
    slew_stowed_run(&b.scenario, &b.prepared, &stowed);
    slew_deploys_begin(&b.scenario, &b.prepared, &stowed, &deploys);
    slew_deploys_run(&deploys, other, &result);
    slew_deploys_run(&deploys, seconds, &result);
    same_result(&run->result, &result);
}

/* ---- one scenario ---- */

typedef struct tally {
    int drawn, unsound, refused, gave_up, run;
    int most_events, most_pieces;
} tally;

static bool is_sound(const slew_scenario *s)
{
    const slew_error_sink quiet = {NULL, NULL};
    return slew_scenario_check(s, quiet, quiet) == SLEW_OK;
}

/* pieces within a second, as far as they are seen between two events */
static void count_pieces(tally *t)
{
    slew_machine m = machine_of(&b);
    slew_event event;
    slew_machine_stow(&m);
    while (slew_machine_advance(&m, INFINITY, &event))
        t->most_pieces = m.plant.crowd > t->most_pieces ? m.plant.crowd : t->most_pieces;
}

static void check_run(tally *t)
{
    static story run;
    const slew_observer o = {.event = keep_event, .context = &run};
    run.count = 0;
    run.status = slew_run_prepared(&b.scenario, &b.prepared, SLEW_STOW_AND_DEPLOY, &o, &run.result);
    if (run.status == SLEW_ERROR_PIECES) {
        t->gave_up++;
        return;
    }
    assert_int_equal(run.status, SLEW_OK);
    assert_in_range(run.count, 0, EVENTS_MAX);
    t->most_events = run.count > t->most_events ? run.count : t->most_events;
    random_check_order(&b.scenario, &b.prepared, &run);
    random_check_result(&b.scenario, &b.prepared, &run);
    same_without_anybody(&run);
    same_with_samples(&run);
    same_step_by_step(&run);
    same_after_a_common_stow(&run);
    count_pieces(t);
    t->run++;
}

/* a refusal says why */
static bool is_refused(tally *t)
{
    slew_error error = {.status = SLEW_OK};
    const slew_status status = slew_prepare(&b.scenario, SLEW_STOW_AND_DEPLOY, &b.prepared, &error);
    if (status == SLEW_OK)
        return false;
    assert_int_equal(error.status, status);
    assert_true(error.key[0] != '\0' && error.message[0] != '\0');
    t->gave_up += status == SLEW_ERROR_PIECES;
    t->refused += status != SLEW_ERROR_PIECES;
    return true;
}

static void check_scenario(tally *t)
{
    random_begin(&b.scenario);
    t->drawn++;
    if (!is_sound(&b.scenario))
        t->unsound++;
    else if (!is_refused(t))
        check_run(t);
    random_end();
}

/* ---- as a file ---- */

static void same_values(const slew_scenario *drawn, const slew_scenario *read)
{
    for (int key = 0; key < slew_key_count(); key++) {
        const double x = slew_scenario_get_number(drawn, key),
                     y = slew_scenario_get_number(read, key);
        const bool same = x == y || (isnan(x) && isnan(y));
        if (!same && !(fabs(x - y) <= 1e-14 * fabs(x)))
            fail_msg("%s: %.17g, read %.17g", slew_key_at(key)->path, x, y);
    }
    for (slew_layer_id id = SLEW_LAYER_TEACH; id <= SLEW_LAYER_DEPLOY_DAY; id++)
        assert_int_equal(slew_layer_at(drawn, id)->count, slew_layer_at(read, id)->count);
    assert_int_equal(drawn->keepout.count, read->keepout.count);
}

/* what is told of a failure can be read again: to the rounding of its units */
static void scenario_is_written_as_it_is(void **state)
{
    int written = 0;
    (void)state;
    for (random_number = 0; written < 50; random_number++) {
        static slew_scenario read;
        char *text;
        size_t length;
        random_begin(&b.scenario);
        if (!random_is_mild(random_number) || !is_sound(&b.scenario))
            continue;
        FILE *out = open_memstream(&text, &length);
        assert_non_null(out);
        random_write(out, &b.scenario);
        fclose(out);
        assert_int_equal(slew_scenario_read_memory(text, length, "drawn", NULL, &read), SLEW_OK);
        same_values(&b.scenario, &read);
        free(text);
        written++;
    }
    random_end();
}

/* ---- all ---- */

static void random_scenarios_run(void **state)
{
    const long wanted = random_asked("SLEW_RANDOM_N", QUICK);
    static tally t;
    (void)state;
    random_number = (uint64_t)random_asked("SLEW_RANDOM_FIRST", 0);
    for (; t.run < wanted; random_number++)
        check_scenario(&t);
    print_message("%d run of %d drawn: %d unsound, %d refused, %d given up; at most %d events, "
                  "%d pieces in a second\n",
                  t.run, t.drawn, t.unsound, t.refused, t.gave_up, t.most_events, t.most_pieces);
    assert_in_range(t.gave_up, 0, t.run / 1000);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_teardown(scenario_is_written_as_it_is, random_tell_failed),
        cmocka_unit_test_teardown(random_scenarios_run, random_tell_failed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
