/* host_question.h - what the tests of refused arguments hand over where something has to be right.
 */
#ifndef TESTS_HOST_QUESTION_H
#define TESTS_HOST_QUESTION_H

#include "../support.h"

#include "slewtime/slewtime.h"

static slew_scenario s;
static slew_prepared p;
static slew_result r;
static slew_sampling how;

static inline int prepare_question(void **state)
{
    (void)state;
    s = daily_scenario();
    how = slew_sampling_default();
    how.samples = 8;
    how.threads = 1;
    return slew_prepare(&s, SLEW_STOW_AND_DEPLOY, &p, NULL) == SLEW_OK &&
                   slew_run(&s, SLEW_STOW_AND_DEPLOY, NULL, &r, NULL) == SLEW_OK
               ? 0
               : -1;
}

#define INPUT(call)  assert_int_equal(call, SLEW_ERROR_INPUT)
#define IS_NAN(call) assert_true(isnan(call))

#endif
