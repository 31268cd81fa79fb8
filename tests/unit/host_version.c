/*
 * host_version.c - a program and a library that do not go together say so; a value that is none of
 * its enum has "?" for a word, below the first as beyond the last.
 */
#include "../support.h"

#include "slewtime/slewtime.h"

static void only_the_same_layout_fits(void **state)
{
    (void)state;
    assert_int_equal(slew_version_number(), SLEW_VERSION_NUMBER);
    assert_string_equal(slew_version(), SLEW_VERSION);
    const slew_layout own = SLEW_LAYOUT;
    slew_layout other = own;
    assert_int_equal(slew_check_layout(&own), SLEW_OK);
    assert_int_equal(slew_check_layout(NULL), SLEW_ERROR_INPUT);
    other.version++; /* a patch changes nothing that is seen */
    assert_int_equal(slew_check_layout(&other), SLEW_OK);
    other.version = own.version + 1000;
    assert_int_equal(slew_check_layout(&other), SLEW_ERROR_BUILD);
    for (int i = 0; i < 6; i++) {
        other = own;
        size_t *size[] = {&other.scenario, &other.setup,   &other.prepared,
                          &other.result,   &other.machine, &other.error};
        *size[i] += 8;
        assert_int_equal(slew_check_layout(&other), SLEW_ERROR_BUILD);
    }
}

#define HAS_NONE(word, type)                                                                       \
    do {                                                                                           \
        assert_string_equal(word((type)-1), "?");                                                  \
        assert_string_equal(word((type)99), "?");                                                  \
        assert_string_not_equal(word((type)0), "?");                                               \
    } while (0)

static void what_is_none_of_an_enum_has_no_word(void **state)
{
    (void)state;
    HAS_NONE(slew_event_word, slew_event_kind);
    HAS_NONE(slew_fault_word, slew_fault);
    HAS_NONE(slew_fault_in_words, slew_fault);
    HAS_NONE(slew_verdict_word, slew_verdict);
    HAS_NONE(slew_approach_word, slew_approach);
    HAS_NONE(slew_axis_word, int);
    HAS_NONE(slew_layer_word, slew_layer_id);
    HAS_NONE(slew_card_read_word, slew_card_read);
    HAS_NONE(slew_demand_word, slew_demand);
    HAS_NONE(slew_meets_word, slew_meets);
    HAS_NONE(slew_speed_word, slew_speed_state);
    HAS_NONE(slew_feed_limit_word, slew_feed_limit);
    HAS_NONE(slew_outcome_word, slew_outcome);
    HAS_NONE(slew_outcome_words, slew_outcome);
    HAS_NONE(slew_margin_change_words, slew_margin_change);
    HAS_NONE(slew_advice_word, slew_advice_kind);
    HAS_NONE(slew_plan_cost_word, slew_plan_cost);
    assert_true(slew_window_figure_word(-1) == NULL && slew_window_figure_word(99) == NULL);
    HAS_NONE(slew_window_remark_word, slew_window_remark);
    HAS_NONE(slew_measure_word, slew_measure);
    HAS_NONE(slew_measure_unit, slew_measure);
    assert_true(isnan(slew_measure_sd((slew_measure)99)) && isnan(slew_input_sd((slew_input)99)));
    assert_string_equal(slew_direction_word(SLEW_ROTATION, 0), "");
    assert_string_equal(slew_direction_word(-1, 1), "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(only_the_same_layout_fits),
        cmocka_unit_test(what_is_none_of_an_enum_has_no_word),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
