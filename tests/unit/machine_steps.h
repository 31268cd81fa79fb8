/* machine_steps.h - a machine that is stepped, its events kept as a story. */
#ifndef TESTS_UNIT_MACHINE_STEPS_H
#define TESTS_UNIT_MACHINE_STEPS_H

#include "../same_result.h"
#include "../support.h"

#include <glob.h>
#include <stdlib.h>

enum { R = SLEW_ROTATION, E = SLEW_ELEVATION };

/* ---- Machines ---- */

typedef struct bench {
    slew_scenario scenario;
    slew_prepared prepared;
} bench;

/* false: it can't be taught */
static inline bool prepare_bench(const slew_scenario *s, bench *b)
{
    b->scenario = *s;
    return slew_prepare(s, SLEW_STOW_AND_DEPLOY, &b->prepared, NULL) == SLEW_OK;
}

static inline slew_machine machine_of(const bench *b)
{
    slew_machine m;
    slew_machine_start(&b->scenario, &b->prepared, SLEW_OCCASION_STOW, &m);
    return m;
}

static inline bench daily_bench(void)
{
    bench b;
    const slew_scenario s = daily_scenario();
    assert_true(prepare_bench(&s, &b));
    return b;
}

static inline slew_machine daily_machine(void)
{
    const bench b = daily_bench();
    return machine_of(&b);
}

/* ---- Steps ---- */

/* no further at once than `step` [s] */
static inline bool advance_by(slew_machine *m, double until, double step, slew_event *event)
{
    while (m->time < until) {
        const double before = m->time;
        if (slew_machine_advance(m, fmin(until, m->time + step), event))
            return true;
        if (m->time == before)
            break;
    }
    return slew_machine_advance(m, until, event);
}

/* true: one more event is kept */
static inline bool keep_next(slew_machine *m, double until, double step, story *out)
{
    slew_event event;
    if (!advance_by(m, until, step, &event))
        return false;
    keep_event(out, &event);
    return true;
}

static inline void keep_until(slew_machine *m, double until, double step, story *out)
{
    while (keep_next(m, until, step, out))
        continue;
}

/* to the first event of its kind, the last of the story; there must be one */
static inline const slew_event *keep_to(slew_machine *m, slew_event_kind kind, story *out)
{
    do
        if (!keep_next(m, INFINITY, INFINITY, out))
            fail_msg("no event %s", slew_event_word(kind));
    while (out->event[out->count - 1].kind != kind);
    return &out->event[out->count - 1];
}

/* ---- Comparing, to the bit ---- */

static inline void same_events(const story *a, const story *b)
{
    if (a->count != b->count && getenv("SLEWTIME_TEST_VERBOSE"))
        print_story("one", a), print_story("other", b);
    assert_int_equal(a->count, b->count);
    for (int i = 0; i < a->count; i++) {
        const slew_event *x = &a->event[i], *y = &b->event[i];
        if (!same_sort(x, y) || x->time != y->time)
            fail_msg("event %d: %s at %.17g, %s at %.17g", i, slew_event_word(x->kind), x->time,
                     slew_event_word(y->kind), y->time);
        assert_true(x->voltage == y->voltage && x->current == y->current);
        assert_true(x->energy == y->energy);
        assert_memory_equal(x->angle, y->angle, sizeof x->angle);
    }
}

static inline void same_meters(const slew_meters *a, const slew_meters *b)
{
    assert_true(a->lowest_voltage == b->lowest_voltage && a->below_floor == b->below_floor);
    assert_true(a->lowest_loaded_voltage == b->lowest_loaded_voltage);
    assert_true(a->peak_current == b->peak_current && a->charge == b->charge);
}

/* ---- The run's own way, by commands ---- */

/* the instant from which a deploy may begin: pause over, all at rest */
static inline double ready_at(const slew_machine *m, const story *s)
{
    double at = 0.0;
    for (int i = 0; i < s->count; i++) {
        const slew_event *e = &s->event[i];
        if (e->kind == SLEW_EVENT_DRIVE_OFF)
            at = fmax(at, e->time + m->setup.controller.pause);
        if (e->kind == SLEW_EVENT_AT_REST || e->kind == SLEW_EVENT_STOP_CONTACT)
            at = fmax(at, e->time);
    }
    return fmax(at, m->time);
}

/* to the end of a part and until all rests */
static inline void finish(slew_machine *m, double step, story *out)
{
    while (m->task != SLEW_TASK_NONE && keep_next(m, INFINITY, step, out))
        continue;
}

/* false: an axis does not hold. Events of the last instant may still wait to be told. */
static inline bool get_ready(slew_machine *m, double step, story *out)
{
    for (double at = -INFINITY; at < ready_at(m, out);) {
        at = ready_at(m, out);
        keep_until(m, at, step, out);
    }
    while (slew_plant_is_moving(&m->plant) && keep_next(m, INFINITY, step, out))
        keep_until(m, ready_at(m, out), step, out);
    return slew_machine_is_ready(m) && m->holds;
}

static inline void stow_and_deploy(const bench *b, double step, slew_machine *m, story *out)
{
    *m = machine_of(b);
    out->count = 0;
    assert_true(slew_machine_stow(m));
    finish(m, step, out);
    if (m->says == SLEW_STOWED && b->scenario.deploy.given && get_ready(m, step, out)) {
        assert_int_equal(slew_machine_change(m, &b->prepared.deploy_setup, NULL), SLEW_OK);
        assert_true(slew_machine_deploy(m));
        finish(m, step, out);
    }
    keep_until(m, INFINITY, INFINITY, out);
}

static inline void same_end(const slew_machine *m, const slew_result *r)
{
    const bool deploys = r->deploy.says != SLEW_NOT_RUN || !r->deploy.holds;
    const slew_part *last = deploys ? &r->deploy : &r->stow;
    const slew_meters meters = slew_machine_meters(m);
    const slew_meters theirs = {r->lowest_voltage, r->lowest_loaded_voltage, r->below_floor,
                                r->peak_current, r->charge};
    assert_true(m->says == last->says && m->fault == last->fault && m->fault_axis == last->axis);
    assert_true(m->holds == last->holds);
    assert_true(m->duration == last->duration || (isnan(m->duration) && isnan(last->duration)));
    assert_memory_equal(slew_machine_look(m).angle, last->angle, sizeof last->angle);
    same_meters(&meters, &theirs);
}

/* ---- Examples ---- */

/* calls `check` for every example that can be taught and has a deploy */
static inline void for_every_example(void (*check)(const char *name, const bench *b))
{
    glob_t found;
    int count = 0;
    assert_int_equal(glob("examples/*.yaml", 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        static slew_scenario s;
        static bench b;
        if (strstr(found.gl_pathv[i], "/seen-") != NULL ||
            strstr(found.gl_pathv[i], "-on-paper") != NULL)
            continue; /* what was seen at a truck: no scenario; a file without a stow */
        assert_int_equal(slew_scenario_read_file(found.gl_pathv[i], NULL, &s), SLEW_OK);
        if (!prepare_bench(&s, &b))
            continue;
        check(found.gl_pathv[i], &b);
        count++;
    }
    globfree(&found);
    assert_true(count > 10);
}

#endif
