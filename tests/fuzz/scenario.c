/*
 * scenario.c - fuzzing the reader of scenario files.
 *
 * Whatever the text: the reader returns, each error is whole and has its place, and what is
 * accepted is usable, is taken by the check that programs ask, and reads the same again.
 */
#include "target.h"
#include "usable.h"

static bool takes(const char *bytes, size_t length)
{
    static outcome first, again;
    read_with(&first, bytes, length, NULL, 0);
    errors_are_whole(&first.errors);
    assert_true(first.status == SLEW_OK || first.status == SLEW_ERROR_INPUT);
    assert_int_equal(first.status == SLEW_OK, first.errors.count == 0);
    for (int i = 0; i < first.warnings.count && i < CAUGHT_MAX; i++)
        error_is_whole(&first.warnings.error[i]);
    if (first.status != SLEW_OK)
        return false;
    is_usable(&first.scenario);
    assert_int_equal(
        slew_scenario_check(&first.scenario, (slew_error_sink){0}, (slew_error_sink){0}), SLEW_OK);
    read_with(&again, bytes, length, NULL, 0);
    assert_true(slew_scenario_hash(&first.scenario) == slew_scenario_hash(&again.scenario));
    same_scenario(&first.scenario, &again.scenario);
    return true;
}

const fuzz_target fuzzed = {.name = "scenario", .rounds = 2500, .takes = takes};
