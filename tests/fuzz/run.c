/*
 * run.c - fuzzing reader and run together: every scenario that is accepted is run.
 *
 * It ends with a status that has a name, a bounded number of events in the order of time, figures
 * that are numbers, and verdicts that agree with each other; and the same to the bit with nobody
 * looking on.
 */
#include "../same_result.h"
#include "target.h"
#include "whole.h"

static void part_is_sound(const slew_part *part)
{
    assert_in_range(part->says, SLEW_NOT_RUN, SLEW_FAULTED);
    assert_true((part->says == SLEW_FAULTED) == (part->fault != SLEW_FAULT_NONE));
    assert_in_range(part->fault, SLEW_FAULT_NONE, SLEW_FAULT_COUNT - 1);
    assert_true(part->axis >= SLEW_NO_AXIS && part->axis < SLEW_AXES);
    assert_true(part->has_target || !part->on_target);
    assert_true(isnan(part->duration) || (isfinite(part->duration) && part->duration >= 0));
    for (int axis = 0; axis < SLEW_AXES; axis++)
        assert_true(isfinite(part->angle[axis]));
}

static void result_is_sound(const slew_scenario *s, const slew_result *r)
{
    part_is_sound(&r->stow);
    part_is_sound(&r->deploy);
    assert_true(isfinite(r->end) && r->end >= 0);
    assert_true(isfinite(r->lowest_voltage) && r->lowest_voltage <= r->lowest_loaded_voltage);
    assert_true(isfinite(r->peak_current) && isfinite(r->charge));
    for (int axis = 0; axis < SLEW_AXES; axis++)
        assert_true(isfinite(r->stored[axis]));
    for (int i = 0; i < r->visit_count && i < SLEW_KEEPOUT_VISITS_MAX; i++) {
        assert_in_range(r->visit[i].box, 0, s->keepout.count - 1);
        assert_true(r->visit[i].entered >= 0 && r->visit[i].entered <= r->visit[i].left);
    }
}

static void event_is_sound(const slew_scenario *s, const slew_event *e, double before)
{
    assert_true(e->time >= before && isfinite(e->time));
    assert_string_not_equal(slew_event_word(e->kind), "?");
    assert_true(e->axis >= SLEW_NO_AXIS && e->axis < SLEW_AXES);
    assert_true(e->direction >= -1 && e->direction <= 1);
    assert_true(isfinite(e->voltage) && isfinite(e->current) && e->energy >= 0);
    assert_true(e->box >= -1 && e->box < s->keepout.count);
    for (int axis = 0; axis < SLEW_AXES; axis++)
        assert_true(isfinite(e->angle[axis]));
}

static void refusal_is_whole(const story *ran)
{
    assert_true(ran->status == SLEW_ERROR_TEACH || ran->status == SLEW_ERROR_INPUT ||
                ran->status == SLEW_ERROR_PIECES);
    error_is_whole(&ran->error);
    assert_int_equal(ran->error.status, ran->status);
}

/* true: it got to an end */
static bool run_one(const slew_scenario *s)
{
    static story seen;
    slew_result alone;
    slew_error error;
    const slew_observer observer = {.event = keep_event, .context = &seen};
    seen.count = 0;
    seen.status = slew_run(s, SLEW_STOW_AND_DEPLOY, &observer, &seen.result, &seen.error);
    assert_in_range(seen.count, 0, STORY_MAX);
    for (int i = 0; i < seen.count; i++)
        event_is_sound(s, &seen.event[i], i > 0 ? seen.event[i - 1].time : 0);
    assert_int_equal(slew_run(s, SLEW_STOW_AND_DEPLOY, NULL, &alone, &error), seen.status);
    if (seen.status != SLEW_OK) {
        refusal_is_whole(&seen);
        return false;
    }
    result_is_sound(s, &seen.result);
    same_result(&seen.result, &alone);
    return true;
}

static bool takes(const char *bytes, size_t length)
{
    static outcome o;
    read_with(&o, bytes, length, NULL, 0);
    return o.status == SLEW_OK && run_one(&o.scenario);
}

const fuzz_target fuzzed = {.name = "run", .rounds = 1000, .takes = takes};
