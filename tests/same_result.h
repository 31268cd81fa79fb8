/* same_result.h - two results of a run are the same to the bit. */
#ifndef TESTS_SAME_RESULT_H
#define TESTS_SAME_RESULT_H

#include "support.h"

static inline void same_part(const slew_part *a, const slew_part *b)
{
    assert_true(a->says == b->says && a->fault == b->fault && a->axis == b->axis);
    assert_true(a->holds == b->holds && a->on_target == b->on_target);
    assert_memory_equal(a->angle, b->angle, sizeof a->angle);
    assert_true(a->duration == b->duration || (isnan(a->duration) && isnan(b->duration)));
}

static inline void same_result(const slew_result *a, const slew_result *b)
{
    same_part(&a->stow, &b->stow);
    same_part(&a->deploy, &b->deploy);
    assert_memory_equal(a->stored, b->stored, sizeof a->stored);
    assert_true(a->end == b->end && a->charge == b->charge && a->below_floor == b->below_floor);
    assert_true(a->lowest_voltage == b->lowest_voltage && a->peak_current == b->peak_current);
    assert_true(a->lowest_loaded_voltage == b->lowest_loaded_voltage);
    assert_int_equal(a->visit_count, b->visit_count);
    for (int i = 0; i < a->visit_count && i < SLEW_KEEPOUT_VISITS_MAX; i++)
        assert_true(a->visit[i].box == b->visit[i].box && a->visit[i].left == b->visit[i].left &&
                    a->visit[i].entered == b->visit[i].entered);
}

#endif
